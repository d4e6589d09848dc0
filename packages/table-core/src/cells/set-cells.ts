import type { FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";

/** What {@link setCells} takes. */
export interface SetCells {
  /** Left out: the whole table. */
  readonly region?: Region;
  /** In the table's unit. */
  readonly value: number;
}

/**
 * The table with every cell of the region at `value`; feathered cells move towards it by their weight.
 *
 * Locked cells and cells outside come out bit for bit. O(cells).
 *
 * @example setCells(table, { region: { rpm: [1000, 1500], load: [30, 45] }, value: 2.4 })
 * @throws FuelwrightError `not-finite`, `bad-region`
 */
export function setCells(table: FuelTable, { region, value }: SetCells): FuelTable {
  requireFinite("setCells: value", value);
  return editCells(table, region, "setCells", () => value);
}
