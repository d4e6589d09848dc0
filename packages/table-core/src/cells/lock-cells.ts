import type { FuelTable } from "../values/fuel-table.ts";
import { createRegion, type Region, regionWeights } from "../values/region.ts";
import { regionOfCells } from "./region-of-cells.ts";

/**
 * The table with the region locked: later edits leave its cells as they are, bit for bit.
 *
 * A feathered region locks every cell in which it has any weight. Locks are regions in rpm and load, so they hold after
 * a rebin too. Cells are unchanged.
 *
 * @example lockCells(table, { region: { rpm: [800, 1200], load: [25, 40] } }) // keep the idle as it is
 * @throws FuelwrightError `bad-region`
 */
export function lockCells(table: FuelTable, { region }: { readonly region: Region }): FuelTable {
  const lock = createRegion(region, "lockCells: region");
  const said = JSON.stringify(lock);
  if (table.locked.some((other) => JSON.stringify(other) === said)) return table;
  return withLocks(table, [...table.locked, lock]);
}

/**
 * The table with the region's cells unlocked; without a region every lock goes.
 *
 * A lock that has no cell in the region stays as it was said. One whose cells all lie in it goes. Any other is replaced
 * by a lock of exactly its remaining cells, said as boxes from breakpoint to breakpoint and without feather. Cells in
 * which the region has any weight count as in it, so unlocking what was locked undoes the lock.
 *
 * @throws FuelwrightError `bad-region`
 */
export function unlockCells(table: FuelTable, { region }: { readonly region?: Region } = {}): FuelTable {
  if (region === undefined) return withLocks(table, []);
  const open = regionWeights(table, createRegion(region, "unlockCells: region"));
  const locked = table.locked.flatMap((lock) => {
    const held = regionWeights(table, lock);
    if (!held.some((weight, at) => weight > 0 && open[at]! > 0)) return [lock];
    const rest = regionOfCells(table, (at) => held[at]! > 0 && open[at] === 0);
    return rest ? [createRegion(rest)] : [];
  });
  return withLocks(table, locked);
}

const withLocks = (table: FuelTable, locked: readonly Region[]): FuelTable =>
  Object.freeze({ ...table, locked: Object.freeze(locked) });
