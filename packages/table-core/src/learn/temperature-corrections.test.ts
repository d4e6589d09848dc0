import fc from "fast-check";
import { expect, test } from "vitest";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { airTemperatureFactors, correctForTemperature, typicalWarmUp } from "./temperature-corrections.ts";

const base = { massMg: 20, lambda: 1, tunedAtC: 20, airC: 20, coolantC: 85 };
const temperatures = fc.double({ min: -20, max: 50, noNaN: true });

test("tuned here and warm: the base table, nothing else", () => {
  const tables = { warmUp: typicalWarmUp(), airTemperature: airTemperatureFactors(20) };
  const fuel = correctForTemperature({ ...base, ...tables });
  expect(fuel).toMatchObject({ airFactor: 1, warmUpFactor: 1, airTemperatureFactor: 1, massMg: 20, lambda: 1 });
});

test("on paper: 25 degrees colder without correction is nine percent leaner", () => {
  const cold = correctForTemperature({ ...base, airC: -5 });
  expect(cold.airFactor).toBeCloseTo(308.15 / 283.15, 12);
  expect(cold.lambda).toBeCloseTo(1.0883, 4);
  expect(cold.uncorrectedLambda).toBe(cold.lambda);
  expect(correctForTemperature({ ...base, airC: 30 }).lambda).toBeLessThan(1);
});

test("the gas law's own factors keep the mixture within a thousandth, between breakpoints too", () => {
  fc.assert(
    fc.property(temperatures, temperatures, (tunedAtC, airC) => {
      const airTemperature = airTemperatureFactors(tunedAtC);
      const { lambda } = correctForTemperature({ ...base, tunedAtC, airC, airTemperature });
      expect(Math.abs(lambda - 1)).toBeLessThan(1e-3);
    }),
  );
});

test("warm-up enriches the colder the more, and ends at 1", () => {
  const warmUp = typicalWarmUp();
  const at = (coolantC: number) => correctForTemperature({ ...base, coolantC, warmUp });
  fc.assert(
    fc.property(temperatures, temperatures, (a, b) => {
      const [cold, warm] = a < b ? [a, b] : [b, a];
      expect(at(cold).warmUpFactor).toBeGreaterThanOrEqual(at(warm).warmUpFactor);
      expect(at(cold).lambda).toBeCloseTo(1 / at(cold).warmUpFactor, 12);
    }),
  );
  expect(at(100).warmUpFactor).toBe(1);
  expect(at(-5).massMg).toBeCloseTo(20 * 1.41, 10);
  expect(at(-5).commandedLambda).toBeCloseTo(1 / 1.41, 10);
});

test("trims in percent are taken as factors; other tables are refused by name", () => {
  const over = (quantity: "coolant-temperature" | "battery-voltage", cells: number[], kind: "trim" | "lambda") =>
    createTable({
      id: "mine",
      name: "invented",
      quantity: kind,
      rpm: createAxis({ quantity, breakpoints: [9, 80] }),
      cells: [cells],
    });
  const trim = over("coolant-temperature", [30, 0], "trim");
  expect(correctForTemperature({ ...base, coolantC: 9, warmUp: trim }).warmUpFactor).toBeCloseTo(1.3, 12);
  expect(() => correctForTemperature({ ...base, warmUp: over("battery-voltage", [1, 1], "trim") })).toThrow(
    expect.objectContaining({ code: "wrong-axis" }),
  );
  expect(() => correctForTemperature({ ...base, warmUp: over("coolant-temperature", [1, 1], "lambda") })).toThrow(
    expect.objectContaining({ code: "wrong-quantity" }),
  );
  expect(() => correctForTemperature({ ...base, warmUp: over("coolant-temperature", [-100, -100], "trim") })).toThrow(
    expect.objectContaining({ code: "not-positive" }),
  );
});
