import { describe, expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { type CellFuelSettings, cellFuel, ratedWithTheFuel } from "./cell-fuel.ts";
import { createInjector } from "./injector.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [3000, 6000] });
const overKpa = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const overThrottle = createAxis({ quantity: "throttle-position", breakpoints: [5, 100] });
/** 3 g/s at 300 kPa, 0.5 ms of dead time, rated with the fuel: 3 mg in every ms beyond the dead time. */
const injectors = createInjector({
  name: "invented",
  flowGramsPerSecond: 3,
  ratedPressureKpa: 300,
  deadTime: 0.5,
  testDensityKgPerL: inventedBuild.fuel.densityKgPerL,
});
const tableOf = (quantity: FuelTable["quantity"], cells: number[], load = overKpa, id = "t") =>
  createTable({ id, name: "invented", quantity, rpm, load, cells: Float64Array.from(cells) });
const meter = (table: FuelTable, settings: Partial<CellFuelSettings> = {}) =>
  cellFuel("x", table, { build: inventedBuild, injectors, ...settings });
const close = (values: number[], digits = 10) => values.map((value) => expect.closeTo(value, digits));

describe("a case on paper", () => {
  test("pulses meter what flows beyond the dead time; the cycle ends what they can", () => {
    const fuel = meter(tableOf("pulse-width", [2.5, 2.5, 10.5, 25]));
    expect([...fuel.askedMg]).toEqual(close([6, 6, 30, 73.5]));
    // A cycle is 40 ms at 3000 rpm and 20 ms at 6000.
    expect([...fuel.duty]).toEqual(close([2.5 / 40, 2.5 / 20, 10.5 / 40, 1.25]));
    // Past static the injector is open all the time: 3 mg/ms over 20 ms.
    expect([...fuel.deliveredMg]).toEqual(close([6, 6, 30, 60]));
    expect([...fuel.manifoldKpa]).toEqual([40, 40, 100, 100]);
    expect([...fuel.pressureKpa]).toEqual([300, 300, 300, 300]);
    expect(fuel.assumptions).toEqual([]);
  });

  test("masses are shared between the injectors of a cylinder and its injections", () => {
    const engine = { ...inventedBuild.engine, injectorsPerCylinder: 2, injectionsPerCycle: 2 as const };
    const build = { ...inventedBuild, engine };
    const fuel = meter(tableOf("fuel-mass", [24, 0, 24, 600]), { build });
    // 24 mg over two injectors and two injections: 6 mg each, 2 ms beyond the dead time.
    expect([...fuel.pulseMs]).toEqual(close([2.5, 0, 2.5, 50.5]));
    expect(fuel.duty[0]).toBeCloseTo((2 * 2.5) / 40, 12);
    expect(fuel.deliveredMg[3]).toBeCloseTo(2 * 60, 10);
    const pulses = meter(tableOf("pulse-width", [2.5, 2.5, 2.5, 2.5]), { build });
    expect([...pulses.askedMg]).toEqual(close([24, 24, 24, 24]));
  });

  test("trims multiply the factory's pulses", () => {
    const basePulse = tableOf("pulse-width", [2, 2, 10, 10], overKpa, "base");
    const fuel = meter(tableOf("trim", [25, 0, 5, -100]), { basePulse });
    expect([...fuel.pulseMs]).toEqual(close([2.5, 2, 10.5, 0]));
    expect([...fuel.askedMg]).toEqual(close([6, 4.5, 30, 0]));
  });

  test("efficiencies ask for the air's fuel at the target", () => {
    const build = { ...inventedBuild, engine: { ...inventedBuild.engine, chargeTemperatureC: 40 } };
    const half = meter(tableOf("volumetric-efficiency", [50, 50, 80, 0]), { build, target: 1 });
    const rich = meter(tableOf("volumetric-efficiency", [50, 50, 80, 0]), { build, target: 0.8 });
    expect(half.askedMg[2]! / half.askedMg[0]!).toBeCloseTo((80 * 100) / (50 * 40), 12);
    expect(rich.askedMg[0]! / half.askedMg[0]!).toBeCloseTo(1 / 0.8, 12);
    expect(half.askedMg[3]).toBe(0);
    expect(half.assumptions).toEqual([]);
    // Dry: 542.5 cc of air at 40 kPa and 40 °C is 241 mg, half of it at 14.6 to 1 is 8.3 mg; damp air holds a little less.
    expect(half.askedMg[0]!).toBeGreaterThan(8);
    expect(half.askedMg[0]!).toBeLessThan(8.4);
  });
});

describe("what is taken for granted is said, once", () => {
  const ids = ({ assumptions }: { assumptions: readonly { id: string }[] }) => assumptions.map(({ id }) => id);
  const fixed = { ...inventedBuild, rail: { kind: "fixed", pressureKpa: 300 } } as const;

  test("a target of 1, the warming of the air, the fluid of the rating", () => {
    const { testDensityKgPerL: _, ...unrated } = injectors;
    const fuel = meter(tableOf("volumetric-efficiency", [50, 50, 80, 80]), { injectors: unrated });
    expect(ids(fuel)).toEqual(["target-lambda-1", "charge-temperature", "rated-with-the-fuel"]);
    expect(ids(meter(tableOf("pulse-width", [2, 2, 2, 2]), { injectors: unrated }))).toEqual(["rated-with-the-fuel"]);
  });

  test("the manifold's pressure where it counts, with how much it matters", () => {
    const throttle = tableOf("pulse-width", [2.5, 2.5, 10.5, 10.5], overThrottle);
    // With a manifold-referenced rail the manifold's pressure counts for nothing.
    expect(ids(meter(throttle))).toEqual([]);
    const fuel = meter(throttle, { build: fixed });
    expect(ids(fuel)).toEqual(["manifold-outside-pressure"]);
    // 300 kPa against 365.9 at light load: √(365.9/300) − 1 of flow.
    expect(fuel.assumptions[0]!.mattersPercent).toBeCloseTo(100 * (Math.sqrt((300 + 0.65 * 101.325) / 300) - 1), 2);
    expect(fuel.assumptions[0]!.matters).toMatch(/ 10\.4\d %/);
    expect(ids(meter(throttle, { build: fixed, manifoldKpa: 60 }))).toEqual([]);
    // Masses through the same rail: what differs are the pulses.
    const masses = meter(tableOf("fuel-mass", [6, 6, 30, 30], overThrottle), { build: fixed });
    expect(masses.assumptions[0]!.mattersPercent).toBeGreaterThan(5);
    expect(masses.assumptions[0]!.mattersPercent).toBeLessThan(10.4);
  });

  test("of efficiencies over air charge, the warming once and the pressure with its figure", () => {
    const overCharge = createAxis({ quantity: "air-charge", breakpoints: [200, 500] });
    const fuel = meter(tableOf("volumetric-efficiency", [50, 50, 80, 80], overCharge), { target: 1 });
    expect(ids(fuel)).toEqual(["charge-temperature", "manifold-from-air-charge"]);
    // Another 15 % of efficiency: 13 % less pressure, air and fuel.
    const [warming, pressure] = fuel.assumptions;
    expect(warming!.mattersPercent).toBeCloseTo((10 / 308.15) * 100, 10);
    expect(pressure!.mattersPercent).toBeGreaterThan(11);
    expect(pressure!.mattersPercent).toBeLessThan(13.1);
  });

  test("a rating with another fluid would move the flow by the root of the densities", () => {
    const { mattersPercent, matters } = ratedWithTheFuel(0.745);
    expect(mattersPercent).toBeCloseTo((Math.sqrt(0.745 / 0.684) - 1) * 100, 12);
    expect(matters).toContain("4.4 %");
  });
});

describe("what meters no fuel, or cannot, is refused", () => {
  test("targets and factors", () => {
    for (const quantity of ["lambda", "factor"] as const)
      expect(refusal(() => meter(tableOf(quantity, [1, 1, 1, 1])))).toMatchObject({
        code: "wrong-quantity",
        details: { table: "t", quantity },
      });
  });

  test("cells below zero, by their place", () => {
    for (const quantity of ["fuel-mass", "volumetric-efficiency"] as const) {
      const table = { ...tableOf(quantity, [0, 1, 1, 1]), cells: Float64Array.of(0, 5, -3, 5) };
      const { code, message, details } = refusal(() => meter(table));
      expect(code).toBe("cell-negative");
      expect(message).toContain("x: t at 3000 rpm, 100 kPa must not be negative, got -3");
      expect(details).toEqual({ at: 2, value: -3 });
    }
    const first = { ...tableOf("fuel-mass", [0, 1, 1, 1]), cells: Float64Array.of(-1, 5, 5, 5) };
    expect(refusal(() => meter(first)).details).toEqual({ at: 0, value: -1 });
    const pulse = { ...tableOf("pulse-width", [1, 1, 1, 1]), cells: Float64Array.of(1, 1, -1, 1) };
    expect(refusal(() => meter(pulse)).code).toBe("pulse-negative");
  });

  test("trims without their base, and trims that leave less than nothing", () => {
    expect(refusal(() => meter(tableOf("trim", [0, 0, 0, 0])))).toMatchObject({
      code: "base-pulse-missing",
      details: { table: "t" },
    });
    const basePulse = tableOf("pulse-width", [2, 2, 10, 10], overKpa, "base");
    expect(refusal(() => meter(tableOf("trim", [0, -101, 0, 0]), { basePulse })).message).toContain(
      "the trimmed pulse at 6000 rpm, 40 kPa",
    );
  });

  test("a correction over something else than rpm", () => {
    const warmUp = createTable({
      id: "w",
      name: "invented",
      quantity: "pulse-width",
      rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [0, 80] }),
      cells: [[2, 1]],
    });
    expect(refusal(() => meter(warmUp))).toMatchObject({
      code: "wrong-axis",
      details: { table: "w", quantity: "coolant-temperature" },
    });
  });
});
