import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { besideCells } from "./draw-table.ts";
import { layTable } from "./lay-table.ts";
import type { Picture } from "./picture.ts";
import type { PlotTable } from "./plot-table.ts";
import { sayTable } from "./say-table.ts";
import { ROW, readyTable } from "./table-figures.ts";
import { evenParts } from "./table-part.ts";

export interface PlotTableParts extends Omit<PlotTable, "part"> {
  /** What a page has room for, in px of 1/96 inch; left out: 680 by 960, A4 upright within margins. */
  readonly width?: number;
  /** See `width`. */
  readonly height?: number;
}

/**
 * A table as one picture, or as several where it does not fit a page: parts of nearly the same size, from low rpm to high,
 * and in each from low load to high. Each says which part it is; one column or row is always shown, however narrow the page.
 *
 * @throws FuelwrightError as `plotTable`, and `out-of-range` for pages too small for anything
 */
export function plotTableParts(table: FuelTable, options: PlotTableParts = {}): readonly Picture[] {
  const width = requireWithin("plotTableParts: width", options.width ?? 680, 300, 10_000);
  const height = requireWithin("plotTableParts: height", options.height ?? 960, 200, 10_000);
  const ready = readyTable("plotTableParts", table, options);
  const description = sayTable(ready);
  const columns = ready.columns.length;
  const rows = ready.rows.length;
  const across = evenParts(columns, Math.floor((width - besideCells(ready)) / ready.cellWidth));
  // Heading and notes take the same height whatever rows are shown.
  const lowest = layTable(ready, { columns: across[0]!, rows: [0, 1] }, description, options);
  const up = evenParts(rows, Math.floor((height - (lowest.height - ROW)) / ROW));
  const parts = across.flatMap((c) => up.map((r) => ({ columns: c, rows: r })));
  if (parts.length === 1) return [layTable(ready, parts[0]!, description, options)];
  return parts.map((part, at) =>
    layTable(ready, part, description, {
      ...options,
      title: `${options.title ?? table.name}, part ${at + 1} of ${parts.length}`,
    }),
  );
}
