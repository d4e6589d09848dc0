import { secondDifferences } from "../numeric/divided-differences.ts";
import type { FuelTable } from "../values/fuel-table.ts";

/**
 * How bumpy a table is: the root mean square of its second differences along rpm and along load, in the table's unit.
 *
 * They are the differences that smoothing lowers: 2·f[u₀,u₁,u₂], twice Newton's divided difference, so y₀ − 2y₁ + y₂ on
 * even spacing, on the axis scaled to a mean spacing of 1. So neither the axis's unit nor its extent counts, only how the
 * spacing varies. A plane has roughness 0; an axis of fewer than three breakpoints adds nothing. O(cells).
 *
 * @example roughness(table) // 0.31 ms
 */
export function roughness(table: FuelTable): number {
  return gridRoughness(table.rpm.breakpoints, table.load.breakpoints, table.cells);
}

/** The same for row-major cells [load][rpm] on bare breakpoints. */
export function gridRoughness(rpm: readonly number[], load: readonly number[], cells: Float64Array): number {
  const [columns, rows] = [rpm.length, load.length];
  let squares = 0;
  let count = 0;
  const add = (weights: Float64Array, lines: number, stride: number, lineStride: number) => {
    for (let line = 0; line < lines; line++)
      for (let i = 0; i < weights.length; i += 3) {
        const at = line * lineStride + (i / 3) * stride;
        const difference =
          weights[i]! * cells[at]! + weights[i + 1]! * cells[at + stride]! + weights[i + 2]! * cells[at + 2 * stride]!;
        squares += difference ** 2;
        count++;
      }
  };
  add(secondDifferences(rpm), rows, 1, columns);
  add(secondDifferences(load), columns, columns, 1);
  return count > 0 ? Math.sqrt(squares / count) : 0;
}
