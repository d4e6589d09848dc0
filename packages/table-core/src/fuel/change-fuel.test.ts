import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, tables } from "../../testing/arbitraries.ts";
import { createBuild } from "../build/build.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { changeFuel } from "./change-fuel.ts";
import { type Fuel, fuels } from "./fuel.ts";

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
});
const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const cells = [
  [3, 4],
  [7, 11],
];
const { petrol, E85 } = fuels;
const table = createTable({ id: "p", name: "invented", quantity: "pulse-width", rpm, load, cells });

describe("petrol to E85, worked on paper", () => {
  const { table: next, report } = changeFuel(table, { from: petrol, to: E85, build });
  const mass = petrol.stoichiometricRatio / E85.stoichiometricRatio;

  test("open time grows by mass over flow", () => {
    const flow = Math.sqrt(E85.densityKgPerL / petrol.densityKgPerL);
    table.cells.forEach((ms, at) => {
      expect(next.cells[at]).toBeCloseTo(((ms - 1) * mass) / flow + 1, 10);
    });
    expect(report.massFactor).toBeCloseTo(1.4901, 4);
    // The file's fuelVolumePerAirRatioToE0 of E85: 1.41122024.
    expect(report.volumeFactor).toBeCloseTo(1.41122024, 7);
    expect(report.fuelChangePercent[0]).toBeCloseTo((mass - 1) * 100, 9);
    expect(report.assumptions.map(({ id }) => id)).toEqual(["rated-with-old-fuel"]);
    expect(report.cautions.some((caution) => caution.includes("Alcohols attack"))).toBe(true);
  });

  test("masses grow; efficiencies, targets and factors stay", () => {
    const masses = createTable({ ...table, quantity: "fuel-mass", unit: "mg" });
    expect(changeFuel(masses, { from: petrol, to: E85, build }).table.cells[3]).toBeCloseTo(11 * mass, 12);
    for (const quantity of ["volumetric-efficiency", "lambda", "factor"] as const) {
      const kept = createTable({ id: "k", name: "invented", quantity, rpm, load, cells });
      const result = changeFuel(kept, { from: petrol, to: E85, build });
      expect(result.table).toBe(kept);
      expect(result.report).toMatchObject({
        changed: "fuel-constants",
        assumptions: [],
        static: [],
        abovePlanning: [],
      });
      // The controller divides by another ratio: the fuel changes where the cells say air.
      const change = quantity === "volumetric-efficiency" ? (mass - 1) * 100 : 0;
      for (const percent of result.report.fuelChangePercent) expect(percent).toBeCloseTo(change, 9);
    }
  });

  test("trims without base pulse are an estimate with its band", () => {
    const trims = createTable({
      id: "t",
      name: "invented",
      quantity: "trim",
      rpm,
      load,
      cells: [
        [0, 5],
        [0, -5],
      ],
    });
    const rough = changeFuel(trims, { from: petrol, to: E85, build });
    const exact = changeFuel(trims, { from: petrol, to: E85, build, basePulse: table });
    expect(rough.report.basis).toBe("estimated");
    exact.table.cells.forEach((trim, at) => {
      expect(trim).toBeLessThanOrEqual(rough.report.band!.high[at]! + 1e-9);
      expect(trim).toBeGreaterThanOrEqual(rough.report.band!.low[at]! - 1e-9);
    });
  });
});

test("there and back is the identity, and the same fuel changes nothing", () => {
  fc.assert(
    fc.property(builds(), tables({ min: 3, max: 15 }), (plan, made) => {
      const rated = { ...plan, injectors: { ...plan.injectors, testDensityKgPerL: 0.7 } };
      const there = changeFuel(made, { from: petrol, to: E85, build: rated }).table;
      const back = changeFuel(there, { from: E85, to: petrol, build: rated }).table;
      back.cells.forEach((ms, at) => {
        expect(ms).toBeCloseTo(made.cells[at]!, 9);
      });
      expect(changeFuel(made, { from: E85, to: { ...E85 }, build: plan }).table.cells).toEqual(made.cells);
    }),
  );
});

test("locked cells stay", () => {
  const locked = { ...table, locked: [{ rpm: [6000, 6000] as const }] };
  const { table: next } = changeFuel(locked, { from: petrol, to: E85, build });
  expect([next.cells[1], next.cells[3]]).toEqual([4, 11]);
  expect(next.cells[0]).toBeGreaterThan(3);
});

test("the density alone changes pulses, and what was said of rating and pressure counts", () => {
  const denser = { ...petrol, name: "denser", densityKgPerL: petrol.densityKgPerL * 1.21 };
  const { table: next } = changeFuel(table, { from: petrol, to: denser, build });
  // A tenth more flow.
  expect(next.cells[0]).toBeCloseTo(2 / 1.1 + 1, 10);
  const rated = { ...build, injectors: { ...build.injectors, testDensityKgPerL: 0.7 } };
  expect(changeFuel(table, { from: petrol, to: denser, build: rated }).report.assumptions).toEqual([]);
  const throttle = createTable({
    ...table,
    load: createAxis({ quantity: "throttle-position", breakpoints: [5, 100] }),
  });
  const fixed = { ...rated, rail: { kind: "fixed", pressureKpa: 300 } } as const;
  const ids = (manifoldKpa?: number) =>
    changeFuel(throttle, {
      from: petrol,
      to: denser,
      build: fixed,
      ...(manifoldKpa && { manifoldKpa }),
    }).report.assumptions.map(({ id }) => id);
  expect([ids(), ids(60)]).toEqual([["manifold-outside-pressure"], []]);
});

test("cautions go with what the other fuel is", () => {
  const said = (from: Fuel, to: Fuel) => changeFuel(table, { from, to, build }).report.cautions.join(" ");
  const always = /made cold.*work in lambda/;
  const pump = { ...petrol, name: "another petrol" };
  const { composition: _, ...unknown } = petrol;
  for (const [from, to] of [
    [petrol, pump],
    [petrol, E85],
    [E85, petrol],
    [unknown, petrol],
  ] as const)
    expect(said(from, to)).toMatch(always);
  expect(said(petrol, E85)).toMatch(/attack some seals.*badly in the cold/);
  expect(said(petrol, E85)).not.toContain("ignition advance");
  expect(said(E85, petrol)).toContain("less ignition advance");
  expect(said(E85, petrol)).not.toContain("Alcohols");
  for (const [from, to] of [
    [petrol, pump],
    [unknown, petrol],
  ] as const) {
    expect(said(from, to)).not.toContain("Alcohols");
    expect(said(from, to)).not.toContain("ignition advance");
  }
  expect(said(unknown, E85)).toContain("Alcohols");
});
