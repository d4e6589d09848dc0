import fc from "fast-check";
import { expect, test } from "vitest";
import { rpmAxes } from "../../testing/arbitraries.ts";
import { alternatingDirections } from "./alternating-directions.ts";
import { applyPenalty, gridSide, type SmoothedGrid } from "./grid-penalty.ts";

const strengths = fc.constantFrom(0, 1e-3, 1, 30, 1e5);

/** Grids with two fields over them. */
const fields = fc
  .tuple(rpmAxes(), rpmAxes(), strengths, strengths, fc.double({ min: 0.01, max: 9, noNaN: true }))
  .chain(([x, y, sx, sy, weight]) => {
    const size = x.breakpoints.length * y.breakpoints.length;
    const field = fc
      .array(fc.integer({ min: -20, max: 20 }), { minLength: size, maxLength: size })
      .map((list) => Float64Array.from(list));
    const grid: SmoothedGrid = { x: gridSide(x.breakpoints, sx), y: gridSide(y.breakpoints, sy) };
    return fc.record({ grid: fc.constant(grid), weight: fc.constant(weight), a: field, b: field });
  });

const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, at) => sum + value * b[at]!, 0);

function system(grid: SmoothedGrid, weight: number, z: Float64Array): Float64Array {
  const out = new Float64Array(z.length);
  applyPenalty(grid, z, out);
  return out.map((value, at) => value + weight * z[at]!);
}

test("where nothing bends it divides by the weight", () => {
  const side = gridSide([1000, 2000, 3000], 0);
  const out = new Float64Array(9);
  alternatingDirections({ x: side, y: side }, 4)(new Float64Array(9).fill(2), out);
  for (const value of out) expect(value).toBeCloseTo(0.5, 14);
});

test("little more than a quarter of any field is left, measured by the energy of what is solved", () => {
  fc.assert(
    fc.property(fields, ({ grid, weight, a }) => {
      const image = system(grid, weight, a);
      const found = new Float64Array(a.length);
      alternatingDirections(grid, weight)(image, found);
      const left = a.map((value, at) => value - found[at]!);
      // Rounding in the stiffest bends, which uneven gaps make large, comes back divided by the weight.
      const rounding = 1e-13 * (dot(image, image) / weight);
      expect(dot(left, system(grid, weight, left))).toBeLessThanOrEqual(0.27 ** 2 * dot(a, image) + rounding);
    }),
    { numRuns: 1000 },
  );
});

test("it is symmetric and positive definite", () => {
  fc.assert(
    fc.property(fields, ({ grid, weight, a, b }) => {
      const solve = alternatingDirections(grid, weight);
      const ofA = new Float64Array(a.length);
      const ofB = new Float64Array(a.length);
      solve(a, ofA);
      solve(b, ofB);
      const reach = Math.sqrt(dot(a, a) * dot(b, b)) / weight;
      expect(Math.abs(dot(b, ofA) - dot(a, ofB))).toBeLessThanOrEqual(1e-11 * reach);
      if (dot(a, a) > 0) expect(dot(a, ofA)).toBeGreaterThan(0);
    }),
    { numRuns: 1000 },
  );
});

test("gaps that differ by twelve magnitudes give numbers all the same", () => {
  const grid = { x: gridSide([0, 2e12, 2e12 + 1], 1e8), y: gridSide([0, 1], 1e8) };
  const out = new Float64Array(6);
  alternatingDirections(grid, 0.01)(Float64Array.of(1, 2, 3, 4, 5, 6), out);
  expect(out.every(Number.isFinite)).toBe(true);
});
