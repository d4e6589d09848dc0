import { FuelwrightError } from "../values/errors.ts";
import { alternatingDirections } from "./alternating-directions.ts";
import { type BandMatrix, factorBand } from "./banded-cholesky.ts";
import { conjugateGradients, type LinearMap } from "./conjugate-gradients.ts";
import { equalWeightSolver } from "./equal-weight-grid.ts";
import { applyPenalty, cutSide, type GridSide, penaltyDiagonals, type SmoothedGrid } from "./grid-penalty.ts";

/** Cells to be smoothed: those that are not free keep their values, and bend the others their way. */
export interface PenalisedGrid extends SmoothedGrid {
  /** Row-major [y][x]. */
  readonly values: Float64Array;
  /** Zero or above; a free cell of weight 0 is filled in, whatever its value. */
  readonly weights: Float64Array;
  /** 1 for a cell that may move. */
  readonly free: Uint8Array;
}

/** How a grid is solved: at once in the eigenvectors of its sides, by a band matrix, or step by step. */
export type GridMethod = "eigenvectors" | "band" | "gradients";

/**
 * The values z that minimise Σ w·(z − values)² + Σ strength·(second difference of z)² along x and y, over the free cells.
 *
 * What is solved for is how far cells move, driven by how much they bend: a plane stays to rounding, however strong the
 * smoothing. With both strengths 0 nothing moves. Cells beyond two of a free one do not count.
 *
 * @param operation - begins the sentences of errors
 * @param method - left out: eigenvectors where all cells are free and count alike, a band up to some 50 × 50 free cells,
 *   else gradients. Where the first or last do not settle, a band takes over
 * @throws FuelwrightError `not-determined` if the weights leave free cells undetermined, `axis-too-uneven` if rounding
 *   hides the answer because neighbouring gaps differ too much for such strengths
 */
export function solveGrid(operation: string, grid: PenalisedGrid, method?: GridMethod): Float64Array {
  const values = grid.values.slice();
  const box = boxOfFree(grid);
  if (!box || (grid.x.strength === 0 && grid.y.strength === 0)) return values;
  const part = cutGrid(grid, box);
  requireDetermined(operation, part);
  const smooth = findSmooth(operation, part, method ?? chooseMethod(part));
  const columns = grid.x.points.length;
  for (let row = box.top, at = 0; row < box.bottom; row++)
    for (let column = box.left; column < box.right; column++, at++)
      if (part.free[at]) values[row * columns + column] = smooth[at]!;
  return values;
}

/** Multiply-adds that a band may cost before stepping pays; some 10 ms. */
const MOST_BAND_WORK = 3e7;

/** How `solveGrid` would go about it. */
export function chooseMethod(grid: PenalisedGrid): GridMethod {
  const { free, weights } = grid;
  if (free.every((one, at) => one === 1 && weights[at] === weights[0]) && weights[0]! > 0) return "eigenvectors";
  return bandWork(grid) <= MOST_BAND_WORK ? "band" : "gradients";
}

