import { hatchOf } from "./ceiling-hatches.ts";
import { hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type PictureNode } from "./picture.ts";
import { MARGIN } from "./sheet.ts";
import { SIGN, signPath } from "./sign.ts";
import { PADDING, type ReadyTable, ROW } from "./table-figures.ts";
import type { TablePart } from "./table-part.ts";

/** Width of what stands beside the cells, margins included, in px. */
export const besideCells = ({ headWidth, tail }: ReadyTable): number => 2 * MARGIN + headWidth + tail;

/** Width of a picture of so many columns; never too narrow for its notes. */
export const tableWidth = (ready: ReadyTable, columns: number): number =>
  Math.max(300, besideCells(ready) + columns * ready.cellWidth);

/** Where a part of a table lies in the drawing, in px. */
interface Field {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The figures of a part with their axes, from `top` on: tints, hatches, rules, heads, figures, signs. */
export function drawTable(
  ready: ReadyTable,
  part: TablePart,
  top: number,
  inks: Inks,
): { readonly nodes: readonly PictureNode[]; readonly bottom: number } {
  const [columns, rows] = [part.columns[1] - part.columns[0], part.rows[1] - part.rows[0]];
  const left = MARGIN + ready.headWidth;
  const field = {
    left,
    right: left + columns * ready.cellWidth,
    top: top + lettering.lead,
    bottom: top + lettering.lead + rows * ROW,
  };
  const nodes = [
    ...drawTints(ready, part, field),
    ...drawHatches(ready, part, field, inks),
    ...drawRules(ready, field, inks),
    ...drawHeads(ready, part, field, inks),
    ...drawFigures(ready, part, field, inks),
  ];
  return { nodes, bottom: field.bottom + lettering.lead + 4 };
}

/** The cells of a part, row-major places. */
function* cellsOf({ table }: ReadyTable, { columns, rows }: TablePart): Generator<number> {
  const count = table.rpm.breakpoints.length;
  for (let row = rows[0]; row < rows[1]; row++)
    for (let column = columns[0]; column < columns[1]; column++) yield row * count + column;
}

/** A cell's box: load runs upward. */
function boxOf({ table, cellWidth }: ReadyTable, part: TablePart, { left, bottom }: Field, at: number) {
  const count = table.rpm.breakpoints.length;
  const row = Math.floor(at / count) - part.rows[0];
  return {
    x: left + ((at % count) - part.columns[0]) * cellWidth,
    y: bottom - (row + 1) * ROW,
    width: cellWidth,
    height: ROW,
  };
}

const tintOf = ({ changes, tint }: ReadyTable, at: number) => {
  const percent = changes?.percent[at] ?? 0;
  return percent === 0 ? null : tint(percent);
};

function drawTints(ready: ReadyTable, part: TablePart, field: Field): PictureNode[] {
  const nodes: PictureNode[] = [];
  for (const at of cellsOf(ready, part)) {
    const colours = tintOf(ready, at);
    if (colours) nodes.push(node("rect", { class: "tint", ...boxOf(ready, part, field, at), fill: colours.fill }));
  }
  return nodes;
}

function drawHatches(ready: ReadyTable, part: TablePart, field: Field, inks: Inks): PictureNode[] {
  const inside = insideOf(ready, part);
  return ready.ceilings.flatMap(({ cells }, kind) => {
    const boxes = cells.filter(({ at }) => inside(at)).map(({ at }) => boxOf(ready, part, field, at));
    if (boxes.length === 0) return [];
    const d = boxes.map((box) => hatchPath(box, hatchOf(kind))).join("");
    return [node("path", { class: "hatch", d, stroke: inks.hatch, fill: "none" })];
  });
}

function insideOf({ table }: ReadyTable, { columns, rows }: TablePart): (at: number) => boolean {
  const count = table.rpm.breakpoints.length;
  return (at) => {
    const [row, column] = [Math.floor(at / count), at % count];
    return column >= columns[0] && column < columns[1] && row >= rows[0] && row < rows[1];
  };
}

function drawRules({ cellWidth }: ReadyTable, { left, right, top, bottom }: Field, inks: Inks): PictureNode[] {
  let d = "";
  for (let y = bottom - ROW; y > top + 1; y -= ROW) d += `M${left},${y}H${right}`;
  for (let x = left + cellWidth; x < right - 1; x += cellWidth) d += `M${x},${top}V${bottom}`;
  const axis = `M${left},${top}V${bottom}H${right}`;
  return [
    ...(d ? [node("path", { class: "grid", d, stroke: inks.rule, fill: "none" })] : []),
    node("path", { class: "axis", d: axis, stroke: inks.axis, fill: "none" }),
  ];
}

function drawHeads(ready: ReadyTable, part: TablePart, field: Field, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  const text = (x: number, y: number, words: string, anchor?: "end") =>
    node("text", { class: "head", x, y, "text-anchor": anchor, fill: inks.quiet }, words);
  const below = bottom + lettering.lead;
  const rows = ready.rows.slice(...part.rows).map((row, at) => text(left - 6, bottom - at * ROW - 5, row, "end"));
  const columns = ready.columns
    .slice(...part.columns)
    .map((column, at) => text(left + (at + 1) * ready.cellWidth - PADDING, below, column, "end"));
  return [
    ...(ready.rowUnit ? [...rows, text(left - 6, top - 5, ready.rowUnit, "end")] : []),
    ...columns,
    text(right + 6, below, ready.columnUnit),
  ];
}

function drawFigures(ready: ReadyTable, part: TablePart, field: Field, inks: Inks): PictureNode[] {
  const hatched = new Set(ready.ceilings.flatMap(({ cells }) => cells.map(({ at }) => at)));
  const nodes: PictureNode[] = [];
  let signs = "";
  for (const at of cellsOf(ready, part)) {
    const { x, y, width } = boxOf(ready, part, field, at);
    const colours = tintOf(ready, at);
    const percent = ready.changes?.percent[at] ?? 0;
    const changed = percent !== 0;
    const text = ready.textOf(at);
    const end = x + width - PADDING;
    const signed = changed && !ready.asChange;
    const sign = { x: x + SIGN / 2 + 3, y: y + ROW * 0.36 };
    if (hatched.has(at)) {
      // Hatch lines must cross neither figure nor sign.
      const ground = { class: "plaque", fill: colours?.fill ?? inks.paper };
      const wide = Math.min(width - 2, textWidth(text, lettering.text, changed) + PADDING);
      nodes.push(node("rect", { ...ground, x: x + width - 1 - wide, y: y + 3, width: wide, height: ROW - 6 }));
      if (signed)
        nodes.push(node("rect", { ...ground, x: x + 1, y: sign.y - SIGN / 2 - 2, width: SIGN + 4, height: SIGN + 4 }));
    }
    if (signed) signs += signPath(sign.x, sign.y, percent);
    const look = changed ? { class: "cell changed", "font-weight": "bold" } : { class: "cell" };
    const place = { x: end, y: y + ROW - 5, "text-anchor": "end" };
    nodes.push(node("text", { ...look, ...place, fill: colours?.ink ?? inks.ink }, text));
  }
  if (signs) nodes.push(node("path", { class: "sign", d: signs, stroke: inks.ink, "stroke-width": 1.2, fill: "none" }));
  return nodes;
}
