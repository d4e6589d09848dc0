import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { type Comparison, compareCells, requireSameQuantity } from "./compare-tables.ts";
import { requireSameSides, sampleGrid } from "./sample-grid.ts";

/** A comparison on a grid of its own; `at` and the cells are row-major on `load` by `rpm`. */
export interface SurfaceComparison extends Comparison {
  readonly rpm: readonly number[];
  readonly load: readonly number[];
}

/**
 * What changed between two tables on different axes, as surfaces.
 *
 * Both are looked up (bilinear) on the breakpoints of either, over the part that both cover. Between those points the
 * difference is bilinear too, so its greatest rise and fall anywhere lie on them: `largestRise` and `largestFall` are
 * those of the surfaces, not only of the breakpoints. O(points).
 *
 * @example compareSurfaces(oldMap, rebinned).largestFall // { rpm: 3250, load: 70, absolute: -0.08, … }
 * @throws FuelwrightError `quantities-differ`, `axes-differ` if the sides do not run along the same quantities,
 *   `no-common-part` if they do not overlap
 */
export function compareSurfaces(before: FuelTable, after: FuelTable): SurfaceComparison {
  requireSameQuantity("compareSurfaces", before, after);
  requireSameSides("compareSurfaces", before, after);
  const rpm = commonPoints(before.rpm, after.rpm);
  const load = commonPoints(before.load, after.load);
  const [first, second] = [before, after].map((table) => sampleGrid(table, rpm, load));
  return { rpm, load, ...compareCells(before.quantity, rpm, load, first!, second!) };
}

/** The breakpoints of either axis in the range that both cover. */
function commonPoints(a: Axis, b: Axis): number[] {
  const low = Math.max(a.breakpoints[0]!, b.breakpoints[0]!);
  const high = Math.min(a.breakpoints.at(-1)!, b.breakpoints.at(-1)!);
  if (low > high)
    throw new FuelwrightError(
      "no-common-part",
      `compareSurfaces: the tables must overlap along ${a.quantity}, one begins at ${low} where the other ends at ${high} ` +
        `${a.unit}; choose tables of the same engine`,
      { quantity: a.quantity, low, high },
    );
  const inside = [...a.breakpoints, ...b.breakpoints].filter((value) => value >= low && value <= high);
  return [...new Set(inside)].sort((x, y) => x - y);
}
