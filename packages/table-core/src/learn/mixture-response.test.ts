import fc from "fast-check";
import { expect, test } from "vitest";
import { mixtureOptima, mixtureResponse, mixtureResponseRange } from "./mixture-response.ts";

const [low, high] = mixtureResponseRange;
const lambdas = fc.double({ min: low, max: high, noNaN: true });

test("most power rich of lambda 1, least consumption lean of it", () => {
  expect(mixtureOptima.power).toBeGreaterThan(0.84);
  expect(mixtureOptima.power).toBeLessThan(0.92);
  expect(mixtureOptima.consumption).toBeGreaterThan(1.05);
  expect(mixtureOptima.consumption).toBeLessThan(1.18);
  expect(mixtureResponse(mixtureOptima.power).powerPercent).toBe(100);
  expect(mixtureResponse(mixtureOptima.consumption).consumptionPercent).toBe(100);
});

test("no other mixture is better than the best", () => {
  fc.assert(
    fc.property(lambdas, (lambda) => {
      const { powerPercent, consumptionPercent } = mixtureResponse(lambda);
      expect(powerPercent).toBeLessThanOrEqual(100);
      expect(powerPercent).toBeGreaterThan(60);
      expect(consumptionPercent).toBeGreaterThanOrEqual(100 - 1e-9);
    }),
  );
});

test("power times consumption is the fuel burnt: 1/lambda, but for one constant", () => {
  const constant = (lambda: number) => {
    const { powerPercent, consumptionPercent } = mixtureResponse(lambda);
    return powerPercent * consumptionPercent * lambda;
  };
  fc.assert(
    fc.property(lambdas, (lambda) => {
      expect(constant(lambda) / constant(1)).toBeCloseTo(1, 12);
    }),
  );
});

test("beyond the curve nothing is said", () => {
  expect(() => mixtureResponse(0.5)).toThrow(/between 0.65 and 1.3/);
  expect(() => mixtureResponse(1.4)).toThrow(expect.objectContaining({ code: "out-of-range" }));
});
