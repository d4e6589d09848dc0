import type { FuelTable } from "../src/values/fuel-table.ts";

/**
 * Places of cells that did not move as an edit must: bit for bit the same at weight 0, exactly to `wanted` at weight 1,
 * and between by old + weight · (wanted − old), give or take `rounding`. Gathered, since a check a cell is slow.
 */
export function wronglyMoved(
  before: FuelTable,
  after: FuelTable,
  weights: Float64Array,
  wanted: (old: number, at: number) => number,
  rounding: number,
): number[] {
  return Array.from(before.cells.keys()).filter((at) => {
    const [old, value, weight] = [before.cells[at]!, after.cells[at]!, weights[at]!];
    if (weight === 0) return !Object.is(value, old);
    const full = wanted(old, at);
    if (weight === 1) return value !== full;
    return !(Math.abs(value - (old * (1 - weight) + full * weight)) <= rounding);
  });
}
