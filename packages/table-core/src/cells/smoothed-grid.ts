import { gridSide } from "../numeric/grid-penalty.ts";
import type { PenalisedGrid } from "../numeric/penalised-grid.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireOneOf } from "../values/require.ts";
import { type CellWeight, cellWeights } from "./cell-weights.ts";

/** Which cells are smoothed and what stands fast. */
export interface SmoothPart {
  /** Left out: the whole table. A feathered edge takes only its share of the smoothing. */
  readonly region?: Region;
  /**
   * How much each cell counts: regions with their weights (elsewhere 1, the last that covers a cell counts), or numbers,
   * row-major. A cell of weight 0 is filled in from the others, whatever it holds. Default: all alike.
   */
  readonly weights?: readonly CellWeight[] | ArrayLike<number>;
  /**
   * `rim` (default): cells outside the region stand fast, and the region is bent to meet them in height and slope.
   * `locked`: only locked cells do; the whole table is smoothed, and the region says where the result is taken.
   */
  readonly hold?: "rim" | "locked";
}

/** The problem that smoothing a table poses. */
export function smoothedGrid(
  operation: string,
  table: FuelTable,
  part: SmoothPart,
  strengths: { readonly rpmStrength: number; readonly loadStrength: number },
): PenalisedGrid {
  const hold = requireOneOf(`${operation}: hold`, part.hold ?? "rim", ["rim", "locked"]);
  const taken = editWeights(table, hold === "rim" ? part.region : undefined);
  const free = new Uint8Array(taken.length);
  for (let at = 0; at < free.length; at++) free[at] = taken[at]! > 0 ? 1 : 0;
  return {
    x: gridSide(table.rpm.breakpoints, strengths.rpmStrength),
    y: gridSide(table.load.breakpoints, strengths.loadStrength),
    values: table.cells,
    weights: cellWeights(`${operation}: weights`, table, part.weights),
    free,
  };
}
