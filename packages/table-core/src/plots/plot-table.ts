import type { FuelTable } from "../values/fuel-table.ts";
import { layTable } from "./lay-table.ts";
import type { Picture } from "./picture.ts";
import type { PlotOptions } from "./plot-options.ts";
import { sayTable } from "./say-table.ts";
import { readyTable, type TableFigures } from "./table-figures.ts";
import { requirePart, type TablePart } from "./table-part.ts";

export interface PlotTable extends Omit<PlotOptions, "width">, TableFigures {
  /** Left out: all of it. */
  readonly part?: TablePart;
}

/**
 * A table as a grid of figures, rpm to the right and load upward, as wide and high as its figures need.
 *
 * @example writeSvg(plotTable(table, { before, ceilings: checkCeilings({ build, table }).ceilings }))
 * @throws FuelwrightError `quantities-differ`, `axes-do-not-match`, `out-of-range` (part)
 */
export function plotTable(table: FuelTable, options: PlotTable = {}): Picture {
  const part = requirePart("plotTable", table, options.part);
  const ready = readyTable("plotTable", table, options);
  return layTable(ready, part, sayTable(ready), options);
}
