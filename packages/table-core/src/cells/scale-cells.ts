import type { FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";

/** What {@link scaleCells} takes. */
export interface ScaleCells {
  /** Left out: the whole table. */
  readonly region?: Region;
  /** 1 changes nothing, 1.05 adds 5 %. */
  readonly factor: number;
}

/**
 * The table with every cell of the region times `factor`; in feathered cells the factor fades to 1.
 *
 * The cell itself is multiplied, also where it is a percentage: a trim of 4 % times 1.5 is 6 %. Locked cells and cells
 * outside come out bit for bit. O(cells).
 *
 * @example scaleCells(table, { region: { rpm: [3000, 5000] }, factor: 1.05 })
 * @throws FuelwrightError `not-finite`, `bad-region`, `cell-not-finite` where the product is too large
 */
export function scaleCells(table: FuelTable, { region, factor }: ScaleCells): FuelTable {
  requireFinite("scaleCells: factor", factor);
  return editCells(table, region, "scaleCells", (old) => old * factor);
}
