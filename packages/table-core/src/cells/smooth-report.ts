import type { FuelTable } from "../values/fuel-table.ts";
import { type CellChange, compareTables } from "./compare-tables.ts";

/** What smoothing took away. */
export interface SmoothReport {
  /** The cell that moved most, either way; null if none did. */
  readonly largest: CellChange | null;
  /** Mean of |after − before| over all cells, in the table's unit. */
  readonly meanSize: number;
  /** Mean of after − before: 0 to rounding where the mean was kept. */
  readonly meanChange: number;
  /** Cells that moved at all. */
  readonly changed: number;
  /** Root mean square of the second differences, see `roughness`. */
  readonly roughness: { readonly before: number; readonly after: number };
}

/**
 * What a smoothing took away, from the tables before and after: largest and mean change, and how rough both are.
 *
 * @example smoothReport(table, smoothCells(table, { strength: 2 })).largest // { rpm: 3500, load: 70, absolute: -0.21, … }
 * @throws FuelwrightError `axes-differ`, `quantities-differ`
 */
export function smoothReport(before: FuelTable, after: FuelTable): SmoothReport {
  const { absolute, changed, meanChange, largestRise, largestFall, roughness } = compareTables(before, after);
  const fallsFurther = -(largestFall?.absolute ?? 0) > (largestRise?.absolute ?? 0);
  return {
    largest: fallsFurther ? largestFall : largestRise,
    meanSize: absolute.reduce((sum, change) => sum + Math.abs(change), 0) / absolute.length,
    meanChange,
    changed,
    roughness,
  };
}
