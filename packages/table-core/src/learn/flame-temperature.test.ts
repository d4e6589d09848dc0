import fc from "fast-check";
import { expect, test } from "vitest";
import { createFuel, fuels } from "../fuel/fuel.ts";
import { flameTemperature } from "./flame-temperature.ts";
import { flameSpecies, gasEnthalpy, speciesData } from "./gas-data.ts";

const kelvin = (lambda: number, more: Partial<Parameters<typeof flameTemperature>[0]> = {}) =>
  flameTemperature({ fuel: fuels.petrol, lambda, ...more }).temperatureK;

/** Fuels from alcohols to aromatics, and hydrogen, with plausible enthalpies of formation. */
const flameFuels = fc
  .record({
    carbon: fc.integer({ min: 0, max: 10 }),
    perCarbon: fc.double({ min: 0.9, max: 3.2, noNaN: true }),
    oxygen: fc.integer({ min: 0, max: 1 }),
    formation: fc.double({ min: -25, max: 15, noNaN: true }),
  })
  .map(({ carbon, perCarbon, oxygen, formation }) => ({
    composition: carbon === 0 ? { carbon, hydrogen: 2, oxygen: 0 } : { carbon, hydrogen: carbon * perCarbon, oxygen },
    formationKjPerMol: carbon * formation - 150 * (carbon ? oxygen : 0),
  }));
const conditions = fc.record({
  lambda: fc.double({ min: 0.62, max: 4, noNaN: true }),
  inletTemperatureC: fc.double({ min: -40, max: 600, noNaN: true }),
  pressureKpa: fc.double({ min: 20, max: 8000, noNaN: true }),
});

test("atoms and enthalpy are conserved, for any fuel at any mixture, temperature and pressure", () => {
  fc.assert(
    fc.property(flameFuels, conditions, (fuel, where) => {
      const { temperatureK, moleFractions } = flameTemperature({ fuel, ...where, fuelHeatCapacityKjPerKgK: 0 });
      expect(temperatureK).toBeGreaterThan(where.inletTemperatureC + 273.15 + 300);
      expect(temperatureK).toBeLessThan(3600);
      const sum = flameSpecies.reduce((total, gas) => total + moleFractions[gas], 0);
      expect(sum).toBeCloseTo(1, 12);
      const { carbon, hydrogen, oxygen } = fuel.composition;
      const oxygenMoles = where.lambda * (carbon + hydrogen / 4 - oxygen / 2);
      const atoms = [carbon, hydrogen, oxygen + 2 * oxygenMoles, 7.52 * oxygenMoles];
      const burnt = [0, 1, 2, 3].map((i) =>
        flameSpecies.reduce((total, gas) => total + moleFractions[gas] * speciesData[gas].atoms[i]!, 0),
      );
      // Nitrogen is always there: the moles of burnt gas follow from it.
      const moles = atoms[3]! / burnt[3]!;
      for (const [i, count] of atoms.entries()) expect(burnt[i]! * moles).toBeCloseTo(count, 8);
      const inlet = where.inletTemperatureC + 273.15;
      const before =
        fuel.formationKjPerMol + oxygenMoles * (gasEnthalpy("O2", inlet) + 3.76 * gasEnthalpy("N2", inlet));
      const after =
        moles * flameSpecies.reduce((total, gas) => total + moleFractions[gas] * gasEnthalpy(gas, temperatureK), 0);
      expect(Math.abs(after - before)).toBeLessThan(1e-7 * (Math.abs(before) + 1000 * oxygenMoles));
    }),
    { numRuns: 300 },
  );
});

test.each(["petrol", "E10", "E85", "ethanol", "methanol"] as const)(
  "the flame of %s is hottest slightly rich",
  (name) => {
    const lambdas = Array.from({ length: 141 }, (_, at) => 0.7 + at * 0.005);
    const curve = lambdas.map((lambda) => kelvin(lambda, { fuel: fuels[name] }));
    const hottest = lambdas[curve.indexOf(Math.max(...curve))]!;
    expect(hottest).toBeGreaterThan(0.9);
    expect(hottest).toBeLessThan(1);
    // One hill: rising to it, falling from it.
    const top = curve.indexOf(Math.max(...curve));
    curve.forEach((value, at) => {
      if (at > 0) expect(Math.sign(value - curve[at - 1]!)).toBe(at <= top ? 1 : -1);
    });
  },
);

test("richer or leaner runs cooler; a hotter charge and more pressure run hotter", () => {
  expect(kelvin(0.8)).toBeLessThan(kelvin(0.95));
  expect(kelvin(1.2)).toBeLessThan(kelvin(1));
  expect(kelvin(1, { inletTemperatureC: 125 })).toBeGreaterThan(kelvin(1) + 40);
  // Pressure holds dissociation back.
  expect(kelvin(1, { pressureKpa: 2000 })).toBeGreaterThan(kelvin(1) + 30);
});

test("drops cool the flame by their latent heat, vapour doesn't", () => {
  for (const fuel of [fuels.petrol, fuels.ethanol, fuels.methanol]) {
    const drop = kelvin(1, { fuel }) - kelvin(1, { fuel, fuelState: "liquid" });
    expect(drop).toBeGreaterThan(0);
  }
  const of = (fuel: typeof fuels.petrol) => kelvin(1, { fuel }) - kelvin(1, { fuel, fuelState: "liquid" });
  expect(of(fuels.methanol)).toBeGreaterThan(of(fuels.ethanol));
  expect(of(fuels.ethanol)).toBeGreaterThan(of(fuels.petrol));
});

test("what it can't work out is refused with what to do", () => {
  const poor = createFuel({ name: "unknown", stoichiometricRatio: 14, densityKgPerL: 0.75 });
  expect(() => kelvin(1, { fuel: poor })).toThrow(/fuel.composition must be given/);
  expect(() => kelvin(0.3)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  const aromatic = { composition: { carbon: 7, hydrogen: 1, oxygen: 0 }, formationKjPerMol: 0 };
  expect(() => kelvin(0.46, { fuel: aromatic })).toThrow(expect.objectContaining({ code: "too-rich-to-burn" }));
  expect(() => kelvin(1, { pressureKpa: 0 })).toThrow(/pressureKpa/);
  expect(() => kelvin(1, { fuelState: "foam" as never })).toThrow(expect.objectContaining({ code: "unknown-choice" }));
  const nothing = { composition: { carbon: 1, hydrogen: 0, oxygen: 2 }, formationKjPerMol: -393 };
  expect(() => kelvin(1, { fuel: nothing })).toThrow(expect.objectContaining({ code: "too-rich-to-burn" }));
});
