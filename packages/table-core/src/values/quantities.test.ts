import { expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import { axisQuantities, cellQuantities, loadQuantities, requireQuantityUnit } from "./quantities.ts";
import { canonicalUnit } from "./units.ts";

test("every quantity has a unit that conversions know, a name and decimals", () => {
  for (const [id, info] of Object.entries({ ...cellQuantities, ...axisQuantities })) {
    if (id !== "single-row") expect(canonicalUnit(info.unit)).toBe(info.unit);
    expect(info.label).not.toBe("");
    expect([0, 1, 2, 3]).toContain(info.decimals);
  }
  expect(Object.keys(cellQuantities)).toHaveLength(6);
  expect(loadQuantities).toEqual(["manifold-pressure", "throttle-position", "air-charge"]);
});

test.each([
  ["manifold-pressure", undefined, "kPa"],
  ["manifold-pressure", "kPa", "kPa"],
  ["coolant-temperature", "degC", "°C"],
  ["rpm", "1/min", "rpm"],
  ["single-row", "", ""],
] as const)("the axis of %s takes the unit %j as %j", (quantity, given, unit) => {
  expect(requireQuantityUnit("unit", axisQuantities[quantity], given)).toBe(unit);
});

test.each([
  ["lambda", "", "lambda"],
  ["lambda", "1", "lambda"],
  ["lambda", "factor", "lambda"],
  ["lambda", "λ", "lambda"],
  ["factor", "", "factor"],
  ["factor", "×", "factor"],
  ["trim", "pct", "%"],
] as const)("cells of %s take the unit %j as %j", (quantity, given, unit) => {
  expect(requireQuantityUnit("unit", cellQuantities[quantity], given)).toBe(unit);
});

test("a unit of any length is shown short", () => {
  const long = refusal(() => requireQuantityUnit("axis", axisQuantities.rpm, "n".repeat(20_000)));
  expect(long.message).toBe(
    `axis must be rpm for rpm, got "${"n".repeat(40)}…"; convert the numbers first, with convertUnit`,
  );
});

test("numbers in another unit must be converted first", () => {
  const psi = refusal(() => requireQuantityUnit("axis", axisQuantities["manifold-pressure"], "psi"));
  expect(psi).toMatchObject({ code: "unit-not-canonical", details: { unit: "psi", expected: "kPa" } });
  expect(psi.message).toBe(
    'axis must be kPa for manifold pressure, got "psi"; convert the numbers first, with convertUnit',
  );
  expect(refusal(() => requireQuantityUnit("axis", axisQuantities["single-row"], "V")).message).toContain(
    "be empty for",
  );
  for (const [quantity, unit] of [
    ["pulse-width", ""],
    ["pulse-width", "1"],
    ["fuel-mass", "factor"],
    ["factor", "lambda"],
    ["lambda", "AFR"],
    ["trim", 5],
  ] as const)
    expect(refusal(() => requireQuantityUnit("cells", cellQuantities[quantity], unit as string)).code).toBe(
      "unit-not-canonical",
    );
});
