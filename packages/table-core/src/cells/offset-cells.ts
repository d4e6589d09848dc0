import type { FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";

/** What {@link offsetCells} takes. */
export interface OffsetCells {
  /** Left out: the whole table. */
  readonly region?: Region;
  /** Added to each cell, in the table's unit. */
  readonly amount: number;
}

/**
 * The table with `amount` added to every cell of the region; in feathered cells the amount fades to 0.
 *
 * Locked cells and cells outside come out bit for bit. O(cells).
 *
 * @example offsetCells(pulseTable, { amount: 0.12 })
 * @throws FuelwrightError `not-finite`, `bad-region`, `cell-not-finite` where the sum is too large
 */
export function offsetCells(table: FuelTable, { region, amount }: OffsetCells): FuelTable {
  requireFinite("offsetCells: amount", amount);
  return editCells(table, region, "offsetCells", (old) => old + amount);
}
