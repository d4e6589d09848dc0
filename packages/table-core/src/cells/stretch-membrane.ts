import { factorBand } from "../numeric/banded-cholesky.ts";
import { unitMeanSpacing } from "../numeric/divided-differences.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireRim } from "./fill-rim.ts";

/**
 * The cells with those inside hung as a membrane from the others: ∇²z = 0 on axes scaled to a mean spacing of 1, and no
 * slope across an edge of the table.
 *
 * Taken by finite volumes: what flows from a cell to its neighbour is their difference over their distance, times the
 * width of the side they share; in every cell inside, it adds up to nothing. That gives planes as planes on any spacing,
 * and never passes the lowest and highest cell of the rim.
 *
 * @throws FuelwrightError `fill-no-rim`
 * @see Versteeg & Malalasekera, An Introduction to Computational Fluid Dynamics (2nd ed. 2007), chapter 4 (the method)
 */
export function stretchMembrane(table: FuelTable, inside: ArrayLike<number>): Float64Array {
  const cells = table.cells.slice();
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const x = spacing(table.rpm.breakpoints);
  const y = spacing(table.load.breakpoints);
  const byColumn = rows < columns;
  const number = new Int32Array(cells.length).fill(-1);
  const order: number[] = [];
  for (let k = 0; k < cells.length; k++) {
    const at = byColumn ? (k % rows) * columns + Math.floor(k / rows) : k;
    if (inside[at]) number[at] = order.push(at) - 1;
  }
  const groups = requireRim(table, inside);
  /** Each neighbour of a cell, with how well it conducts. */
  const eachNeighbour = (at: number, take: (other: number, conductance: number) => void) => {
    const column = at % columns;
    const row = Math.floor(at / columns);
    if (column > 0) take(at - 1, y.widths[row]! / x.gaps[column - 1]!);
    if (column + 1 < columns) take(at + 1, y.widths[row]! / x.gaps[column]!);
    if (row > 0) take(at - columns, x.widths[column]! / y.gaps[row - 1]!);
    if (row + 1 < rows) take(at + columns, x.widths[column]! / y.gaps[row]!);
  };
  let band = 0;
  for (const at of order)
    eachNeighbour(at, (other) => {
      if (number[other]! >= 0) band = Math.max(band, number[at]! - number[other]!);
    });
  const values = new Float64Array(order.length * (band + 1));
  const right = new Float64Array(order.length);
  // Solved for the rise over the lowest rim of the group: where all of it is level, nothing is left to rounding.
  order.forEach((at, i) => {
    eachNeighbour(at, (other, conductance) => {
      values[i * band + i + band]! += conductance;
      const j = number[other]!;
      if (j < 0) right[i]! += conductance * (cells[other]! - groups[at]!.low);
      else if (j < i) values[i * band + j + band]! -= conductance;
    });
  });
  factorBand({ band, values }).solve(right, right);
  order.forEach((at, i) => {
    const { low, high } = groups[at]!;
    cells[at] = Math.min(Math.max(low + right[i]!, low), high);
  });
  return cells;
}

/** Gaps between points, and how much of the axis lies nearest to each; of a single point, all of it. */
function spacing(breakpoints: readonly number[]) {
  const points = unitMeanSpacing(breakpoints);
  const gaps = Float64Array.from({ length: points.length - 1 }, (_, i) => points[i + 1]! - points[i]!);
  const widths = Float64Array.from(points, (_, i) =>
    points.length === 1 ? 1 : ((gaps[i - 1] ?? 0) + (gaps[i] ?? 0)) / 2,
  );
  return { gaps, widths };
}
