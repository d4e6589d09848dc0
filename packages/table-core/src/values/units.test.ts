import { unit as peer } from "mathjs";
import { describe, expect, test } from "vitest";
import { FuelwrightError } from "./errors.ts";
import { canonicalUnit, convertUnit, dimensionOf, knownUnits } from "./units.ts";

function expectClose(value: number, expected: number, relative = 1e-12): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

describe("against the units of a general-purpose library", () => {
  /** The same units as mathjs spells them; its own psi is rounded in the eleventh figure, pounds and inches are not. */
  const pairs: [own: string, peers: string][] = [
    ["kPa", "kPa"],
    ["bar", "bar"],
    ["hPa", "hPa"],
    ["mbar", "mbar"],
    ["MPa", "MPa"],
    ["psi", "lbf/in^2"],
    ["atm", "atm"],
    ["g/s", "g/s"],
    ["g/min", "g/minute"],
    ["kg/h", "kg/hour"],
    ["kg/min", "kg/minute"],
    ["lb/h", "lb/hour"],
    ["lb/min", "lb/minute"],
    ["kg/s", "kg/s"],
    ["cc/min", "cc/minute"],
    ["mL/min", "mL/minute"],
    ["L/h", "L/hour"],
    ["L/min", "L/minute"],
    ["L/s", "L/s"],
    ["m3/h", "m^3/hour"],
    ["m3/s", "m^3/s"],
    ["ft3/min", "ft^3/minute"],
    ["ms", "ms"],
    ["us", "us"],
    ["s", "s"],
    ["mg", "mg"],
    ["g", "g"],
    ["kg", "kg"],
    ["lb", "lb"],
    ["cc", "cc"],
    ["mL", "mL"],
    ["L", "L"],
    ["cu in", "in^3"],
    ["m3", "m^3"],
    ["ft3", "ft^3"],
    ["mm", "mm"],
    ["cm", "cm"],
    ["m", "m"],
    ["in", "in"],
    ["ft", "ft"],
    ["mm2", "mm^2"],
    ["cm2", "cm^2"],
    ["in2", "in^2"],
    ["kW", "kW"],
    ["W", "W"],
    ["hp", "ft lbf/s"],
    ["N m", "N m"],
    ["lbf ft", "lbf ft"],
    ["kJ/kg", "kJ/kg"],
    ["MJ/kg", "MJ/kg"],
    ["g/kWh", "g/(kW hour)"],
    ["kg/L", "kg/L"],
    ["g/cc", "g/cc"],
    ["kg/m3", "kg/m^3"],
    ["lb/ft3", "lb/ft^3"],
  ];

  test("each unit is the same as there, to 1e-12", () => {
    for (const [own, name] of pairs)
      for (const [other, otherName] of pairs) {
        if (dimensionOf(own) !== dimensionOf(other)) continue;
        const scale = (unitName: string) => (unitName === "ft lbf/s" ? 550 : 1);
        const expected = (peer(scale(name), name).to(otherName).toNumber(otherName) as number) / scale(otherName);
        expectClose(convertUnit(1, own, other), expected);
      }
  });

  test("the units it lacks or rounds are known by their definition", () => {
    // mathjs holds mercury to six figures, its horsepower to ten and its gallon and Btu rounded; the exact ratios are checked above.
    const other = ["inHg", "mmHg", "inH2O", "PS", "kgf m", "Btu/lb", "lb/(hp h)", "gal", "gal/h"];
    const plain = ["rpm", "%", "fraction", "lambda", "factor", "V", "Pa", "°C", "K", "°F", "°R"];
    const listed = new Set([...pairs.map(([own]) => own), ...other, ...plain]);
    expect(knownUnits().filter((name) => !listed.has(name))).toEqual([]);
    // A column of 27.68 inches of water is a psi; 10 m of it are 98.0665 kPa.
    expectClose(convertUnit(10_000 / 25.4, "inH2O", "kPa"), 98.0665);
    expectClose(convertUnit(1, "kgf m", "N m"), 9.80665);
    expectClose(convertUnit(29.92125, "inHg", "mmHg"), 29.92125 * 25.4);
  });

  test("temperatures agree", () => {
    for (const [own, name] of [
      ["°C", "degC"],
      ["K", "K"],
      ["°F", "degF"],
      ["°R", "degR"],
    ] as const)
      for (const value of [-40, 0, 25, 90])
        expect(convertUnit(value, own, "K")).toBeCloseTo(peer(value, name).toNumber("K"), 10);
  });
});

describe("boundaries", () => {
  test("other spellings name the same unit", () => {
    for (const name of ["cfm", "ft³/min", "lbs/hr", "US gal", "in3", "mm Hg", "lb-ft", "kg/m³", " psi "])
      expect(canonicalUnit(name)).not.toBeNull();
    expect(canonicalUnit("furlong")).toBeNull();
    expect(canonicalUnit("__proto__")).toBeNull();
    expect(canonicalUnit("constructor")).toBeNull();
  });

  test("what doesn't convert is refused with the remedy", () => {
    const codeOf = (work: () => unknown) => {
      try {
        work();
      } catch (error) {
        return error instanceof FuelwrightError ? error.code : String(error);
      }
      return "nothing thrown";
    };
    expect(codeOf(() => convertUnit(1, "lb/h", "cc/min"))).toBe("density-missing");
    expect(codeOf(() => convertUnit(1, "psi", "ms"))).toBe("units-do-not-convert");
    expect(codeOf(() => convertUnit(1, "°C", "kPa"))).toBe("units-do-not-convert");
    expect(codeOf(() => convertUnit(1, "stone", "kg"))).toBe("unknown-unit");
    expect(codeOf(() => convertUnit(Number.NaN, "kg", "g"))).toBe("not-finite");
    expect(codeOf(() => convertUnit(1, "lb/h", "cc/min", { densityKgPerL: 0 }))).toBe("not-positive");
  });
});
