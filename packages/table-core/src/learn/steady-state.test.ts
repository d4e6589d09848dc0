import fc from "fast-check";
import { expect, test } from "vitest";
import { builds, tables } from "../../testing/arbitraries.ts";
import { createBuild } from "../build/build.ts";
import { cellDemand } from "../build/cell-demand.ts";
import { checkCeilings } from "../build/check-ceilings.ts";
import { fuels } from "../fuel/fuel.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { raiseDemand } from "./raise-demand.ts";
import { steadyState } from "./steady-state.ts";

const build = createBuild({
  engine: {
    displacementCc: 1000,
    cylinders: 2,
    revLimitRpm: 8000,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 90,
  },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.5 },
  place: { altitudeM: 0, temperatureC: 20 },
});
const table = createTable({
  id: "fuel",
  name: "invented",
  quantity: "fuel-mass",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 6000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 100] }),
  cells: [
    [8, 9],
    [28, 32],
  ],
});

test("on paper: fuel, pulse, duty and flow at a breakpoint", () => {
  const s = steadyState({ build, table, target: 0.9, rpm: 6000, load: 100 });
  expect(s.askedMg).toBeCloseTo(32, 12);
  expect(s.airMg).toBeCloseTo(32 * 0.9 * fuels.petrol.stoichiometricRatio, 9);
  expect(s.pulseMs).toBeCloseTo(1 + 32 / 3, 12);
  expect(s.duty).toBeCloseTo((1 + 32 / 3) / 20, 12);
  // Two cylinders, 50 cycles a second: 3.2 g/s.
  expect(s.kilogramsPerHour).toBeCloseTo(11.52, 10);
  expect(s.litresPerHour).toBeCloseTo(11.52 / 0.745, 10);
  expect(s.mixture).toEqual({ lambda: 0.9, afr: 0.9 * fuels.petrol.stoichiometricRatio, equivalence: 1 / 0.9 });
});

test("another mixture takes fuel in proportion, another fuel by its ratio: the air stays", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.7, max: 1.3, noNaN: true }), (lambda) => {
      const at = { build, table, target: 0.9, rpm: 3100, load: 72 };
      const own = steadyState(at);
      const tried = steadyState({ ...at, lambda, fuel: fuels.ethanol });
      expect(tried.airMg).toBe(own.airMg);
      expect(tried.askedMg * lambda * fuels.ethanol.stoichiometricRatio).toBeCloseTo(own.airMg, 9);
    }),
  );
});

test("on every breakpoint the same as the whole table says, for every quantity", () => {
  const quantities = fc.constantFrom("pulse-width", "fuel-mass", "volumetric-efficiency" as const);
  fc.assert(
    fc.property(
      builds(),
      quantities.chain((quantity) => tables({ quantity, min: 3, max: 60 })),
      fc.nat(),
      (anyBuild, anyTable, pick) => {
        let demand: ReturnType<typeof cellDemand>;
        try {
          demand = cellDemand({ build: anyBuild, table: anyTable, target: 0.93 });
        } catch {
          return;
        }
        const at = pick % anyTable.cells.length;
        const columns = anyTable.rpm.breakpoints.length;
        if (!(demand.askedMg[at]! > 0)) return;
        const s = steadyState({
          build: anyBuild,
          table: anyTable,
          target: 0.93,
          rpm: anyTable.rpm.breakpoints[at % columns]!,
          load: anyTable.load.breakpoints[Math.floor(at / columns)]!,
        });
        const near = (got: number, wanted: number) => expect(got / wanted).toBeCloseTo(1, 9);
        near(s.askedMg, demand.askedMg[at]!);
        near(s.duty, demand.duty[at]!);
        near(s.pressureKpa, demand.pressureKpa[at]!);
        near(s.airMg, demand.airMg![at]!);
        if (demand.duty[at]! < 0.999 || demand.duty[at]! > 1.001) near(s.deliveredMg, demand.deliveredMg[at]!);
      },
    ),
  );
});

test("without a table the air is estimated, and that is said", () => {
  const s = steadyState({ build, rpm: 3000, load: 60 });
  expect(s.assumptions.map(({ id }) => id)).toContain("air-from-efficiency");
  expect(s.airMg).toBeGreaterThan(200);
  expect(s.mixture.lambda).toBe(1);
});

test("as demand rises the commanded mixture stays and the delivered one goes lean, as the ceilings say", () => {
  const run = raiseDemand({ build, rpm: 7000, pressureKpa: 300, massMg: 32, lambda: 0.88 });
  const cycleMs = 120_000 / 7000;
  expect(run.planningFrom).toBeCloseTo(((0.85 * cycleMs - 1) * 3) / 32, 6);
  expect(run.staticFrom).toBeCloseTo(((cycleMs - 1) * 3) / 32, 6);
  expect(run.leanFrom).toBeCloseTo((cycleMs * 3) / 32, 6);
  const cells = Array.from(run.demand, (factor) => 32 * factor);
  const rows = createTable({
    ...table,
    id: "demand",
    rpm: createAxis({ quantity: "rpm", breakpoints: [7000, 7001] }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: cells.map((_, at) => 40 + at) }),
    cells: cells.map((mg) => [mg, mg]),
  });
  const ceilings = checkCeilings({ build, table: rows, target: 0.88 });
  run.demand.forEach((_, at) => {
    expect(run.deliveredLambda[at]).toBeCloseTo(ceilings.deliveredLambda![2 * at]!, 10);
    expect(run.duty[at]).toBeCloseTo(ceilings.demand.duty[2 * at]!, 10);
  });
  expect(run.deliveredLambda.at(-1)).toBeGreaterThan(1);
  expect(run.deliveredLambda[0]).toBeCloseTo(0.88, 12);
  expect(run.chosen).toMatchObject({ demand: 1, askedMg: 32, deliveredMg: 32 });
});

test("injectors that are large enough never go static", () => {
  const run = raiseDemand({ build, rpm: 2000, pressureKpa: 300, massMg: 10, lambda: 1, highest: 3 });
  expect([run.planningFrom, run.staticFrom, run.leanFrom]).toEqual([null, null, null]);
  run.deliveredLambda.forEach((lambda) => {
    expect(lambda).toBeCloseTo(1, 12);
  });
  expect(() => raiseDemand({ build, rpm: 2000, pressureKpa: 300, massMg: 0, lambda: 1 })).toThrow(/massMg/);
  expect(() => steadyState({ build, table, rpm: 10, load: 50 })).toThrow(/rpm/);
});
