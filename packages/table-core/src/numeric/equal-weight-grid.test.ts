import { expect, test } from "vitest";
import { equalWeightGrid, equalWeightSolver } from "./equal-weight-grid.ts";
import { applyPenalty, gridSide, type SmoothedGrid } from "./grid-penalty.ts";

/** How far weight·z + roughness·z is from what was solved for. */
function leftOver(grid: SmoothedGrid, weight: number): number {
  const size = grid.x.points.length * grid.y.points.length;
  const right = Float64Array.from({ length: size }, (_, at) => Math.sin(at * at));
  const z = new Float64Array(size);
  equalWeightSolver(grid, weight)(right, z);
  const back = new Float64Array(size);
  applyPenalty(grid, z, back);
  return back.reduce((most, value, at) => Math.max(most, Math.abs(value + weight * z[at]! - right[at]!)), 0);
}

test("solves for what it says, on sides that differ a little, in any order", () => {
  // The same length and ends, so that most second differences of one are found in another.
  const sides = [
    [0, 1, 2, 3, 4.5, 6],
    [0, 1, 2, 3, 5, 6],
    [0, 1, 2.5, 3, 4.5, 6],
    [0, 1, 2, 3, 4],
    [0, 1, 2, 3, 4, 5],
    [0, 1, 2, 3, 4, 5, 6],
    [0, 1],
  ];
  for (const round of [0, 1])
    for (const [at, points] of sides.entries()) {
      const other = sides[(at + 2 + round) % sides.length]!;
      const grid = { x: gridSide(points, 3), y: gridSide(other, 0.5) };
      expect(leftOver(grid, 0.7)).toBeLessThan(1e-12);
    }
});

test("constants and lines do not bend, to the last bit; all else does", () => {
  const { bendX, bendY } = equalWeightGrid({ x: gridSide([1, 2, 4, 5, 9], 1), y: gridSide([10, 30], 1) });
  expect([...bendX.subarray(0, 2), ...bendY]).toEqual([0, 0, 0, 0]);
  for (const value of bendX.subarray(2)) expect(value).toBeGreaterThan(0.01);
});

test("cells come back from their coefficients, which keep their length", () => {
  const grid = equalWeightGrid({ x: gridSide([1, 2, 4, 5, 9], 1), y: gridSide([10, 20, 25, 60], 1) });
  const cells = Float64Array.from({ length: 20 }, (_, at) => Math.cos(at * at));
  const [coefficients, back] = [new Float64Array(20), new Float64Array(20)];
  grid.toCoefficients(cells, coefficients);
  grid.toCells(coefficients, back);
  back.forEach((value, at) => {
    expect(value).toBeCloseTo(cells[at]!, 13);
  });
  expect(Math.hypot(...coefficients)).toBeCloseTo(Math.hypot(...cells), 13);
});
