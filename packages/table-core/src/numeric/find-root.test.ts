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
