import { describe, expect, test } from "vitest";
import { FuelwrightError } from "../values/errors.ts";
import { blendFuel, createFuel, type FuelSpec, fuels } from "./fuel.ts";
import { createRail, injectionPressure } from "./rail.ts";
import { readMixture, sayMixture } from "./say-mixture.ts";
import { stoichiometricRatio } from "./stoichiometric-ratio.ts";

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return error.code;
    throw error;
  }
  return "nothing thrown";
}

describe("fuels", () => {
  test("a composition is enough, whatever its multiple", () => {
    const spec = { name: "invented", densityKgPerL: 0.7, composition: { carbon: 8, hydrogen: 18, oxygen: 0 } };
    expect(createFuel(spec).stoichiometricRatio).toBeCloseTo(15.130847, 5);
    expect(stoichiometricRatio({ carbon: 4, hydrogen: 9, oxygen: 0 })).toBeCloseTo(15.130847, 5);
  });

  test("a fuel is plain data and its own spec", () => {
    for (const fuel of Object.values(fuels)) {
      expect(createFuel(JSON.parse(JSON.stringify(fuel)))).toEqual(fuel);
      expect(Object.isFrozen(fuel)).toBe(true);
    }
  });

  test("a blend of nothing is its base, and of everything what was added", () => {
    expect(blendFuel({ ethanolVolumePercent: 0 }).stoichiometricRatio).toBe(fuels.petrol.stoichiometricRatio);
    expect(blendFuel({ ethanolMassPercent: 100 }).densityKgPerL).toBeCloseTo(fuels.ethanol.densityKgPerL, 12);
    expect(blendFuel({ ethanolVolumePercent: 10 }).name).toBe("E10");
    // A base without heats gives a blend without heats.
    const bare = createFuel({ name: "bare", stoichiometricRatio: 14.7, densityKgPerL: 0.75 });
    expect(blendFuel({ ethanolVolumePercent: 10 }, { base: bare }).lowerHeatingValueMjPerKg).toBeUndefined();
  });

  test.each<[string, Partial<FuelSpec>, string]>([
    ["no ratio and no composition", {}, "fuel-ratio-missing"],
    ["density in kg/m³", { stoichiometricRatio: 14.7, densityKgPerL: 745 }, "implausible"],
    ["heating value in kJ/kg", { stoichiometricRatio: 14.7, lowerHeatingValueMjPerKg: 44_000 }, "implausible"],
    ["a ratio of an air fuel meter off its scale", { stoichiometricRatio: 147 }, "out-of-range"],
    ["a composition that needs no air", { composition: { carbon: 1, hydrogen: 0, oxygen: 3 } }, "bad-composition"],
    ["a negative share", { composition: { carbon: -1, hydrogen: 4, oxygen: 0 } }, "bad-composition"],
  ])("%s is refused", (_, part, code) => {
    expect(codeOf(() => createFuel({ name: "invented", densityKgPerL: 0.75, ...part }))).toBe(code);
  });

  test("a share beyond the whole is refused", () => {
    expect(codeOf(() => blendFuel({ ethanolVolumePercent: 101 }))).toBe("out-of-range");
  });
});

describe("mixtures", () => {
  test("lambda 0.88 of petrol is 12.85 to 1, or 1.136 by equivalence", () => {
    expect(sayMixture(0.88, "afr", fuels.petrol)).toBeCloseTo(12.85, 2);
    expect(sayMixture(0.88, "equivalence", fuels.petrol)).toBeCloseTo(1.1364, 4);
    expect(sayMixture(0.88, "lambda", fuels.petrol)).toBe(0.88);
  });

  test("what is said can be read back", () => {
    for (const scale of ["lambda", "afr", "equivalence"] as const)
      for (const fuel of Object.values(fuels))
        for (const lambda of [0.7, 0.88, 1, 1.15])
          expect(readMixture(sayMixture(lambda, scale, fuel), scale, fuel)).toBeCloseTo(lambda, 14);
  });

  test("nothing and unknown scales are refused", () => {
    expect(codeOf(() => readMixture(0, "afr", fuels.petrol))).toBe("not-positive");
    expect(codeOf(() => sayMixture(1, "phi" as "afr", fuels.petrol))).toBe("unknown-choice");
  });
});

describe("rails", () => {
  const air = { manifoldKpa: 40, barometricKpa: 101 };

  test("a manifold-referenced rail is always the same across, a fixed one more at low manifold pressure", () => {
    expect(injectionPressure({ kind: "manifold-referenced", pressureKpa: 300 }, air)).toBe(300);
    expect(injectionPressure({ kind: "fixed", pressureKpa: 300 }, air)).toBe(361);
  });

  test("no pressure left is refused with its figures", () => {
    expect(() =>
      injectionPressure({ kind: "fixed", pressureKpa: 60 }, { manifoldKpa: 161, barometricKpa: 101 }),
    ).toThrow("must be above 0 kPa, got 0 (rail 60 kPa, outside 101 kPa, manifold 161 kPa); raise the rail pressure");
  });

  test("unit mix-ups and unknown kinds are refused", () => {
    expect(() => createRail({ kind: "fixed", pressureKpa: 43.5 })).toThrow("did you mean 43.5 psi (299.9 kPa)?");
    expect(codeOf(() => createRail({ kind: "fixed", pressureKpa: 0 }))).toBe("not-positive");
    expect(codeOf(() => createRail({ kind: "loose" as "fixed", pressureKpa: 300 }))).toBe("unknown-choice");
    expect(codeOf(() => createRail(null as never))).toBe("bad-rail");
  });
});
