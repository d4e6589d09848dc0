import fc from "fast-check";
import { expect, test } from "vitest";
import { widebandView } from "./wideband-view.ts";

const step = (count: number, at: number) => Float64Array.from({ length: count }, (_, i) => (i < at ? 1 : 1.2));

test("nothing in the way: the mixture itself", () => {
  const lambda = [1, 0.9, 1.3, 1.1];
  const seen = widebandView({ lambda, stepS: 0.01, delayS: 0, lagS: 0 });
  for (const [at, value] of lambda.entries()) expect(seen[at]).toBeCloseTo(value, 12);
});

test("a step comes later by the delay and is followed to 63 % after the lag", () => {
  const seen = widebandView({ lambda: step(400, 100), stepS: 0.01, delayS: 0.2, lagS: 0.1 });
  expect(seen[119]).toBe(1);
  expect(seen[120]).toBeGreaterThan(1);
  // 0.1 s after the step arrived, on the logarithm.
  expect(Math.log(seen[129]!) / Math.log(1.2)).toBeCloseTo(1 - Math.exp(-1), 9);
  expect(seen[399]).toBeCloseTo(1.2, 9);
});

test("a delay inside a step is exact: the same as with finer steps", () => {
  const coarse = widebandView({ lambda: step(40, 10), stepS: 0.1, delayS: 0.13, lagS: 0.15 });
  const fine = widebandView({ lambda: step(400, 100), stepS: 0.01, delayS: 0.13, lagS: 0.15 });
  for (const [at, value] of coarse.entries()) expect(fine[10 * at + 9]).toBeCloseTo(value, 10);
});

test("never beyond what arrives, nor beyond what the sensor shows", () => {
  const mixtures = fc.array(
    fc.oneof(fc.double({ min: 0.4, max: 3, noNaN: true }), fc.constant(Number.POSITIVE_INFINITY)),
    {
      minLength: 1,
      maxLength: 50,
    },
  );
  const seconds = fc.double({ min: 0, max: 0.5, noNaN: true });
  fc.assert(
    fc.property(mixtures, seconds, seconds, (lambda, delayS, lagS) => {
      const clipped = lambda.map((value) => Math.min(2, Math.max(0.6, value)));
      const seen = widebandView({ lambda, stepS: 0.02, delayS, lagS });
      for (const value of seen) {
        expect(value).toBeGreaterThanOrEqual(Math.min(...clipped) * (1 - 1e-12));
        expect(value).toBeLessThanOrEqual(Math.max(...clipped) * (1 + 1e-12));
      }
    }),
  );
});

test("refuses what no sensor does, naming it", () => {
  const settings = { lambda: [1], stepS: 0.01, delayS: 0.1, lagS: 0.1 };
  expect(() => widebandView({ ...settings, lambda: [1, 0] })).toThrow(/lambda\[1\] must be above 0/);
  expect(() => widebandView({ ...settings, delayS: -1 })).toThrow(/delayS/);
  expect(() => widebandView({ ...settings, stepS: 0 })).toThrow(expect.objectContaining({ code: "not-positive" }));
  expect(() => widebandView({ ...settings, reads: [2, 1] })).toThrow(/reads\[1\]/);
});
