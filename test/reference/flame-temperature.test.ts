import { blendFuel, flameFuel, flameTemperature, fuels } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./flame-temperature.json";
import nasa7 from "./nasa7.json";

// Sources: equilibrium computed in Python with the GRI-Mech 3.0 polynomials of nasa7.json; NASA CEA2 through RocketCEA 1.1.18
// with its full product set and nine-coefficient data; S. R. Turns, An Introduction to Combustion, table B.1 (from memory,
// unverified). Tolerances of the file: 1 K, 5 K and 10 K.

const flameOf = (c: (typeof reference.cases)[number]) =>
  flameTemperature({
    fuel: {
      composition: { carbon: c.elements.C, hydrogen: c.elements.H, oxygen: c.elements.O },
      formationKjPerMol: c.hf_kJ_mol,
    },
    lambda: 1 / c.phi,
    inletTemperatureC: reference.inletTemperature_K - 273.15,
    pressureKpa: reference.pressure_Pa / 1000,
  });

const named = reference.cases.map((c) => [c.fuel, c.fuelState, c.phi, c] as const);

test("there are cases of seven fuels, vapour and liquid", () => {
  expect(named).toHaveLength(156);
  expect(new Set(reference.cases.map(({ fuel }) => fuel)).size).toBe(7);
});

describe("flame temperature of", () => {
  test.each(named)("%s (%s) at equivalence ratio %s", (_fuel, _state, _phi, c) => {
    const flame = flameOf(c);
    // The same polynomials and the same equations: only rounding of the recorded figures is left.
    expect(Math.abs(flame.temperatureK - c.T_K)).toBeLessThan(0.05);
    expect(Math.abs(flame.temperatureK - c.T_K_CEA)).toBeLessThan(5);
    if ("T_K_table" in c) expect(Math.abs(flame.temperatureK - c.T_K_table!)).toBeLessThan(10);
    for (const [gas, share] of Object.entries(c.moleFractions)) {
      const got = flame.moleFractions[gas as keyof typeof flame.moleFractions];
      expect(Math.abs(got - share), gas).toBeLessThan(Math.max(2e-4 * share, 2e-7));
    }
  });
});

test("three published values are among the cases, within 10 K", () => {
  const tabled = reference.cases.filter((c) => "T_K_table" in c);
  expect(tabled).toHaveLength(3);
  for (const c of tabled) expect(Math.abs(flameOf(c).temperatureK - c.T_K_table!)).toBeLessThan(10);
});

// Enthalpies of formation: NASA/TP-2002-211556, in the same file. Ours follow from heating value and latent heat at 298 K.
test.each([
  ["ethanol", "gas"],
  ["ethanol", "liquid"],
  ["methanol", "gas"],
  ["methanol", "liquid"],
] as const)("enthalpy of formation of %s (%s) follows from its heats", (name, state) => {
  const c = reference.cases.find(({ fuel, fuelState }) => fuel === name && fuelState === state)!;
  const found = flameFuel(fuels[name], state === "gas" ? "vapour" : "liquid").formationKjPerMol;
  expect(Math.abs(found - c.hf_kJ_mol)).toBeLessThan(0.02);
});

test("petrol, from its nominal heating value, burns near the reference's surrogate", () => {
  // 44.0 MJ/kg nominal (Cengel & Boles, A-27) against 43.2 of the surrogate: a pump fuel lies between.
  for (const c of reference.cases.filter(
    ({ fuel, fuelState }) => fuel === "gasoline surrogate" && fuelState === "gas",
  )) {
    const difference = flameTemperature({ fuel: fuels.petrol, lambda: 1 / c.phi }).temperatureK - c.T_K;
    expect(difference).toBeGreaterThan(0);
    expect(difference).toBeLessThan(55);
  }
  const mixed = flameTemperature({ fuel: blendFuel({ ethanolVolumePercent: 50 }), lambda: 1 }).temperatureK;
  expect(mixed).toBeLessThan(flameTemperature({ fuel: fuels.petrol, lambda: 1 }).temperatureK);
  expect(mixed).toBeGreaterThan(flameTemperature({ fuel: fuels.ethanol, lambda: 1 }).temperatureK);
});

// Fuel vapour: McBride, Gordon & Reno, NASA TM-4513 (1993), as recorded in nasa7.json.
test.each([
  ["n-octane", { carbon: 8, hydrogen: 18, oxygen: 0 }],
  ["iso-octane", { carbon: 8, hydrogen: 18, oxygen: 0 }],
  ["ethanol", { carbon: 2, hydrogen: 6, oxygen: 1 }],
  ["methanol", { carbon: 1, hydrogen: 4, oxygen: 1 }],
  ["toluene", { carbon: 7, hydrogen: 8, oxygen: 0 }],
] as const)("a hot charge of %s: a constant heat capacity is within 6 K of its polynomial", (name, composition) => {
  const a = nasa7.cases.find(({ species }) => species === name)!.low;
  const enthalpy = (t: number) =>
    (8.314462618 / 1000) *
    (a[0]! * t + (a[1]! * t ** 2) / 2 + (a[2]! * t ** 3) / 3 + (a[3]! * t ** 4) / 4 + (a[4]! * t ** 5) / 5 + a[5]!);
  const settings = { lambda: 1, inletTemperatureC: 226.85, pressureKpa: 1000 };
  const exact = flameTemperature({
    ...settings,
    fuel: { composition, formationKjPerMol: enthalpy(500) },
    fuelHeatCapacityKjPerKgK: 0,
  });
  const taken = flameTemperature({ ...settings, fuel: { composition, formationKjPerMol: enthalpy(298.15) } });
  expect(Math.abs(exact.temperatureK - taken.temperatureK)).toBeLessThan(6);
});
