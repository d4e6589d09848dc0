import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { createRegion, type Region, regionWeights } from "../values/region.ts";
import { requireFinite } from "../values/require.ts";

/** How much the cells of a region count; 1 is as much as any other, 0 not at all. */
export interface CellWeight {
  readonly region: Region;
  readonly weight: number;
}

/**
 * How much each cell counts, row-major.
 *
 * Said by regions it survives a rebin; a feathered edge leads from one weight over to the other.
 *
 * @param weights - regions with their weights, of which the last that covers a cell counts and elsewhere it is 1; or a
 *   number for each cell, row-major; left out: 1 everywhere
 * @throws FuelwrightError `bad-weights` naming the place, `bad-region`, `not-finite`
 */
export function cellWeights(
  where: string,
  table: FuelTable,
  weights: readonly CellWeight[] | ArrayLike<number> | undefined,
): Float64Array {
  const size = table.cells.length;
  const result = new Float64Array(size).fill(1);
  if (weights === undefined) return result;
  if (isByRegion(weights)) {
    weights.forEach((entry, index) => {
      const weight = requireWeight(`${where}[${index}].weight`, entry?.weight);
      const share = regionWeights(table, createRegion(entry.region, `${where}[${index}].region`));
      for (let at = 0; at < size; at++)
        result[at] = share[at] === 1 ? weight : result[at]! + share[at]! * (weight - result[at]!);
    });
    return result;
  }
  if (weights.length !== size)
    throw new FuelwrightError(
      "bad-weights",
      `${where} must hold one number for each of the ${size} cells, got ${weights.length}; or say them by region`,
      { size, got: weights.length },
    );
  for (let at = 0; at < size; at++) result[at] = requireWeight(`${where}[${at}]`, weights[at]);
  return result;
}

const isByRegion = (weights: readonly CellWeight[] | ArrayLike<number>): weights is readonly CellWeight[] =>
  Array.isArray(weights) && (weights.length === 0 || typeof weights[0] === "object");

function requireWeight(where: string, weight: unknown): number {
  if (requireFinite(where, weight) < 0)
    throw new FuelwrightError("bad-weights", `${where} must be 0 or above, got ${weight}; 0 leaves a cell out`, {
      where,
      weight,
    });
  return weight as number;
}
