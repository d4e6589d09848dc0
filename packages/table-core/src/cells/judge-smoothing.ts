import { factorBand } from "../numeric/banded-cholesky.ts";
import { equalWeightGrid } from "../numeric/equal-weight-grid.ts";
import { applyPenalty } from "../numeric/grid-penalty.ts";
import { bandNumbering, gridBand, type PenalisedGrid, solveGrid, startValues } from "../numeric/penalised-grid.ts";
import { seededRandom } from "../numeric/seeded-random.ts";

/**
 * What a smoothing of given strengths leaves and keeps: Σ w·r² over the counted cells, and the effective dimension, which
 * is the trace of what takes the cells to the smoothed ones.
 */
export type Judge = (
  rpmStrength: number,
  loadStrength: number,
) => { readonly misfit: number; readonly dimension: number };

/** The cells that may move and have some weight. */
export const countedCells = ({ free, weights }: PenalisedGrid): number[] =>
  Array.from(free.keys()).filter((at) => free[at] === 1 && weights[at]! > 0);

const withStrengths = (grid: PenalisedGrid, x: number, y: number): PenalisedGrid => ({
  ...grid,
  x: { ...grid.x, strength: x },
  y: { ...grid.y, strength: y },
});

/** All cells free and alike: everything is a sum over the eigenvalues. */
export function judgeAlike(grid: PenalisedGrid): Judge {
  const { bendX, bendY, toCoefficients } = equalWeightGrid(grid);
  const squares = new Float64Array(grid.values.length);
  toCoefficients(grid.values, squares);
  for (let at = 0; at < squares.length; at++) squares[at] = squares[at]! ** 2;
  const weight = grid.weights[0]!;
  return (sx, sy) => {
    let misfit = 0;
    let dimension = 0;
    let at = 0;
    for (const y of bendY)
      for (const x of bendX) {
        const kept = weight / (weight + sx * x + sy * y);
        misfit += weight * (1 - kept) ** 2 * squares[at++]!;
        dimension += kept;
      }
    return { misfit, dimension };
  };
}

/** Exactly, whatever is free and counts how much: the diagonal of the inverse. */
export function judgeByBand(grid: PenalisedGrid): Judge {
  const { values, weights } = grid;
  const counted = countedCells(grid);
  const start = startValues(grid);
  const right = new Float64Array(values.length);
  return (sx, sy) => {
    const strong = withStrengths(grid, sx, sy);
    const numbering = bandNumbering(strong);
    const { number, size, band } = numbering;
    const factor = factorBand(gridBand(strong, numbering));
    applyPenalty(strong, start, right);
    const moves = new Float64Array(size);
    number.forEach((i, at) => {
      if (i >= 0) moves[i] = -right[at]!;
    });
    factor.solve(moves, moves);
    const inverse = factor.inverse().values;
    let misfit = 0;
    let dimension = 0;
    for (const at of counted) {
      const i = number[at]!;
      misfit += weights[at]! * moves[i]! ** 2;
      dimension += weights[at]! * inverse[i * band + i + band]!;
    }
    return { misfit, dimension };
  };
}

/** The trace from fields of ±1, which the smoothing keeps as far as it keeps anything. */
export function judgeByFields(operation: string, grid: PenalisedGrid): Judge {
  const { values, weights, free } = grid;
  const counted = countedCells(grid);
  const random = seededRandom(20);
  const fields = [0, 1]
    .map(() => free.map((one) => (one ? (random.uniform() < 0.5 ? 0 : 1) : 2)))
    .map((signs) => Float64Array.from(signs, (sign) => [-1, 1, 0][sign]!));
  return (sx, sy) => {
    const strong = withStrengths(grid, sx, sy);
    const smooth = solveGrid(operation, strong);
    let misfit = 0;
    for (const at of counted) misfit += weights[at]! * (values[at]! - smooth[at]!) ** 2;
    let dimension = 0;
    for (const field of fields) {
      const kept = solveGrid(operation, { ...strong, values: field });
      for (const at of counted) dimension += (field[at]! * kept[at]!) / fields.length;
    }
    return { misfit, dimension };
  };
}
