import type { BandMatrix } from "../numeric/banded-cholesky.ts";
import { secondDifferences } from "../numeric/divided-differences.ts";
import type { PenalisedFit } from "../numeric/restricted-likelihood.ts";
import type { Grid } from "./dynamics-pass.ts";

/** Second divided differences of neighbouring cells: three cells and their weights each. */
export interface Bends {
  readonly cells: Int32Array;
  readonly weights: Float64Array;
  readonly count: number;
  /** Distance in the numbering between the outer two cells. */
  readonly band: number;
}

/** The bends of a grid along x and along y. */
export function gridBends({ x, y, xStep, yStep }: Grid): { readonly x: Bends; readonly y: Bends } {
  const along = (breakpoints: readonly number[], step: number, others: number, otherStep: number): Bends => {
    const differences = secondDifferences(breakpoints);
    const count = (differences.length / 3) * others;
    const cells = new Int32Array(3 * count);
    const weights = new Float64Array(3 * count);
    let at = 0;
    for (let other = 0; other < others; other++)
      for (let k = 0; k < differences.length; k++) {
        cells[at] = (Math.floor(k / 3) + (k % 3)) * step + other * otherStep;
        weights[at++] = differences[k]!;
      }
    return { cells, weights, count, band: 2 * step };
  };
  return {
    x: along(x.breakpoints, xStep, y.breakpoints.length, yStep),
    y: along(y.breakpoints, yStep, x.breakpoints.length, xStep),
  };
}

/** How much each bend is held down; all 1 unless the surface asks for less somewhere. */
export interface Stiffness {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export const evenStiffness = (bends: { readonly x: Bends; readonly y: Bends }): Stiffness => ({
  x: new Float64Array(bends.x.count).fill(1),
  y: new Float64Array(bends.y.count).fill(1),
});

/** Σ stiffness·bend² along x and along y, and the pull to zero, as matrices in the grid's numbering. */
export function gridPenalty(
  grid: Grid,
  bends: { readonly x: Bends; readonly y: Bends },
  stiffness: Stiffness,
): BandMatrix[] {
  const matrix = ({ cells, weights, count, band: wide }: Bends, stiff: Float64Array): BandMatrix => {
    const band = count === 0 ? 0 : Math.min(grid.cells - 1, wide);
    const values = new Float64Array(grid.cells * (band + 1));
    for (let k = 0; k < count; k++)
      for (let a = 3 * k; a < 3 * k + 3; a++)
        for (let b = 3 * k; b <= a; b++)
          values[cells[a]! * band + cells[b]! + band]! += stiff[k]! * weights[a]! * weights[b]!;
    return { band, values };
  };
  return [
    matrix(bends.x, stiffness.x),
    matrix(bends.y, stiffness.y),
    { band: 0, values: new Float64Array(grid.cells).fill(1) },
  ];
}

/** Degrees of freedom of the bends: low, so that a single cell out of line is believed where the log shows it. */
const BEND_FREEDOM = 2;

/**
 * The stiffness that a fit suggests: bends that the log shows to be strong are held down less, as if each had its own
 * variance under a Student distribution (one step of expectation–maximisation).
 *
 * @see Lange, Little & Taylor, Robust statistical modeling using the t distribution, JASA 84 (1989) 881
 */
export function followBends(bends: { readonly x: Bends; readonly y: Bends }, fit: PenalisedFit): Stiffness {
  const { band, values } = fit.inverse();
  const follow = ({ cells, weights, count }: Bends, strength: number): Float64Array =>
    Float64Array.from({ length: count }, (_, k) => {
      let bend = 0;
      let doubt = 0;
      for (let a = 3 * k; a < 3 * k + 3; a++) {
        bend += weights[a]! * fit.cells[cells[a]!]!;
        for (let b = 3 * k; b <= a; b++)
          doubt += (a === b ? 1 : 2) * weights[a]! * weights[b]! * values[cells[a]! * band + cells[b]! + band]!;
      }
      const size = strength * ((bend * bend) / fit.variance + doubt);
      return (BEND_FREEDOM + 1) / (BEND_FREEDOM + size);
    });
  return { x: follow(bends.x, fit.strengths[0]!), y: follow(bends.y, fit.strengths[1]!) };
}
