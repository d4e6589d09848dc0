import { axisIndex } from "../lookup/axis-index.ts";
import { CHUNK, chunk, prepareGrid, runLocate } from "../lookup/bulk-kernel.ts";
import { locateMany } from "../lookup/locate-many.ts";
import type { BandMatrix } from "../numeric/banded-cholesky.ts";
import type { NormalEquations } from "../numeric/restricted-likelihood.ts";
import { MOST_BREAKPOINTS } from "../values/axis.ts";
import type { Grid } from "./dynamics-pass.ts";

/** Sums kept for each rectangle between breakpoints: w·uᵃvᵇ for a, b = 0, 1, 2, and w·k times 1, u, v, uv. */
const SUMS = 13;

/*
 * Arrays of this module, as in bulk lookup: the compiler knows where they are and how long, which halves the time. The
 * large one takes memory only as far as it is used.
 */
const moments = new Float64Array(MOST_BREAKPOINTS ** 2 * SUMS);
const chunkValues = new Float64Array(CHUNK);
const chunkWeights = new Float64Array(CHUNK);
const { queryLoad, queryRpm, resultCorner, resultLoad, resultRpm } = chunk;

/** Adds the first `count` located samples to their rectangles' sums; returns Σ weight·value². */
function addChunk(count: number): number {
  let square = 0;
  for (let i = 0; i < count; i = (i + 1) | 0) {
    const to = (resultCorner[i]! * SUMS) | 0;
    const u = resultRpm[i]!;
    const v = resultLoad[i]!;
    const w = chunkWeights[i]!;
    const wk = w * chunkValues[i]!;
    const wu = w * u;
    const wuu = wu * u;
    const vv = v * v;
    moments[to]! += w;
    moments[to + 1]! += wu;
    moments[to + 2]! += wuu;
    moments[to + 3]! += w * v;
    moments[to + 4]! += wu * v;
    moments[to + 5]! += wuu * v;
    moments[to + 6]! += w * vv;
    moments[to + 7]! += wu * vv;
    moments[to + 8]! += wuu * vv;
    moments[to + 9]! += wk;
    moments[to + 10]! += wk * u;
    moments[to + 11]! += wk * v;
    moments[to + 12]! += wk * u * v;
    square += wk * chunkValues[i]!;
  }
  return square;
}

/**
 * Normal equations of scattered samples on a grid, each with its four bilinear weights; edges are held.
 *
 * Products of bilinear weights are polynomials in the place within the rectangle, so that thirteen sums a rectangle say all
 * there is to say of any number of samples; they are spread to the matrix at the end.
 *
 * @param weight - left out: all 1
 * @throws FuelwrightError `not-finite` naming the sample
 */
export function sumScattered(
  grid: Grid,
  samples: {
    readonly x: Float64Array;
    readonly y: Float64Array;
    readonly k: Float64Array;
    readonly weight?: Float64Array;
  },
): NormalEquations & { readonly weights: Float64Array } {
  const { x, y, k, weight } = samples;
  const xIndex = axisIndex(grid.x);
  const yIndex = axisIndex(grid.y);
  const direct = xIndex.direct && yIndex.direct;
  const table = { rpm: grid.x, load: grid.y };
  const located = { corner: resultCorner, rpmShare: resultRpm, loadShare: resultLoad };
  if (direct) prepareGrid(xIndex, yIndex);
  moments.fill(0, 0, grid.cells * SUMS);
  let square = 0;
  let count = 0;
  if (!weight) chunkWeights.fill(1);
  for (let from = 0; from < x.length; from += CHUNK) {
    const to = Math.min(x.length, from + CHUNK);
    const length = to - from;
    queryRpm.set(x.subarray(from, to));
    queryLoad.set(y.subarray(from, to));
    // Uneven axes and bad samples go the way that takes its time, and names them.
    if (!direct || !Number.isFinite(runLocate(length)))
      locateMany(table, { rpm: x.slice(from, to), load: y.slice(from, to), out: located });
    chunkValues.set(k.subarray(from, to));
    if (weight) chunkWeights.set(weight.subarray(from, to));
    square += addChunk(length);
    if (!weight) count += length;
    else for (let i = 0; i < length; i++) if (chunkWeights[i]! > 0) count++;
  }
  return { ...spreadMoments(grid, moments, grid.x.breakpoints.length), square, count };
}

/** The weight of a corner as a polynomial in u and v: its coefficients of 1, u, v and uv. */
const cornerPolynomials = [
  [1, -1, -1, 1],
  [0, 1, 0, -1],
  [0, 0, 1, -1],
  [0, 0, 0, 1],
] as const;
/** Powers of u and of v that 1, u, v and uv stand for. */
const powers = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
] as const;

function spreadMoments(grid: Grid, moments: Float64Array, columns: number) {
  const { cells, xStep, yStep } = grid;
  const right = new Float64Array(cells);
  const weights = new Float64Array(cells);
  const across = columns > 1 ? xStep : 0;
  const up = grid.y.breakpoints.length > 1 ? yStep : 0;
  const corners = [0, across, up, across + up];
  const band = Math.min(cells - 1, across + up);
  const values = new Float64Array(cells * (band + 1));
  for (let corner = 0; corner < cells; corner++) {
    const from = corner * SUMS;
    if (moments[from] === 0) continue;
    const at = (corner % columns) * xStep + Math.floor(corner / columns) * yStep;
    for (let a = 0; a < 4; a++) {
      let sum = 0;
      let share = 0;
      for (let p = 0; p < 4; p++) {
        const coefficient = cornerPolynomials[a]![p]!;
        if (coefficient === 0) continue;
        const [pu, pv] = powers[p]!;
        share += coefficient * moments[from + 3 * pv + pu]!;
        sum += coefficient * moments[from + 9 + p]!;
      }
      // On the last column or row the shares of what lies beyond are 0.
      if (share === 0 && sum === 0) continue;
      const i = at + corners[a]!;
      right[i]! += sum;
      weights[i]! += share;
      for (let b = 0; b <= a; b++) {
        let product = 0;
        for (let p = 0; p < 4; p++)
          for (let q = 0; q < 4; q++) {
            const coefficient = cornerPolynomials[a]![p]! * cornerPolynomials[b]![q]!;
            if (coefficient !== 0)
              product +=
                coefficient * moments[from + 3 * (powers[p]![1] + powers[q]![1]) + powers[p]![0] + powers[q]![0]]!;
          }
        const j = at + corners[b]!;
        values[Math.max(i, j) * band + Math.min(i, j) + band]! += product;
      }
    }
  }
  const matrix: BandMatrix = { band, values };
  return { cells, matrix, right, weights };
}
