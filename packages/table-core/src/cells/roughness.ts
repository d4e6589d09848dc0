import type { FuelTable } from "../values/fuel-table.ts";

/**
 * How bumpy a table is: the root mean square of its second differences along rpm and along load, in the table's unit.
 *
 * The second difference of three neighbours is 2·f[u₀,u₁,u₂], twice Newton's divided difference, so y₀ − 2y₁ + y₂ on
 * even spacing. It is taken on u = (x − x₀)·(n − 1)/(xₙ₋₁ − x₀), the axis scaled to a mean spacing of 1, so neither the
 * axis's unit nor its extent counts, only how the spacing varies. A plane has roughness 0; an axis of fewer than three
 * breakpoints adds nothing. Smoothing lowers the same differences (Eilers 2003). O(cells).
 *
 * @example roughness(table) // 0.31 ms
 */
export function roughness(table: FuelTable): number {
  return gridRoughness(table.rpm.breakpoints, table.load.breakpoints, table.cells);
}

/** The same for row-major cells [load][rpm] on bare breakpoints. */
export function gridRoughness(rpm: readonly number[], load: readonly number[], cells: Float64Array): number {
  const columns = rpm.length;
  const sums = { squares: 0, count: 0 };
  for (let row = 0; row < load.length; row++) addSquares(sums, rpm, cells, row * columns, 1);
  for (let column = 0; column < columns; column++) addSquares(sums, load, cells, column, columns);
  return sums.count > 0 ? Math.sqrt(sums.squares / sums.count) : 0;
}

function addSquares(
  sums: { squares: number; count: number },
  points: readonly number[],
  cells: Float64Array,
  first: number,
  stride: number,
): void {
  const scale = 2 * meanSpacing(points) ** 2;
  for (let i = 0; i + 2 < points.length; i++) {
    const [x0, x1, x2] = [points[i]!, points[i + 1]!, points[i + 2]!];
    const at = first + i * stride;
    const lower = (cells[at + stride]! - cells[at]!) / (x1 - x0);
    const upper = (cells[at + 2 * stride]! - cells[at + stride]!) / (x2 - x1);
    sums.squares += (((upper - lower) / (x2 - x0)) * scale) ** 2;
    sums.count++;
  }
}

const meanSpacing = (points: readonly number[]) => (points[points.length - 1]! - points[0]!) / (points.length - 1);
