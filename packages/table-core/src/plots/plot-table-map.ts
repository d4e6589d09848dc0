import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { ceilingNote, type DrawnCeiling, hatchOf, sayCeiling } from "./ceiling-hatches.ts";
import { type Changes, changesOf, sayChanges } from "./changes.ts";
import { breakpointTexts, countOf, ownUnit } from "./figures.ts";
import { hatchPath } from "./hatch.ts";
import { type Inks, lightInks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type Picture, type PictureNode, round } from "./picture.ts";
import { type PlotOptions, requireWidth, type ShownOptions } from "./plot-options.ts";
import { laySheet, MARGIN, type Note } from "./sheet.ts";
import { noTint, type Tint } from "./tints.ts";

export interface PlotTableMap extends PlotOptions, ShownOptions {
  /** What it was: the map then shows change. Left out: it shows values. */
  readonly before?: FuelTable;
  readonly ceilings?: readonly DrawnCeiling[];
  /** Colours of change beside the marks; left out: none. */
  readonly tint?: Tint;
  /** Height of the map's field in px, 40..2000; left out: two thirds of its width. */
  readonly height?: number;
}

/** Blocks smaller than this can't be told filled from open, in px. */
const LEAST_BLOCK = 6;

/**
 * A small map of a whole table: a square a cell, the larger the more it changed, filled for a rise and open for a fall.
 *
 * Without `before` the squares go with the values. Where cells would be too small to be seen, one square stands for a block
 * of neighbours, and shows the greatest among them.
 *
 * @throws FuelwrightError `quantities-differ`, `axes-do-not-match`, `not-finite`, `out-of-range`
 */
export function plotTableMap(table: FuelTable, options: PlotTableMap = {}): Picture {
  const { inks = lightInks, tint = noTint, axes = {}, shown = ownUnit(table.quantity) } = options;
  const width = requireWidth("plotTableMap", options.width, 240);
  const changes = options.before ? changesOf(table, options.before, "plotTableMap") : null;
  const ceilings = (options.ceilings ?? []).filter(({ cells }) => cells.length > 0);
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const oneRow = table.load.quantity === "single-row";
  const rpm = breakpointTexts(table.rpm, axes.rpm);
  const load = oneRow ? [""] : breakpointTexts(table.load, axes.load);
  const head = Math.max(textWidth(load[0]!), textWidth(load.at(-1)!), textWidth(axes.load?.unit ?? table.load.unit));
  const left = MARGIN + Math.ceil(head) + (oneRow ? 0 : 6);
  const right = width - MARGIN;
  const height = requireWithin(
    "plotTableMap: height",
    options.height ?? Math.max(40, Math.min(((right - left) * 2) / 3, oneRow ? 40 : Number.POSITIVE_INFINITY)),
    40,
    2000,
  );
  const blocks = blocksOf(table, changes, { width: right - left, height });
  const label = changes ? "change" : "values";
  const joined =
    blocks.across > 1 || blocks.up > 1
      ? ` A square stands for ${blocks.across} by ${blocks.up} cells, and shows the greatest among them.`
      : "";
  const text = (x: number, y: number, words: string, anchor: "start" | "end") =>
    node("text", { class: "head", x, y, "text-anchor": anchor === "end" ? "end" : undefined, fill: inks.quiet }, words);
  return laySheet(
    {
      title: options.title ?? `${table.name}, map of ${label}`,
      description: describe(table, changes, ceilings, { shown, axes }) + joined,
      width,
      body: (top) => {
        const field = { left, right, top: top + (oneRow ? 0 : 4), bottom: top + (oneRow ? 0 : 4) + height };
        const cell = { width: (right - left) / columns, height: height / rows };
        const boxOf = (at: number) => ({
          x: left + (at % columns) * cell.width,
          y: field.bottom - (Math.floor(at / columns) + 1) * cell.height,
          ...cell,
        });
        const hatched = ceilings.map(({ cells }, kind) =>
          node("path", {
            class: "hatch",
            d: cells.map(({ at }) => hatchPath(boxOf(at), hatchOf(kind))).join(""),
            stroke: inks.hatch,
            fill: "none",
          }),
        );
        const frame = { x: left, y: field.top, width: right - left, height };
        const below = field.bottom + lettering.lead;
        return {
          nodes: [
            ...hatched,
            ...drawBlocks(blocks, cell, { left, bottom: field.bottom }, inks, tint, changes !== null),
            node("rect", { class: "axis", ...frame, fill: "none", stroke: inks.axis }),
            ...(oneRow
              ? []
              : [
                  text(left - 6, field.bottom, load[0]!, "end"),
                  text(left - 6, field.top + 9, load.at(-1)!, "end"),
                  text(left - 6, (field.top + field.bottom) / 2 + 4, axes.load?.unit ?? table.load.unit, "end"),
                ]),
            text(left, below, rpm[0]!, "start"),
            text(right, below, `${rpm.at(-1)} ${axes.rpm?.unit ?? table.rpm.unit}`, "end"),
          ],
          bottom: below + 4,
        };
      },
      notes: [
        ...(changes && changes.largest >= 0 ? changeNotes(inks) : []),
        ...ceilings.map((ceiling, at) => ceilingNote(table, ceiling, at, inks, axes)),
      ],
    },
    options,
  );
}

