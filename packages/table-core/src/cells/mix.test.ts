import fc from "fast-check";
import { expect, test } from "vitest";
import { mix } from "./mix.ts";

const cells = fc.double({ noNaN: true, noDefaultInfinity: true });
const weights = fc.double({ min: 0, max: 1, noNaN: true });

test("mix is exact at both ends and halfway", () => {
  expect(mix(0.1, 0.3, 0)).toBe(0.1);
  expect(mix(0.1, 0.3, 1)).toBe(0.3);
  expect(mix(2, 6, 0.25)).toBe(3);
  expect(Object.is(mix(-0, 5, 0), -0)).toBe(true);
});

test("swapping the two and taking the rest of the weight gives the same bits", () => {
  fc.assert(
    fc.property(cells, cells, weights, (a, b, w) => Object.is(mix(a, b, w) + 0, mix(b, a, 1 - w) + 0)),
    { numRuns: 5000 },
  );
});

test("a mix lies between the two, and mixing equals gives them back", () => {
  fc.assert(
    fc.property(cells, cells, weights, (a, b, w) => {
      const mixed = mix(a, b, w);
      expect(mixed).toBeGreaterThanOrEqual(Math.min(a, b));
      expect(mixed).toBeLessThanOrEqual(Math.max(a, b));
      expect(mix(a, a, w)).toBe(a);
    }),
    { numRuns: 2000 },
  );
});

test("the weight is kept to within 2^-54", () => {
  fc.assert(
    // mix(0, 1, w) is the weight that b really gets.
    fc.property(weights, (w) => Math.abs(mix(0, 1, w) - w) <= 2 ** -54),
    { numRuns: 2000 },
  );
});
