import type { AxisIndex } from "./axis-index.ts";

/** The grid and what stands on it, as the lookups need it: edges of both axes, cells row-major [load][rpm]. */
export interface Surface {
  readonly rpm: AxisIndex;
  readonly load: AxisIndex;
  readonly cells: Float64Array;
}

/** The four coefficients of a cell, each in an array of its own, for one cell or for all. */
export type Coefficients = readonly [Float64Array, Float64Array, Float64Array, Float64Array];

/** How far, as a share of their size, the other corners are drawn inward; and the range below which a cell is flat. */
const INWARD = 2 ** -47;
const TINY = 2 ** -1000;

/**
 * Writes the bilinear surface of one cell as a polynomial: value = p0 + t·p1 + s·(p2 + t·p3), where t and s are the
 * distances in rpm and load from the cell's lower corner.
 *
 * At that corner it is the stored cell exactly. The other three corners are first drawn inward by some sixty units of
 * rounding where they are the cell's extremes: rounding can then never carry a value past the corners' minimum and
 * maximum, and no clamp is needed where millions are looked up. On the last column and row, which begin no cell, the
 * polynomial is flat along that side.
 *
 * @param column, row - numbers of the breakpoints at the lower corner
 * @param out - takes the four coefficients, each at `at`
 */
export function cellPolynomial(surface: Surface, column: number, row: number, out: Coefficients, at: number): void {
  const x = surface.rpm.edges;
  const y = surface.load.edges;
  const { cells } = surface;
  const right = column + 1 < x.length ? 1 : 0;
  const up = row + 1 < y.length ? x.length : 0;
  const from = row * x.length + column;
  const base = cells[from]!;
  let a = cells[from + right]!;
  let b = cells[from + up]!;
  let c = cells[from + up + right]!;
  const least = Math.min(base, a, b, c);
  const most = Math.max(base, a, b, c);
  const inward = Math.max(Math.abs(least), Math.abs(most)) * INWARD + TINY;
  if (most - least > 2 * inward) {
    if (right) a = Math.min(Math.max(a, least + inward), most - inward);
    if (up) b = Math.min(Math.max(b, least + inward), most - inward);
    c = right && up ? Math.min(Math.max(c, least + inward), most - inward) : right ? a : b;
  } else a = b = c = base;
  const width = right ? x[column + 1]! - x[column]! : 1;
  const height = up ? y[row + 1]! - y[row]! : 1;
  out[0][at] = base;
  out[1][at] = finite((a - base) / width);
  out[2][at] = finite((b - base) / height);
  out[3][at] = finite((c - b - (a - base)) / width / height);
}

/** A slope over a gap of the smallest numbers overflows; held at the largest, it still gives 0 at its breakpoint. */
const finite = (slope: number) => Math.min(Math.max(slope, -Number.MAX_VALUE), Number.MAX_VALUE);

const one: Coefficients = [new Float64Array(1), new Float64Array(1), new Float64Array(1), new Float64Array(1)];

/** The surface of the cell that starts at breakpoints `column` and `row`, at a point in or beyond that cell. */
export function evaluateCell(surface: Surface, column: number, row: number, rpm: number, load: number): number {
  cellPolynomial(surface, column, row, one, 0);
  const t = rpm - surface.rpm.edges[column]!;
  const s = load - surface.load.edges[row]!;
  return one[0][0]! + t * one[1][0]! + s * (one[2][0]! + t * one[3][0]!);
}
