import type { FuelTable } from "../values/fuel-table.ts";
import { type DrawnCeiling, hatchOf } from "./ceiling-hatches.ts";
import { type AxesShownAs, breakpointTexts } from "./figures.ts";
import { type Box, hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type PictureNode } from "./picture.ts";
import { MARGIN } from "./sheet.ts";

/** A table's cells as small boxes without figures, in px: rpm to the right, load upward. */
export interface MapField extends Box {
  readonly columns: number;
  readonly rows: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
}

/** The field of a map that is as wide as its picture allows beside the heads of its rows. */
export function mapField(
  table: Pick<FuelTable, "rpm" | "load">,
  axes: AxesShownAs,
  { width, height, top }: { readonly width: number; readonly height: number; readonly top: number },
): MapField {
  const heads = rowHeads(table, axes);
  const x = MARGIN + (heads.length > 0 ? Math.ceil(Math.max(...heads.map((text) => textWidth(text)))) + 6 : 0);
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const room = width - MARGIN - x;
  return { x, y: top, width: room, height, columns, rows, cellWidth: room / columns, cellHeight: height / rows };
}

/** Least and greatest load with the unit, from below; none beside a one-row table. */
function rowHeads({ load }: Pick<FuelTable, "load">, axes: AxesShownAs): readonly string[] {
  if (load.quantity === "single-row") return [];
  const texts = breakpointTexts(load, axes.load);
  return [texts[0]!, axes.load?.unit ?? load.unit, texts.at(-1)!];
}

/** The frame of a map with the ends of both axes. */
export function drawMapFrame(table: FuelTable, axes: AxesShownAs, field: MapField, inks: Inks): PictureNode[] {
  const { x, y, width, height } = field;
  const text = (left: number, baseline: number, words: string, anchor?: "end") =>
    node("text", { class: "head", x: left, y: baseline, "text-anchor": anchor, fill: inks.quiet }, words);
  const rpm = breakpointTexts(table.rpm, axes.rpm);
  const below = y + height + lettering.lead;
  const [low, unit, high] = rowHeads(table, axes);
  return [
    node("rect", { class: "axis", x, y, width, height, fill: "none", stroke: inks.axis }),
    ...(low === undefined
      ? []
      : [
          text(x - 6, y + height, low, "end"),
          text(x - 6, y + height / 2 + 4, unit!, "end"),
          text(x - 6, y + 9, high!, "end"),
        ]),
    text(x, below, rpm[0]!),
    text(x + width, below, `${rpm.at(-1)} ${axes.rpm?.unit ?? table.rpm.unit}`, "end"),
  ];
}

/** Where a map with its frame ends, in px. */
export const mapBottom = ({ y, height }: MapField): number => y + height + lettering.lead + 4;

/** The cells of each ceiling, each hatched in its own way. */
export function hatchMap(ceilings: readonly DrawnCeiling[], field: MapField, inks: Inks): PictureNode[] {
  const { x, y, height, columns, cellWidth, cellHeight } = field;
  return ceilings.map(({ cells }, kind) => {
    const boxes = runsOf(cells, columns).map(({ at, length }) => ({
      x: x + (at % columns) * cellWidth,
      y: y + height - (Math.floor(at / columns) + 1) * cellHeight,
      width: cellWidth * length,
      height: cellHeight,
    }));
    const d = boxes.map((box) => hatchPath(box, hatchOf(kind))).join("");
    return node("path", { class: "hatch", d, stroke: inks.hatch, fill: "none" });
  });
}

/** Cells side by side joined, so that a wide ceiling is a few hatches and not thousands. */
function runsOf(cells: readonly { readonly at: number }[], columns: number) {
  const runs: { at: number; length: number }[] = [];
  for (const { at } of [...cells].sort((a, b) => a.at - b.at)) {
    const last = runs.at(-1);
    if (last && last.at + last.length === at && at % columns !== 0) last.length++;
    else runs.push({ at, length: 1 });
  }
  return runs;
}
