import { chooseStrengths, type NormalEquations, type PenalisedFit } from "../numeric/restricted-likelihood.ts";
import { evenStiffness, followBends, gridBends, gridPenalty, type Stiffness } from "./bends.ts";
import type { Grid } from "./dynamics-pass.ts";

/** Where the smoothness of a surface stands between one fit and the next. */
export interface Smoothness {
  readonly strengths: readonly number[];
  readonly stiffness: Stiffness;
}

/** Strengths to begin with: some smoothing, hardly any pull to zero. */
export const firstSmoothness = (grid: Grid): Smoothness => ({
  strengths: [10, 10, 0.01],
  stiffness: evenStiffness(gridBends(grid)),
});

/**
 * The surface that the normal equations call for: strengths by restricted maximum likelihood, and bends that the log shows
 * to be real held down less than the others.
 *
 * @param rounds - how often stiffness and strengths follow one another; 0 leaves the stiffness as it is
 */
export function fitSurface(
  equations: NormalEquations,
  grid: Grid,
  start: Smoothness,
  rounds: number,
): PenalisedFit & Smoothness {
  const bends = gridBends(grid);
  let { stiffness } = start;
  let fit = chooseStrengths(equations, gridPenalty(grid, bends, stiffness), start.strengths, {
    rounds: rounds === 0 ? 2 : 4,
  });
  for (let round = 0; round < rounds; round++) {
    stiffness = followBends(bends, fit);
    const before = fit.cells;
    fit = chooseStrengths(equations, gridPenalty(grid, bends, stiffness), fit.strengths, { rounds: 3 });
    let moved = 0;
    for (let i = 0; i < before.length; i++) moved = Math.max(moved, Math.abs(fit.cells[i]! - before[i]!));
    if (moved < 0.01 * Math.sqrt(fit.variance)) break;
  }
  return { ...fit, stiffness };
}
