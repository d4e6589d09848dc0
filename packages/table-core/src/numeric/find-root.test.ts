import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findRoot } from "./find-root.ts";

describe("findRoot", () => {
  test("finds roots that are known", () => {
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 14);
    expect(findRoot((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 14);
    expect(findRoot((x) => 5 - x, 0, 9)).toBe(5);
    // As steep as an orifice near no flow.
    expect(findRoot((x) => Math.sqrt(1 - x) - 1e-4, 0, 1)).toBeCloseTo(1 - 1e-8, 14);
  });

  test("an end that is a root is returned; without a change of sign the nearer end", () => {
    expect(findRoot((x) => x, 0, 3)).toBe(0);
    expect(findRoot((x) => x - 3, 0, 3)).toBe(3);
    expect(findRoot((x) => x + 1, 0, 3)).toBe(0);
    expect(findRoot((x) => x - 5, 0, 3)).toBe(3);
    expect(findRoot((x) => 5 - x, 0, 3)).toBe(3);
    let calls = 0;
    const f = (x: number) => {
      calls++;
      return x - 3;
    };
    expect([findRoot(f, 3, 7), calls, findRoot(f, 0, 3), calls]).toEqual([3, 2, 3, 4]);
  });

  // Functions of kinds as in the paper's own comparison; the counts are this code's, so that none is lost unnoticed. By
  // halving alone each would take 37.
  test.each<[string, (x: number) => number, number, number]>([
    ["x·eˣ − 1", (x) => x * Math.exp(x) - 1, 10, 0.5671432904097838],
    ["tan(x − 1/10)", (x) => Math.tan(x - 0.1), 10, 0.1],
    ["sin x + 1/2", (x) => Math.sin(x) + 0.5, 10, -Math.PI / 6],
    ["4x⁵ + x² + 1", (x) => 4 * x ** 5 + x * x + 1, 18, -0.8439145686],
    ["x + x¹⁰ − 1", (x) => x + x ** 10 - 1, 15, 0.8350790427],
    ["πˣ − e", (x) => Math.PI ** x - Math.E, 10, 1 / Math.log(Math.PI)],
    ["ln |x − 10/9|", (x) => Math.log(Math.abs(x - 10 / 9)), 9, 1 / 9],
    ["a root where the slope has no bound", (x) => 1 / 3 + Math.cbrt(x) + x ** 3, 19, -0.0370201277],
    ["the same, falling", (x) => -1 / 3 - Math.cbrt(x) - x ** 3, 19, -0.0370201277],
    ["a pole just outside", (x) => (x + 2 / 3) / (x + 1.01), 39, -2 / 3],
    ["a cube, flat at its root", (x) => (1e6 * x - 1) ** 3, 39, 1e-6],
    ["a step", (x) => (x < 0.123456 ? -1 : 1), 37, 0.123456],
  ])("%s is found to the tolerance, in few calls where it is smooth", (_, f, most, root) => {
    let calls = 0;
    const counted = (x: number) => {
      calls++;
      return f(x);
    };
    expect(Math.abs(findRoot(counted, -1, 1, 1e-10) - root)).toBeLessThan(1e-10);
    expect(calls).toBeLessThanOrEqual(most);
  });

  test("is never worse than halving by more than two calls, however the function jumps", () => {
    const place = fc.double({ min: 0.001, max: 0.999, noNaN: true });
    const size = fc.double({ min: 1e-9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(place, size, size, fc.integer({ min: 1, max: 40 }), (root, below, above, bits) => {
        let calls = 0;
        const f = (x: number) => {
          calls++;
          return x < root ? -below : above;
        };
        expect(Math.abs(findRoot(f, 0, 1, 2 ** -bits) - root)).toBeLessThanOrEqual(2 ** -bits / 2);
        expect(calls).toBeLessThanOrEqual(2 + bits + 2);
      }),
    );
  });

  test("as narrow as the numbers allow means their own spacing, however large or small they are", () => {
    for (const scale of [1e-12, 1, 3e12])
      for (const sign of [1, -1]) {
        const [low, high] = [0.1 * sign * scale, 1.9 * sign * scale].sort((a, b) => a - b) as [number, number];
        let calls = 0;
        const found = findRoot(
          (x) => {
            calls++;
            return (x / scale) ** 3 - sign * 1.7;
          },
          low,
          high,
        );
        expect(found / (sign * scale * Math.cbrt(1.7))).toBeCloseTo(1, 14);
        expect(calls).toBeLessThan(20);
      }
  });

  test("finds any root of a rising power in few steps", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), fc.integer({ min: 1, max: 9 }), (root, power) => {
        let calls = 0;
        const f = (x: number) => {
          calls++;
          return x ** power - root ** power;
        };
        // A ninth power is flat near 0: its values there agree to rounding.
        expect(Math.abs(findRoot(f, 0, 1) ** power - root ** power)).toBeLessThan(1e-14);
        expect(calls).toBeLessThan(70);
      }),
    );
  });
});
