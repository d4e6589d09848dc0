import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";

/** At least one of `min` and `max`, in the table's unit. */
export interface LimitCells {
  /** Left out: the whole table. */
  readonly region?: Region;
  /** Cells below it come to it; in the table's unit. */
  readonly min?: number;
  /** Cells above it come to it; in the table's unit. */
  readonly max?: number;
}

/**
 * The table with every cell of the region brought between `min` and `max`; feathered cells move by their weight.
 *
 * Cells that already lie between the two, locked cells and cells outside come out bit for bit. O(cells).
 *
 * @example limitCells(trims, { min: -12, max: 12 })
 * @throws FuelwrightError `limit-missing` if neither is given, `limits-crossed` if min is above max, `not-finite`,
 *   `bad-region`
 */
export function limitCells(table: FuelTable, { region, min, max }: LimitCells): FuelTable {
  if (min === undefined && max === undefined)
    throw new FuelwrightError("limit-missing", "limitCells: min or max must be given, got neither; give at least one");
  const low = min === undefined ? Number.NEGATIVE_INFINITY : requireFinite("limitCells: min", min);
  const high = max === undefined ? Number.POSITIVE_INFINITY : requireFinite("limitCells: max", max);
  if (low > high)
    throw new FuelwrightError(
      "limits-crossed",
      `limitCells: min must not be above max, got ${low} and ${high}; swap the two`,
      { min: low, max: high },
    );
  return editCells(table, region, "limitCells", (old) => Math.min(Math.max(old, low), high));
}
