import fc from "fast-check";
import { expect, test } from "vitest";
import { type CurvePoint, monotoneCurve } from "./monotone-curve.ts";

const curves = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: -50, max: 50 })), { minLength: 2, maxLength: 9 })
  .map((steps) => {
    let x = 0;
    return steps.map(([dx, y]): CurvePoint => [(x += dx), y]);
  });

test("goes through its points and is held outside", () => {
  fc.assert(
    fc.property(curves, (points) => {
      const curve = monotoneCurve(points);
      for (const [x, y] of points) expect(curve(x)).toBeCloseTo(y, 9);
      expect(curve(points[0]![0] - 5)).toBe(points[0]![1]);
      expect(curve(points.at(-1)![0] + 5)).toBe(points.at(-1)![1]);
    }),
  );
});

test("stays between neighbouring points", () => {
  fc.assert(
    fc.property(curves, fc.double({ min: 0, max: 1, noNaN: true }), (points, share) => {
      const curve = monotoneCurve(points);
      for (let at = 0; at + 1 < points.length; at++) {
        const [x0, y0] = points[at]!;
        const [x1, y1] = points[at + 1]!;
        const y = curve(x0 + share * (x1 - x0));
        expect(y).toBeGreaterThanOrEqual(Math.min(y0, y1) - 1e-9);
        expect(y).toBeLessThanOrEqual(Math.max(y0, y1) + 1e-9);
      }
    }),
  );
});

test("a straight line stays straight", () => {
  const curve = monotoneCurve([
    [0, 1],
    [2, 5],
    [3, 7],
    [10, 21],
  ]);
  for (const x of [0.3, 2.5, 7]) expect(curve(x)).toBeCloseTo(1 + 2 * x, 12);
});
