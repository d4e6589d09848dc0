import type { GridSide, SmoothedGrid } from "./grid-penalty.ts";
import { type SymmetricEigen, symmetricEigen } from "./symmetric-eigen.ts";

/**
 * The inverse of weight·1 + roughness on a whole grid, where every cell counts alike: along each side the roughness is
 * diagonal in its own eigenvectors, so four matrix products do it. O(cells · (rows + columns)), after the eigenvectors of
 * both sides have been found once.
 */
export interface EqualWeightGrid {
  /** Eigenvalues of DᵀD along each side, rising; the first two are 0. */
  readonly bendX: Float64Array;
  readonly bendY: Float64Array;
  /** Cells into coefficients, row-major by (bendY, bendX), and back. `out` must not be `cells`. */
  toCoefficients(cells: Float64Array, out: Float64Array): void;
  toCells(coefficients: Float64Array, out: Float64Array): void;
}

export function equalWeightGrid({ x, y }: SmoothedGrid): EqualWeightGrid {
  const alongX = eigenOf(x);
  const alongY = eigenOf(y);
  const columns = x.points.length;
  const rows = y.points.length;
  const turnedX = transpose(alongX.vectors, columns);
  const turnedY = transpose(alongY.vectors, rows);
  const between = new Float64Array(rows * columns);
  return {
    bendX: alongX.values,
    bendY: alongY.values,
    toCoefficients(cells, out) {
      multiply(cells, turnedX, between, rows, columns, columns);
      multiply(alongY.vectors, between, out, rows, rows, columns);
    },
    toCells(coefficients, out) {
      multiply(coefficients, alongX.vectors, between, rows, columns, columns);
      multiply(turnedY, between, out, rows, rows, columns);
    },
  };
}

/** Solves (weight·1 + roughness)·out = right, strengths as the grid has them. */
export function equalWeightSolver(
  grid: SmoothedGrid,
  weight: number,
): (right: Float64Array, out: Float64Array) => void {
  const { bendX, bendY, toCoefficients, toCells } = equalWeightGrid(grid);
  const coefficients = new Float64Array(bendX.length * bendY.length);
  return (right, out) => {
    toCoefficients(right, coefficients);
    let at = 0;
    for (const alongY of bendY)
      for (const alongX of bendX) coefficients[at++]! /= weight + grid.x.strength * alongX + grid.y.strength * alongY;
    toCells(coefficients, out);
  };
}

/** By the numbers themselves: sides are cut and scaled anew for each solution, but seldom differ. */
const known: { readonly differences: Float64Array; readonly eigen: SymmetricEigen }[] = [];
const MOST_KNOWN = 8;

function eigenOf({ points, differences }: GridSide): SymmetricEigen {
  const size = points.length;
  const found = known.findIndex(
    (one) =>
      one.eigen.values.length === size &&
      one.differences.length === differences.length &&
      one.differences.every((value, i) => value === differences[i]),
  );
  if (found >= 0) return known[found]!.eigen;
  const matrix = new Float64Array(size * size);
  for (let k = 0, i = 0; k < differences.length; k += 3, i++)
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++) matrix[(i + a) * size + i + b]! += differences[k + a]! * differences[k + b]!;
  const eigen = symmetricEigen(matrix, size);
  // Constants and lines do not bend: what is left of their eigenvalues is rounding.
  for (let k = 0; k < size; k++) eigen.values[k] = k < 2 ? 0 : Math.max(eigen.values[k]!, 0);
  known.unshift({ differences: differences.slice(), eigen });
  known.length = Math.min(known.length, MOST_KNOWN);
  return eigen;
}

function transpose(matrix: Float64Array, size: number): Float64Array {
  const turned = new Float64Array(size * size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) turned[j * size + i] = matrix[i * size + j]!;
  return turned;
}

/**
 * out = a·b, row-major, `rows` × `inner` times `inner` × `columns`.
 *
 * Four rows of b go into two rows of the result at a time, so that each number read serves more than once.
 */
function multiply(
  a: Float64Array,
  b: Float64Array,
  out: Float64Array,
  rows: number,
  inner: number,
  columns: number,
): void {
  out.fill(0);
  const pairs = rows - (rows % 2);
  const fours = inner - (inner % 4);
  for (let row = 0; row < pairs; row += 2) {
    const to = row * columns;
    const next = to + columns;
    for (let k = 0; k < fours; k += 4) {
      const upper = row * inner + k;
      const lower = upper + inner;
      const u0 = a[upper]!;
      const u1 = a[upper + 1]!;
      const u2 = a[upper + 2]!;
      const u3 = a[upper + 3]!;
      const l0 = a[lower]!;
      const l1 = a[lower + 1]!;
      const l2 = a[lower + 2]!;
      const l3 = a[lower + 3]!;
      const b0 = k * columns;
      const b1 = b0 + columns;
      const b2 = b1 + columns;
      const b3 = b2 + columns;
      for (let j = 0; j < columns; j++) {
        const x0 = b[b0 + j]!;
        const x1 = b[b1 + j]!;
        const x2 = b[b2 + j]!;
        const x3 = b[b3 + j]!;
        out[to + j]! += u0 * x0 + u1 * x1 + u2 * x2 + u3 * x3;
        out[next + j]! += l0 * x0 + l1 * x1 + l2 * x2 + l3 * x3;
      }
    }
  }
  for (let row = 0; row < rows; row++)
    for (let k = row < pairs ? fours : 0; k < inner; k++) {
      const factor = a[row * inner + k]!;
      for (let j = 0; j < columns; j++) out[row * columns + j]! += factor * b[k * columns + j]!;
    }
}