function bandWork(grid: PenalisedGrid): number {
  const { size, band } = bandNumbering(grid);
  return size * band * band;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The rows and columns that hold free cells and the two on either side, which they bend with. */
function boxOfFree({ x, y, free }: PenalisedGrid): Box | null {
  const columns = x.points.length;
  let left = columns;
  let right = 0;
  let top = y.points.length;
  let bottom = 0;
  for (let row = 0, at = 0; row < y.points.length; row++)
    for (let column = 0; column < columns; column++, at++) {
      if (!free[at]) continue;
      left = Math.min(left, column - 2);
      right = Math.max(right, column + 3);
      top = Math.min(top, row - 2);
      bottom = Math.max(bottom, row + 3);
    }
  if (right === 0) return null;
  return {
    left: Math.max(left, 0),
    right: Math.min(right, columns),
    top: Math.max(top, 0),
    bottom: Math.min(bottom, y.points.length),
  };
}

function cutGrid(grid: PenalisedGrid, { left, right, top, bottom }: Box): PenalisedGrid {
  const columns = grid.x.points.length;
  if (right - left === columns && bottom - top === grid.y.points.length) return grid;
  const cut = <T extends Float64Array | Uint8Array>(from: T, to: T): T => {
    for (let row = top; row < bottom; row++)
      to.set(from.subarray(row * columns + left, row * columns + right), (row - top) * (right - left));
    return to;
  };
  const size = (right - left) * (bottom - top);
  return {
    x: cutSide(grid.x, left, right),
    y: cutSide(grid.y, top, bottom),
    values: cut(grid.values, new Float64Array(size)),
    weights: cut(grid.weights, new Float64Array(size)),
    free: cut(grid.free, new Uint8Array(size)),
  };
}

/** A cell whose value counts: held, or of some weight. */
const isKnown = ({ free, weights }: PenalisedGrid, at: number): boolean => free[at] === 0 || weights[at]! > 0;

/**
 * What no bend tells is a surface a + bx + cy + dxy (along one side only, a line of its own in each row or column): the
 * known cells must pin it down. They do if their 1, x, y, xy span as many dimensions as the grid has.
 */
export function requireDetermined(operation: string, grid: PenalisedGrid): void {
  const columns = grid.x.points.length;
  const rows = grid.y.points.length;
  const alongX = grid.x.strength > 0;
  const alongY = grid.y.strength > 0;
  const middle = ({ points }: GridSide, i: number) => {
    const last = points.length - 1;
    return last > 0 ? (2 * (points[i]! - points[0]!)) / (points[last]! - points[0]!) - 1 : 0;
  };
  const vector = (at: number) => {
    const x = alongX ? middle(grid.x, at % columns) : 0;
    const y = alongY ? middle(grid.y, Math.floor(at / columns)) : 0;
    return [1, x, y, x * y];
  };
  const needed = (side: GridSide) => (side.strength > 0 ? Math.min(side.points.length, 2) : 1);
  const dimensions = needed(grid.x) * needed(grid.y);
  // All cells hang together, or those of each row or column do.
  const [groups, size, step, next] =
    alongX && alongY ? [1, rows * columns, 1, 0] : alongX ? [rows, columns, 1, columns] : [columns, rows, columns, 1];
  for (let group = 0; group < groups; group++) {
    const cells = { first: group * next, size, step };
    if (hasFree(grid, cells) && spannedBy(grid, cells, vector, dimensions) < dimensions)
      throw new FuelwrightError(
        "not-determined",
        `${operation}: cells of weight above 0, or held, must pin down the others, got too few or all in one line` +
          `${alongX && alongY ? "" : " along a row or column"}; give more cells some weight, or smooth along both sides`,
        { group },
      );
  }
}

/** Cells at first, first + step, … */
interface CellRun {
  readonly first: number;
  readonly size: number;
  readonly step: number;
}

function hasFree({ free }: PenalisedGrid, { first, size, step }: CellRun): boolean {
  for (let k = 0; k < size; k++) if (free[first + k * step]) return true;
  return false;
}

/** How many dimensions the vectors of the known cells span, counted up to `enough`. */
function spannedBy(
  grid: PenalisedGrid,
  { first, size, step }: CellRun,
  vector: (at: number) => number[],
  enough: number,
): number {
  const basis: number[][] = [];
  for (let k = 0; k < size && basis.length < enough; k++) {
    const at = first + k * step;
    if (!isKnown(grid, at)) continue;
    const rest = vector(at);
    for (const one of basis) {
      const along = one.reduce((sum, value, i) => sum + value * rest[i]!, 0);
      for (let i = 0; i < rest.length; i++) rest[i]! -= along * one[i]!;
    }
    const length = Math.hypot(...rest);
    if (length > 1e-9) basis.push(rest.map((value) => value / length));
  }
  return basis.length;
}

/** The values, with the mean of the known ones where there is none. */
export function startValues(grid: PenalisedGrid): Float64Array {
  let sum = 0;
  let count = 0;
  for (let at = 0; at < grid.values.length; at++) {
    if (!isKnown(grid, at)) continue;
    sum += grid.values[at]!;
    count++;
  }
  const start = grid.values.slice();
  for (let at = 0; at < start.length; at++) if (!isKnown(grid, at)) start[at] = sum / count;
  return start;
}

function findSmooth(operation: string, grid: PenalisedGrid, method: GridMethod): Float64Array {
  try {
    requireResolvable(grid);
    return settle(grid, startValues(grid), makeSolver(grid, method));
  } catch (error) {
    if (!(error instanceof FuelwrightError) || !["not-definite", "not-settled"].includes(error.code)) throw error;
    if (method !== "band") return findSmooth(operation, grid, "band");
    throw new FuelwrightError(
      "axis-too-uneven",
      `${operation}: gaps between breakpoints must not differ so much that rounding hides the answer, got strengths of ` +
        `${grid.x.strength} and ${grid.y.strength} on such axes; smooth less strongly, or space the breakpoints more evenly`,
      { xStrength: grid.x.strength, yStrength: grid.y.strength },
    );
  }
}

/** Writes w·(values − z) − ½ the gradient of the roughness of z for the free cells, 0 for the others. */
function writeResidual(grid: PenalisedGrid, start: Float64Array, z: Float64Array, out: Float64Array): void {
  const { free, weights } = grid;
  applyPenalty(grid, z, out);
  for (let at = 0; at < free.length; at++) out[at] = free[at] ? weights[at]! * (start[at]! - z[at]!) - out[at]! : 0;
}

/**
 * Solves approximately, and again on what that leaves, until it no longer matters.
 *
 * What is left is computed from z itself, which is smooth, and not from the moves: these may be rough, and rounding in
 * their bends would hide the answer under strong smoothing.
 */
function settle(grid: PenalisedGrid, start: Float64Array, solver: Solver): Float64Array {
  const z = start.slice();
  const step = new Float64Array(z.length);
  const residual = new Float64Array(z.length);
  let scale = 0;
  for (const value of start) scale = Math.max(scale, Math.abs(value));
  const enough = Math.max(solver.accuracy * scale, 1e-300);
  let before = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    writeResidual(grid, start, z, residual);
    solver.solve(residual, step);
    let size = 0;
    for (let at = 0; at < z.length; at++) {
      z[at]! += step[at]!;
      size = Math.max(size, Math.abs(step[at]!));
    }
    // Each round shortens the step by about the same factor, so the next would be of this size times that factor.
    if (solver.once || size * (before > 0 ? Math.min(size / before, 1) : 1) <= enough) return z;
    before = size;
  }
  throw new FuelwrightError("not-settled", `settle: steps must shrink, got ${MOST_ROUNDS} that did not`);
}

