import { factorBand } from "../numeric/banded-cholesky.ts";
import { equalWeightGrid } from "../numeric/equal-weight-grid.ts";
import { applyPenalty } from "../numeric/grid-penalty.ts";
import { patternSearch } from "../numeric/pattern-search.ts";
import {
  bandNumbering,
  chooseMethod,
  gridBand,
  type PenalisedGrid,
  requireDetermined,
  solveGrid,
  startValues,
} from "../numeric/penalised-grid.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { type SmoothPart, smoothedGrid } from "./smoothed-grid.ts";

/** Strengths found from a table, and what they amount to. */
export interface FoundStrengths {
  readonly rpmStrength: number;
  readonly loadStrength: number;
  /** How many free cells the smoothed table amounts to: from 4 (a surface without bends) to all. */
  readonly effectiveDimension: number;
  /** Estimated standard deviation of a cell of weight 1 about the smooth table, in the table's unit. */
  readonly noise: number;
}

/**
 * The strengths along rpm and load with which each cell is best foretold from the others: those of least generalised
 * cross-validation, n·Σ w·r² / (n − effective dimension)², over the n cells that may move and have some weight.
 *
 * It takes what varies from cell to cell without pattern for noise; waves several cells wide it keeps. Between 10⁻³ and
 * 10⁷, to a tenth of a decade or better. Instant where all cells count alike; else some thirty solutions. Beyond 2,500
 * free cells of unequal weights the effective dimension is estimated from two random fields of fixed seed.
 *
 * @example smoothCells(table, { ...findSmoothStrengths(table, { region }), region })
 * @throws FuelwrightError `too-few-cells` if fewer than five cells are free and have some weight, and as `smoothCells`
 * @see Craven & Wahba, Numer. Math. 31 (1979) 377; Hutchinson, Commun. Stat. Simul. 19 (1990) 433 (the estimate)
 */
export function findSmoothStrengths(table: FuelTable, part: SmoothPart = {}): FoundStrengths {
  const operation = "findSmoothStrengths";
  const grid = smoothedGrid(operation, table, part, { rpmStrength: 1, loadStrength: 1 });
  const counted = countedCells(grid).length;
  const sides = [grid.x, grid.y].map((side) => side.differences.length > 0);
  if (!sides[0] && !sides[1]) return { rpmStrength: 0, loadStrength: 0, effectiveDimension: counted, noise: 0 };
  if (counted < 5)
    throw new FuelwrightError(
      "too-few-cells",
      `${operation}: at least 5 cells must be free and have some weight, got ${counted}; choose a larger part, or a strength`,
      { counted },
    );
  requireDetermined(operation, grid);
  const method = chooseMethod(grid);
  const judge =
    method === "eigenvectors"
      ? judgeAlike(grid)
      : method === "band"
        ? judgeByBand(grid)
        : judgeByFields(operation, grid);
  const at = (logs: readonly number[]): readonly [number, number] => {
    const own = logs.map((log) => 10 ** log);
    return [sides[0] ? own[0]! : 0, sides[1] ? own[sides[0] ? 1 : 0]! : 0];
  };
  const score = (logs: readonly number[]) => {
    const { misfit, dimension } = judge(...at(logs));
    const spare = counted - dimension;
    return spare > 1e-6 * counted ? (counted * misfit) / spare ** 2 : Number.POSITIVE_INFINITY;
  };
  const dimensions = sides.filter(Boolean).length;
  const starts = [-1, 1, 3].map((log) => new Array<number>(dimensions).fill(log));
  const best = patternSearch(score, starts, {
    low: -3,
    high: 7,
    firstStep: 1,
    lastStep: method === "eigenvectors" ? 0.01 : 0.1,
  });
  const [rpmStrength, loadStrength] = at(best);
  const { misfit, dimension } = judge(rpmStrength, loadStrength);
  return {
    rpmStrength,
    loadStrength,
    effectiveDimension: dimension,
    noise: Math.sqrt(misfit / Math.max(counted - dimension, 1e-9)),
  };
}

/** Σ w·r² over the counted cells, and the trace of what takes the cells to the smoothed ones. */
type Judge = (rpmStrength: number, loadStrength: number) => { readonly misfit: number; readonly dimension: number };

const countedCells = ({ free, weights }: PenalisedGrid): number[] =>
  Array.from(free.keys()).filter((at) => free[at] === 1 && weights[at]! > 0);

const withStrengths = (grid: PenalisedGrid, x: number, y: number): PenalisedGrid => ({
  ...grid,
  x: { ...grid.x, strength: x },
  y: { ...grid.y, strength: y },
});

/** All cells free and alike: everything is a sum over the eigenvalues. */
function judgeAlike(grid: PenalisedGrid): Judge {
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

function judgeByBand(grid: PenalisedGrid): Judge {
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
function judgeByFields(operation: string, grid: PenalisedGrid): Judge {
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
