import { solveGrid } from "../numeric/penalised-grid.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { requirePositive } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";
import { findSmoothStrengths } from "./find-smooth-strengths.ts";
import { requireStrength, type SmoothStrength } from "./smooth-strength.ts";
import { smoothWithin } from "./smooth-within.ts";
import { type SmoothPart, smoothedGrid } from "./smoothed-grid.ts";

export interface SmoothCells extends SmoothPart, SmoothStrength {
  /** No cell moves further than this, in the table's unit. */
  readonly mostChange?: number;
}

/**
 * The table smoothed: the cells z that minimise Σ w·(z − cell)² + strength · Σ (second difference of z)², along rpm and
 * along load.
 *
 * Second differences are twice Newton's divided differences on axes scaled to a mean spacing of 1: breakpoints that lie
 * close count as close, and a strength means about the same on any axis. Constants and planes stay as they are, strength 0
 * changes nothing, and where nothing is held, feathered or limited the weighted mean is kept (`describeSmoothing` says
 * whether). Locked cells, and those outside the region, come out bit for bit. O(cells · shorter side²) up to some
 * 2,500 cells, about O(cells · longer side) beyond.
 *
 * @example smoothCells(table, { region: { rpm: [3000, 6000] }, strength: 2 })
 * @example smoothCells(table, { strength: "auto", weights: [{ region: bump, weight: 0 }] })
 * @throws FuelwrightError `strength-missing`, `not-determined` if the weights leave cells undetermined (all 0, or too few
 *   above), `axis-too-uneven`, `bad-region`, `bad-weights`, `out-of-range`, `not-positive`
 * @see Whittaker, Proc. Edinburgh Math. Soc. 41 (1923) 63; Eilers, A perfect smoother, Anal. Chem. 75 (2003) 3631
 */
export function smoothCells(table: FuelTable, settings: SmoothCells): FuelTable {
  const mostChange =
    settings.mostChange === undefined ? undefined : requirePositive("smoothCells: mostChange", settings.mostChange);
  const strengths = requireStrength("smoothCells", settings, () => findSmoothStrengths(table, settings));
  const grid = smoothedGrid("smoothCells", table, settings, strengths);
  const smooth =
    mostChange === undefined ? solveGrid("smoothCells", grid) : smoothWithin("smoothCells", grid, mostChange);
  return editCells(table, settings.region, "smoothCells", (_, at) => smooth[at]);
}

/** What a smoothing would do, before it is done. */
export interface SmoothingDescription {
  readonly rpmStrength: number;
  readonly loadStrength: number;
  /** Cells that stand fast and bend the others, cells that may move, and those of them that are filled in. */
  readonly held: number;
  /** See `held`. */
  readonly free: number;
  /** See `held`. */
  readonly filled: number;
  /** Whether Σ w·cell comes out as it was: nothing held, feathered or limited. */
  readonly keepsMean: boolean;
}

/**
 * The strengths a smoothing comes to (those that `auto` finds, too) and what it holds and fills in.
 *
 * @throws as `smoothCells`
 */
export function describeSmoothing(table: FuelTable, settings: SmoothCells): SmoothingDescription {
  const strengths = requireStrength("describeSmoothing", settings, () => findSmoothStrengths(table, settings));
  const { free, weights } = smoothedGrid("describeSmoothing", table, settings, strengths);
  const count = free.reduce((sum, one) => sum + one, 0);
  return {
    ...strengths,
    held: free.length - count,
    free: count,
    filled: free.reduce((sum, one, at) => sum + (one && weights[at] === 0 ? 1 : 0), 0),
    keepsMean: settings.mostChange === undefined && editWeights(table, settings.region).every((weight) => weight === 1),
  };
}
