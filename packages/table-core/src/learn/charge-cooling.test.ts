import fc from "fast-check";
import { expect, test } from "vitest";
import { createFuel, fuels } from "../fuel/fuel.ts";
import { chargeCooling } from "./charge-cooling.ts";

test("on paper: petrol at lambda 1", () => {
  const { dropK, heatKjPerKgAir, chargeTemperatureC } = chargeCooling({ fuel: fuels.petrol, lambda: 1 });
  const ratio = fuels.petrol.stoichiometricRatio;
  expect(heatKjPerKgAir).toBeCloseTo(350 / ratio, 10);
  expect(dropK).toBeCloseTo(350 / (ratio * 1.005 + 2), 10);
  expect(chargeTemperatureC).toBeCloseTo(25 - dropK, 10);
  expect(dropK).toBeGreaterThan(20);
  expect(dropK).toBeLessThan(22);
});

test("alcohols cool more: ethanol about four times petrol, methanol more still", () => {
  const drop = (fuel: (typeof fuels)[keyof typeof fuels]) => chargeCooling({ fuel, lambda: 1 }).dropK;
  expect(drop(fuels.ethanol) / drop(fuels.petrol)).toBeGreaterThan(3.5);
  expect(drop(fuels.methanol)).toBeGreaterThan(drop(fuels.ethanol));
});

const cases = fc.record({
  latent: fc.double({ min: 100, max: 1500, noNaN: true }),
  ratio: fc.double({ min: 5, max: 16, noNaN: true }),
  lambda: fc.double({ min: 0.6, max: 1.6, noNaN: true }),
  airTemperatureC: fc.double({ min: -30, max: 80, noNaN: true }),
  evaporatedShare: fc.double({ min: 0.05, max: 1, noNaN: true }),
});
const of = (latent: number, ratio: number) =>
  createFuel({ name: "invented", stoichiometricRatio: ratio, densityKgPerL: 0.75, latentHeatKjPerKg: latent });

test("cooling rises with latent heat, with the share that evaporates, and with more fuel", () => {
  fc.assert(
    fc.property(cases, ({ latent, ratio, ...rest }) => {
      const fuel = of(latent, ratio);
      const { dropK, denserPercent } = chargeCooling({ fuel, ...rest });
      expect(dropK).toBeGreaterThan(0);
      expect(denserPercent).toBeGreaterThan(0);
      expect(chargeCooling({ fuel: of(latent * 1.01, ratio), ...rest }).dropK).toBeGreaterThan(dropK);
      expect(chargeCooling({ fuel, ...rest, lambda: rest.lambda * 0.99 }).dropK).toBeGreaterThan(dropK);
      expect(chargeCooling({ fuel, ...rest, evaporatedShare: rest.evaporatedShare * 0.9 }).dropK).toBeLessThan(dropK);
    }),
  );
});

test("heat is conserved: what the fuel takes is what air and fuel lose", () => {
  fc.assert(
    fc.property(cases, ({ latent, ratio, ...rest }) => {
      const { dropK } = chargeCooling({ fuel: of(latent, ratio), ...rest });
      const air = ratio * rest.lambda;
      expect((air * 1.005 + 2) * dropK).toBeCloseTo(rest.evaporatedShare * latent, 8);
    }),
  );
});

test("nothing evaporates, nothing cools; a fuel without its latent heat is refused", () => {
  expect(chargeCooling({ fuel: fuels.petrol, lambda: 1, evaporatedShare: 0 }).dropK).toBe(0);
  const unknown = createFuel({ name: "unknown", stoichiometricRatio: 14, densityKgPerL: 0.75 });
  expect(() => chargeCooling({ fuel: unknown, lambda: 1 })).toThrow(
    expect.objectContaining({ code: "fuel-heat-missing" }),
  );
  expect(() => chargeCooling({ fuel: fuels.petrol, lambda: 0 })).toThrow(/lambda must be above 0/);
  expect(() => chargeCooling({ fuel: fuels.petrol, lambda: 1, evaporatedShare: 1.1 })).toThrow(/evaporatedShare/);
});
