import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, regionsOf, tables } from "../../testing/arbitraries.ts";
import { createBuild } from "../build/build.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { cellFuel } from "./cell-fuel.ts";
import { fuels } from "./fuel.ts";
import { retargetMixture } from "./retarget-mixture.ts";

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1, testDensityKgPerL: 0.745 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
});
const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 70, 100] });
const cells = [
  [2, 3, 4],
  [4, 5, 6],
  [6, 9, 13],
];
const table = createTable({ id: "p", name: "invented", quantity: "pulse-width", rpm, load, cells });
const target = (rows: number[][]): FuelTable =>
  createTable({ id: "t", name: "invented", quantity: "lambda", rpm, load, cells: rows });

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return error.code;
    throw error;
  }
  return "nothing thrown";
}

describe("a case worked on paper", () => {
  test("dead time stays dead: open time changes by the ratio of lambdas", () => {
    const { table: next, report } = retargetMixture(table, { from: 1, to: 0.8, build });
    // (6-1) · 1/0.8 + 1
    expect(next.cells[6]).toBeCloseTo(7.25, 12);
    expect(report.fuelChangePercent[6]).toBeCloseTo(25, 9);
    expect(report.lambdaAfter[6]).toBeCloseTo(0.8, 12);
    expect(report.dutyBefore![8]).toBeCloseTo(0.65, 12);
    expect(report.dutyAfter![8]).toBeCloseTo(16 / 20, 12);
    expect(report.leanerAtHighLoad).toEqual([]);
    expect(report.abovePlanning).toEqual([]);
  });

  test("leaner at high load is pointed out", () => {
    const rich = target([
      [1, 1, 1],
      [0.95, 0.95, 0.95],
      [0.86, 0.86, 0.86],
    ]);
    const lean = target([
      [1.05, 1, 1],
      [1.02, 0.95, 0.95],
      [0.86, 0.88, 0.84],
    ]);
    const { report } = retargetMixture(table, { from: rich, to: lean, build });
    expect(report.leanerAtHighLoad.map(({ rpm: r, load: l }) => [r, l])).toEqual([[3000, 100]]);
    expect(report.leanUnderLoad.map(({ rpm: r, load: l }) => [r, l])).toEqual([[1000, 70]]);
  });

  test("a region is feathered, and locked cells stay", () => {
    const locked: FuelTable = { ...table, locked: [{ rpm: [6000, 6000] }] };
    const { table: next, report } = retargetMixture(locked, {
      from: 1,
      to: 0.8,
      build,
      region: { rpm: [1000, 6000], load: [100, 100], feather: { load: 60 } },
    });
    expect(next.cells[6]).toBeCloseTo(7.25, 12);
    // 70 kPa is half way down the feather: (4-1)·1.25+1 = 4.75, half of the way from 4.
    expect(next.cells[3]).toBeCloseTo(4.375, 12);
    expect(report.lambdaAfter[3]).toBeCloseTo(3 / 3.375, 12);
    expect([next.cells[0], next.cells[5], next.cells[8]]).toEqual([2, 6, 13]);
    expect(report.fuelChangePercent[8]).toBe(0);
  });
});

describe("by quantity", () => {
  test("fuel mass goes by the ratio", () => {
    const masses = createTable({ id: "m", name: "invented", quantity: "fuel-mass", rpm, load, cells });
    const { table: next } = retargetMixture(masses, { from: 0.9, to: 1, build });
    next.cells.forEach((mg, at) => {
      expect(mg).toBeCloseTo(masses.cells[at]! * 0.9, 12);
    });
  });

  test("efficiencies stay and the target changes", () => {
    const efficiency = createTable({
      id: "ve",
      name: "invented",
      quantity: "volumetric-efficiency",
      rpm,
      load,
      cells: cells.map((row) => row.map((v) => v * 6)),
    });
    const { table: next, report } = retargetMixture(efficiency, { from: 1, to: 0.8, build });
    expect(next).toBe(efficiency);
    expect(report.changed).toBe("target");
    expect(report.fuelChangePercent[0]).toBeCloseTo(25, 9);
    expect(report.dutyAfter![8]! - 6000 / 120_000).toBeCloseTo((report.dutyBefore![8]! - 6000 / 120_000) * 1.25, 9);
  });

  test("factors multiply a mass, and the report says so", () => {
    const factors = createTable({ id: "f", name: "invented", quantity: "factor", rpm, load, cells });
    const { table: next, report } = retargetMixture(factors, { from: 1, to: 0.8, build });
    expect(next.cells[0]).toBeCloseTo(2.5, 12);
    expect(report.assumptions.map(({ id }) => id)).toEqual(["factor-on-mass"]);
  });

  test("trims go through the base pulse, or are an estimate with its band", () => {
    const trims = createTable({
      id: "tr",
      name: "invented",
      quantity: "trim",
      rpm,
      load,
      cells: cells.map((row) => row.map(() => 10)),
    });
    const { table: next, report } = retargetMixture(trims, { from: 1, to: 0.8, build, basePulse: table });
    // 6 ms · 1.1 = 6.6; (6.6-1)·1.25+1 = 8; 8/6 is 33.3 % more.
    expect(next.cells[6]).toBeCloseTo((8 / 6 - 1) * 100, 9);
    expect(report.basis).toBe("computed");
    const rough = retargetMixture(trims, { from: 1, to: 0.8, build });
    expect(rough.report.basis).toBe("estimated");
    expect(rough.table.cells[6]).toBeCloseTo(37.5, 9);
    expect(next.cells[6]).toBeLessThanOrEqual(rough.report.band!.high[6]!);
    expect(next.cells[6]).toBeGreaterThanOrEqual(rough.report.band!.low[6]!);
  });

  test("a lambda table is a target itself", () => {
    expect(codeOf(() => retargetMixture(target(cells), { from: 1, to: 0.9, build }))).toBe("wrong-quantity");
  });
});