const MOST_ROUNDS = 12;

interface Solver {
  readonly solve: LinearMap;
  /** Share of the largest value that may be left open. */
  readonly accuracy: number;
  /** The first solution is good enough. */
  readonly once: boolean;
}

function makeSolver(grid: PenalisedGrid, method: GridMethod): Solver {
  if (method === "gradients") return { solve: gradientSolver(grid), accuracy: 1e-9, once: false };
  if (method === "band") return { solve: bandSolver(grid), accuracy: 1e-13, once: false };
  return { solve: equalWeightSolver(grid, grid.weights[0]!), accuracy: 1e-13, once: isMild(grid) };
}

/** About the largest number on the diagonal of the roughness. */
function stiffest(grid: SmoothedGrid): number {
  let sum = 0;
  for (const { strength, differences } of [grid.x, grid.y])
    sum += strength * differences.reduce((most, value) => Math.max(most, 6 * value * value), 0);
  return sum;
}

/** Whether rounding in the eigenvalues is far below the weight, so that the first solution needs no second look. */
const isMild = (grid: PenalisedGrid): boolean => stiffest(grid) * Number.EPSILON <= 1e-10 * grid.weights[0]!;

/** Where rounding in the stiffest bends outweighs the cells, what bends least is lost, and steps that shrink prove nothing. */
function requireResolvable(grid: PenalisedGrid): void {
  let weight = 0;
  let count = 0;
  grid.free.forEach((one, at) => {
    if (!one || grid.weights[at] === 0) return;
    weight += grid.weights[at]!;
    count++;
  });
  if (count > 0 && stiffest(grid) * Number.EPSILON > weight / count)
    throw new FuelwrightError("not-settled", "requireResolvable: the weights must be above rounding in the bends");
}

