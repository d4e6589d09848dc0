import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";

/**
 * The table with `change` applied where the region's weight w is above 0: old + w · (new − old).
 *
 * What every simple edit shares. Cells of weight 0 (outside the region, or locked) and cells for which `change` gives
 * undefined come out bit for bit; cells of weight 1 hold exactly what `change` gave. If no cell is touched the table
 * itself is returned, so `result === table` tells a caller that the edit found nothing to work on.
 *
 * @param region - left out: the whole table
 * @param operation - named in errors
 * @throws FuelwrightError `bad-region`, `cell-not-finite`
 */
export function editCells(
  table: FuelTable,
  region: Region | undefined,
  operation: string,
  change: (old: number, at: number, weight: number) => number | undefined,
): FuelTable {
  const weights = editWeights(table, region);
  const cells = table.cells.slice();
  let touched = false;
  for (let at = 0; at < cells.length; at++) {
    const weight = weights[at]!;
    if (weight === 0) continue;
    const old = cells[at]!;
    const wanted = change(old, at, weight);
    if (wanted === undefined) continue;
    touched = true;
    // Equal values are kept apart from the sum, which would turn −0 into 0.
    cells[at] = weight === 1 || wanted === old ? wanted : old + weight * (wanted - old);
  }
  return touched ? withCells(table, cells, operation) : table;
}