describe("laws", () => {
  test("asked fuel times lambda stays in every whole cell, and the rest comes out bit for bit", () => {
    fc.assert(
      fc.property(
        builds(),
        tables({ min: 3, max: 15 }).chain((made) => fc.tuple(fc.constant(made), regionsOf(made))),
        fc.double({ min: 0.7, max: 1.2, noNaN: true }),
        fc.double({ min: 0.7, max: 1.2, noNaN: true }),
        (plan, [made, region], from, to) => {
          const { table: next, report } = retargetMixture(made, { from, to, build: plan, region });
          const weights = editWeights(made, region);
          const before = cellFuel("test", made, { build: plan, injectors: plan.injectors }).askedMg;
          const after = cellFuel("test", next, { build: plan, injectors: plan.injectors }).askedMg;
          weights.forEach((weight, at) => {
            if (weight === 0) expect(next.cells[at]).toBe(made.cells[at]);
            if (weight === 1 && before[at]! > 0) {
              expect(after[at]! * to).toBeCloseTo(before[at]! * from, 9);
              expect(report.lambdaAfter[at]).toBeCloseTo(to, 9);
            }
          });
        },
      ),
    );
  });

  test("the same target changes nothing; there and back is the identity", () => {
    fc.assert(
      fc.property(
        builds(),
        tables({ min: 3, max: 15 }),
        fc.double({ min: 0.7, max: 1.2, noNaN: true }),
        (plan, made, to) => {
          expect(retargetMixture(made, { from: to, to, build: plan }).table.cells).toEqual(made.cells);
          const there = retargetMixture(made, { from: 1, to, build: plan }).table;
          const back = retargetMixture(there, { from: to, to: 1, build: plan }).table;
          back.cells.forEach((ms, at) => {
            expect(ms).toBeCloseTo(made.cells[at]!, 9);
          });
        },
      ),
    );
  });
});

test("bad targets are refused, naming the cell", () => {
  expect(codeOf(() => retargetMixture(table, { from: 0, to: 1, build }))).toBe("not-positive");
  expect(codeOf(() => retargetMixture(table, { from: table, to: 1, build }))).toBe("wrong-quantity");
  expect(
    codeOf(() =>
      retargetMixture(table, {
        from: target([
          [1, 1, 0],
          [1, 1, 1],
          [1, 1, 1],
        ]),
        to: 1,
        build,
      }),
    ),
  ).toBe("not-positive");
  expect(codeOf(() => retargetMixture(table, { from: 1, to: 0.9, build, highLoadShare: 3 }))).toBe("out-of-range");
});

test("a manifold pressure that is given takes the place of the assumed one, for pulses and for efficiencies", () => {
  const throttle = createAxis({ quantity: "throttle-position", breakpoints: [5, 50, 100] });
  const fixed = { ...build, rail: { kind: "fixed", pressureKpa: 300 } } as const;
  for (const quantity of ["pulse-width", "volumetric-efficiency"] as const) {
    const other = createTable({ id: "o", name: "invented", quantity, rpm, load: throttle, cells });
    const ids = (manifoldKpa?: number) =>
      retargetMixture(other, {
        from: 1,
        to: 0.9,
        build: fixed,
        ...(manifoldKpa !== undefined && { manifoldKpa }),
      }).report.assumptions.map(({ id }) => id);
    expect(ids()).toContain("manifold-outside-pressure");
    expect(ids(60)).not.toContain("manifold-outside-pressure");
  }
});