/** Free cells numbered with the shorter side running fastest, held ones −1; and how far apart the numbers of cells that bend together lie. */
export function bandNumbering({ x, y, free }: PenalisedGrid) {
  const columns = x.points.length;
  const rows = y.points.length;
  const byColumn = rows < columns;
  const number = new Int32Array(free.length).fill(-1);
  let size = 0;
  for (let k = 0; k < free.length; k++) {
    const at = byColumn ? (k % rows) * columns + Math.floor(k / rows) : k;
    if (free[at]) number[at] = size++;
  }
  let band = 0;
  eachPair(x, y, (at, other) => {
    if (number[at]! >= 0 && number[other]! >= 0) band = Math.max(band, Math.abs(number[at]! - number[other]!));
  });
  return { number, size, band };
}

/** Every pair of cells that bend together, and what the roughness couples them with; each cell with itself too. */
function eachPair(x: GridSide, y: GridSide, take: (at: number, other: number, coupling: number) => void): void {
  const columns = x.points.length;
  const rows = y.points.length;
  const alongX = penaltyDiagonals(x);
  const alongY = penaltyDiagonals(y);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const at = row * columns + column;
      take(at, at, alongX[0]![column]! + alongY[0]![row]!);
      for (let distance = 1; distance < 3; distance++) {
        if (column >= distance && x.strength > 0) take(at, at - distance, alongX[distance]![column - distance]!);
        if (row >= distance && y.strength > 0) take(at, at - distance * columns, alongY[distance]![row - distance]!);
      }
    }
}

/** weights + roughness among the free cells, as a band matrix in the numbering given. */
export function gridBand(grid: PenalisedGrid, { number, size, band }: ReturnType<typeof bandNumbering>): BandMatrix {
  const values = new Float64Array(size * (band + 1));
  eachPair(grid.x, grid.y, (at, other, coupling) => {
    const i = Math.max(number[at]!, number[other]!);
    const j = Math.min(number[at]!, number[other]!);
    if (j >= 0) values[i * band + j + band]! += at === other ? coupling + grid.weights[at]! : coupling;
  });
  return { band, values };
}

function bandSolver(grid: PenalisedGrid): LinearMap {
  const numbering = bandNumbering(grid);
  const { number, size } = numbering;
  const factor = factorBand(gridBand(grid, numbering));
  const right = new Float64Array(size);
  return (from, out) => {
    number.forEach((i, at) => {
      if (i >= 0) right[i] = from[at]!;
    });
    factor.solve(right, right);
    number.forEach((i, at) => {
      out[at] = i >= 0 ? right[i]! : 0;
    });
  };
}

/** Steps of conjugate gradients, led by the solution for equal weights, which strong smoothing hardly differs from. */
function gradientSolver(grid: PenalisedGrid): LinearMap {
  const { free, weights } = grid;
  let weight = 0;
  let count = 0;
  for (let at = 0; at < free.length; at++) {
    if (!free[at]) continue;
    weight += weights[at]!;
    count++;
  }
  const alike = alternatingDirections(grid, weight > 0 ? weight / count : stiffest(grid) * 1e-4);
  const precondition: LinearMap = (from, out) => {
    alike(from, out);
    for (let at = 0; at < free.length; at++) if (!free[at]) out[at] = 0;
  };
  const apply: LinearMap = (moves, out) => {
    applyPenalty(grid, moves, out);
    for (let at = 0; at < free.length; at++) out[at] = free[at] ? out[at]! + weights[at]! * moves[at]! : 0;
  };
  // No more steps than a band of all cells would cost: then that is the better way.
  let left = Math.ceil(bandWork(grid) / (free.length * WORK_OF_STEP));
  return (right, out) => {
    const found = conjugateGradients({ apply, precondition, right, tolerance: 3e-5, mostSteps: left });
    if (!found.converged) throw new FuelwrightError("not-settled", "gradientSolver: steps must converge, got too many");
    left -= found.steps;
    out.set(found.x);
  };
}

const WORK_OF_STEP = 200;
