import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { ceilingNote, type DrawnCeiling, sayCeiling } from "./ceiling-hatches.ts";
import { type Changes, changesOf, sayLargest } from "./changes.ts";
import { capital, countOf, ownUnit } from "./figures.ts";
import { type Inks, lightInks } from "./inks.ts";
import { drawMapFrame, hatchMap, type MapField, mapBottom, mapField } from "./map-field.ts";
import { node, type Picture, type PictureNode, round } from "./picture.ts";
import { type PlotOptions, requireWidth, type ShownOptions } from "./plot-options.ts";
import { sayTableMap } from "./say-table-map.ts";
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
  const usual = table.load.quantity === "single-row" ? 40 : ((width - 2 * MARGIN) * 2) / 3;
  const height = requireWithin("plotTableMap: height", options.height ?? Math.min(usual, 2000), 40, 2000);
  const fieldAt = (top: number) => mapField(table, axes, { width, height, top });
  const blocks = blocksOf(table, changes, fieldAt(0));
  const { across, up } = blocks;
  const joined =
    across > 1 || up > 1
      ? ` A square stands for up to ${across} by ${up} cells, and shows the greatest among them.`
      : "";
  return laySheet(
    {
      title: options.title ?? `${table.name}, map of ${changes ? "change" : "values"}`,
      description: describe(table, changes, ceilings, { shown, axes }) + joined,
      width,
      body: (top) => {
        const field = fieldAt(top + 4);
        const nodes = [
          ...hatchMap(ceilings, field, inks),
          ...drawBlocks(blocks, field, inks, tint, changes !== null),
          ...drawMapFrame(table, axes, field, inks),
        ];
        return { nodes, bottom: mapBottom(field) };
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

function blocksOf(table: FuelTable, changes: Changes | null, field: MapField): Blocks {
  const { columns, rows } = field;
  const across = Math.max(1, Math.ceil((columns * LEAST_BLOCK) / field.width));
  const up = Math.max(1, Math.ceil((rows * LEAST_BLOCK) / field.height));
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
  field: MapField,
  inks: Inks,
  tint: Tint,
  changed: boolean,
): PictureNode[] {
  const { x: left, y: top, height, cellWidth, cellHeight } = field;
  const whole = Math.min(cellWidth * across, cellHeight * up) * 0.86;
  const tints = new Map<string, string>();
  let [filled, open, still] = ["", "", ""];
  for (const { columns, rows, share, percent, ...middle } of squares) {
    const x = left + middle.x * cellWidth;
    const y = top + height - middle.y * cellHeight;
    const colours = percent === 0 ? null : tint(percent);
    if (colours) {
      const box = boxPath(x, y, columns * cellWidth, rows * cellHeight);
      tints.set(colours.fill, (tints.get(colours.fill) ?? "") + box);
    }
    // The area goes with the change; a change however small can be seen.
    const side = Math.max(2.5, Math.min(whole, columns * cellWidth, rows * cellHeight) * Math.sqrt(Math.abs(share)));
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
    changes
      ? `${sayTableMap(table, changes.percent)}.`
      : `Map of ${table.name}: ${countOf(table.cells.length, "cell")}.`,
    ...(changes && changes.largest >= 0 ? [`${capital(sayLargest(table, changes, shown, axes))}.`] : []),
    ...(changes?.interpolated ? ["The breakpoints differ: what it was is read between its own."] : []),
    ...ceilings.map((ceiling) => sayCeiling(table, ceiling, axes)),
  ].join(" ");
}
