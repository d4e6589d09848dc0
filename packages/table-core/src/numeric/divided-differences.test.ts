import fc from "fast-check";
import { expect, test } from "vitest";
import { rpmAxes } from "../../testing/arbitraries.ts";
import { dividedDifferences, secondDifferences, unitMeanSpacing } from "./divided-differences.ts";

/** Row i of the differences, applied to f at the points. */
function differencesOf(points: readonly number[], order: number, f: (x: number) => number): number[] {
  const rows = dividedDifferences(points, order);
  return Array.from({ length: Math.max(points.length - order, 0) }, (_, i) => {
    let sum = 0;
    for (let j = 0; j <= order; j++) sum += rows[i * (order + 1) + j]! * f(points[i + j]!);
    return sum;
  });
}

test("on unit spacing they are the usual differences", () => {
  expect([...dividedDifferences([0, 1, 2, 3], 1)]).toEqual([-1, 1, -1, 1, -1, 1]);
  expect([...dividedDifferences([5, 6, 7, 8], 2)]).toEqual([1, -2, 1, 1, -2, 1]);
  expect([...dividedDifferences([0, 1, 2, 3], 3)]).toEqual([-1, 3, -3, 1]);
});

test("axes are scaled to a mean spacing of 1; too few points have no differences", () => {
  expect([...unitMeanSpacing([1000, 1500, 4000])]).toEqual([0, 1 / 3, 2]);
  expect([...unitMeanSpacing([7])]).toEqual([0]);
  expect(secondDifferences([1000, 2000])).toHaveLength(0);
  expect(secondDifferences([7])).toHaveLength(0);
});

test("polynomials of lower degree give nothing, those of the order their derivative", () => {
  fc.assert(
    fc.property(rpmAxes(), fc.integer({ min: 1, max: 3 }), (axis, order) => {
      const points = [...unitMeanSpacing(axis.breakpoints)];
      const factorial = [1, 1, 2, 6][order]!;
      // Neighbours lie as near as 1/40 of the mean: weights up to 40³ on values up to 8³.
      for (let degree = 0; degree < order; degree++)
        for (const value of differencesOf(points, order, (x) => x ** degree))
          expect(Math.abs(value)).toBeLessThan(1e-7);
      for (const value of differencesOf(points, order, (x) => x ** order)) expect(value).toBeCloseTo(factorial, 6);
    }),
    { numRuns: 1000 },
  );
});

test("the unit of the axis does not matter", () => {
  fc.assert(
    fc.property(rpmAxes(), fc.constantFrom(0.145, 1 / 60, 1000), (axis, factor) => {
      const scaled = secondDifferences(axis.breakpoints.map((value) => value * factor));
      secondDifferences(axis.breakpoints).forEach((weight, at) => {
        expect(scaled[at]! / weight).toBeCloseTo(1, 9);
      });
    }),
    { numRuns: 1000 },
  );
});
