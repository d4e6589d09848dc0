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

// scipy 1.17.1, interpolate.PchipInterpolator: the same slopes but at the two ends, so only what lies between is compared.
test("between inner points it is the curve of a general-purpose library", () => {
  const curve = monotoneCurve([
    [0, 1],
    [1, 2],
    [3, 4.5],
    [3.5, 9],
    [7, 10],
    [8, 10.5],
  ]);
  for (const [x, y] of [
    [1.25, 2.246785310660219],
    [2, 2.877838519764508],
    [2.75, 3.927573394133726],
    [3.1, 5.121939351932076],
    [3.4, 8.527067752555883],
    [4, 9.297764799432933],
    [5.5, 9.684651468994371],
    [6.9, 9.963465390970734],
  ] as const)
    expect(curve(x)).toBeCloseTo(y, 13);
});

test("where it turns it is flat, and at its ends it goes on as the last two points do", () => {
  const curve = monotoneCurve([
    [0, 0],
    [1, 2],
    [2, 1],
    [4, 1],
    [5, 4],
  ]);
  const slope = (x: number) => (curve(x + 1e-6) - curve(x - 1e-6)) / 2e-6;
  for (const x of [1, 2, 4]) expect(Math.abs(slope(x))).toBeLessThan(1e-4);
  expect((curve(1e-6) - curve(0)) / 1e-6).toBeCloseTo(2, 4);
  expect((curve(5) - curve(5 - 1e-6)) / 1e-6).toBeCloseTo(3, 4);
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