/** Squares over a grid of blocks; `share` of the greatest is signed, 0 where nothing changed. */
interface Blocks {
  /** Cells that a block joins. */
  readonly across: number;
  readonly up: number;
  readonly squares: readonly Square[];
}

/** A block's middle and size in cells from the lower left. */
interface Square {
  readonly x: number;
  readonly y: number;
  readonly columns: number;
  readonly rows: number;
  readonly share: number;
  readonly percent: number;
}

function blocksOf(
  table: FuelTable,
  changes: Changes | null,
  room: { readonly width: number; readonly height: number },
): Blocks {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const across = Math.max(1, Math.ceil((columns * LEAST_BLOCK) / room.width));
  const up = Math.max(1, Math.ceil((rows * LEAST_BLOCK) / room.height));
  const { cells } = table;
  const finite = changes?.percent.filter(Number.isFinite).map(Math.abs);
  const most = finite?.reduce((a, b) => Math.max(a, b), 0) || 1;
  const low = cells.reduce((a, b) => Math.min(a, b));
  const span = cells.reduce((a, b) => Math.max(a, b)) - low || 1;
  const shareOf = (at: number) =>
    changes ? Math.max(-1, Math.min(1, changes.percent[at]! / most)) : (cells[at]! - low) / span;
  const squares: Square[] = [];
  for (let row = 0; row < rows; row += up)
    for (let column = 0; column < columns; column += across) {
      let best = row * columns + column;
      for (let r = row; r < Math.min(rows, row + up); r++)
        for (let c = column; c < Math.min(columns, column + across); c++)
          if (Math.abs(shareOf(r * columns + c)) > Math.abs(shareOf(best))) best = r * columns + c;
      // The last block of a row or column may be cut off by the table's end.
      const size = { columns: Math.min(across, columns - column), rows: Math.min(up, rows - row) };
      const middle = { x: column + size.columns / 2, y: row + size.rows / 2 };
      squares.push({ ...middle, ...size, share: shareOf(best), percent: changes?.percent[best] ?? 0 });
    }
  return { across, up, squares };
}

function drawBlocks(
  { across, up, squares }: Blocks,
  cell: { readonly width: number; readonly height: number },
  { left, bottom }: { readonly left: number; readonly bottom: number },
  inks: Inks,
  tint: Tint,
  changed: boolean,
): PictureNode[] {
  const whole = Math.min(cell.width * across, cell.height * up) * 0.86;
  const tints = new Map<string, string>();
  let [filled, open, still] = ["", "", ""];
  for (const { columns, rows, share, percent, ...middle } of squares) {
    const x = left + middle.x * cell.width;
    const y = bottom - middle.y * cell.height;
    const colours = percent === 0 ? null : tint(percent);
    if (colours) {
      const box = boxPath(x, y, columns * cell.width, rows * cell.height);
      tints.set(colours.fill, (tints.get(colours.fill) ?? "") + box);
    }
    // The area goes with the change; a change however small can be seen.
    const side = Math.max(2.5, Math.min(whole, columns * cell.width, rows * cell.height) * Math.sqrt(Math.abs(share)));
    if (share === 0) still += boxPath(x, y, 1, 1);
    else if (share > 0) filled += boxPath(x, y, side, side);
    else open += boxPath(x, y, side - 1, side - 1);
  }
  return [
    ...[...tints].map(([fill, d]) => node("path", { class: "tint", d, fill })),
    ...(still ? [node("path", { class: "still", d: still, fill: inks.axis })] : []),
    ...(filled ? [node("path", { class: "more", d: filled, fill: changed ? inks.more : inks.ink })] : []),
    ...(open ? [node("path", { class: "less", d: open, fill: inks.paper, stroke: inks.less })] : []),
  ];
}

const boxPath = (x: number, y: number, width: number, height: number): string =>
  `M${round(x - width / 2)},${round(y - height / 2)}H${round(x + width / 2)}V${round(y + height / 2)}H${round(x - width / 2)}Z`;

const changeNotes = (inks: Inks): Note[] => [
  {
    text: "raised",
    sample: (x, y) => [node("path", { class: "more", d: boxPath(x + 11, y, 9, 9), fill: inks.more })],
  },
  {
    text: "lowered",
    sample: (x, y) => [
      node("path", {
        class: "less",
        d: boxPath(x + 11, y, 8, 8),
        fill: inks.paper,
        stroke: inks.less,
        "stroke-width": 1,
      }),
    ],
  },
];

function describe(
  table: FuelTable,
  changes: Changes | null,
  ceilings: readonly DrawnCeiling[],
  { shown, axes }: Required<ShownOptions>,
): string {
  return [
    `Map of ${table.name}: ${countOf(table.cells.length, "cell")}.`,
    ...(changes ? [sayChanges(table, changes, shown, axes)] : []),
    ...ceilings.map((ceiling) => sayCeiling(table, ceiling, axes)),
  ].join(" ");
}
