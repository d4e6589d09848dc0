import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, injectors, tables } from "../../testing/arbitraries.ts";
import { barometricPressure } from "../air/place.ts";
import { type Build, createBuild } from "../build/build.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { fuels } from "./fuel.ts";
import { createInjector, deliveredMass, type Injector } from "./injector.ts";
import { injectionPressure } from "./rail.ts";
import { rescaleForInjectors } from "./rescale-for-injectors.ts";

const small = createInjector({
  name: "small",
  flowGramsPerSecond: 2,
  ratedPressureKpa: 300,
  deadTime: 1,
  testDensityKgPerL: 0.745,
});
const large = createInjector({
  name: "large",
  flowGramsPerSecond: 4,
  ratedPressureKpa: 300,
  deadTime: 0.8,
  smallestPulseMs: 1.5,
  testDensityKgPerL: 0.745,
});

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: small,
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
});

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const throttle = createAxis({ quantity: "throttle-position", breakpoints: [5, 100] });

const pulses = (cells: number[][], side = load): FuelTable =>
  createTable({ id: "pulses", name: "invented", quantity: "pulse-width", rpm, load: side, cells });

function errorOf(work: () => unknown): FuelwrightError {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
  throw new Error("nothing thrown");
}

/** Fuel of one cylinder and cycle in a cell of a pulse table, by the public functions alone. */
function massAt(
  table: FuelTable,
  at: number,
  injector: Injector,
  { engine, rail, place, battery, fuel }: Build,
): number {
  const columns = table.rpm.breakpoints.length;
  const manifoldKpa = table.load.breakpoints[Math.floor(at / columns)]!;
  return deliveredMass(injector, {
    pulseMs: table.cells[at]!,
    volts: battery.volts,
    pressureKpa: injectionPressure(rail, { manifoldKpa, barometricKpa: barometricPressure(place) }),
    densityKgPerL: fuel.densityKgPerL,
    injectionsPerCycle: engine.injectionsPerCycle,
    rpm: table.rpm.breakpoints[at % columns]!,
  });
}

describe("a case worked on paper", () => {
  const { table, report } = rescaleForInjectors(
    pulses([
      [2, 3, 4],
      [5, 9, 13],
    ]),
    { from: small, to: large, build },
  );

  test("half the open time and the new dead time", () => {
    // (2-1)/2+0.8, (3-1)/2+0.8, … : twice the flow, dead time 1 against 0.8.
    [1.3, 1.8, 2.3, 2.8, 4.8, 6.8].forEach((ms, at) => {
      expect(table.cells[at]).toBeCloseTo(ms, 12);
    });
  });

  test("the report names short pulses, keeps the fuel and shows what dead time makes", () => {
    expect(report.basis).toBe("computed");
    expect(report.changed).toBe("cells");
    expect(report.underSmallestPulse).toEqual([{ at: 0, rpm: 1000, load: 40, value: table.cells[0] }]);
    expect(report.static).toEqual([]);
    expect(Array.from(report.cells!.fuelChangePercent)).toEqual([0, 0, 0, 0, 0, 0]);
    // Plain ratio would say 1 ms at idle; 1.3 ms is 30 % more.
    expect(report.cells!.flowRatioDifferencePercent[0]).toBeCloseTo(30, 9);
    expect(report.constants.flowRatio).toBe(0.5);
    expect(report.constants.to.flowCcPerMinute).toBeCloseTo((4 * 60) / 0.745, 9);
    expect(report.constants.deadTimes.find(({ volts }) => volts === 12)).toEqual({ volts: 12, fromMs: 1, toMs: 0.8 });
    expect(report.assumptions).toEqual([]);
  });

  test("a smaller set goes static where it can't keep the mass, and the cell is not clipped", () => {
    const { table: back, report: toSmall } = rescaleForInjectors(
      pulses([
        [2, 3, 4],
        [5, 9, 12],
      ]),
      {
        from: large,
        to: small,
        build,
      },
    );
    // 11.2 ms at 4 g/s is 44.8 mg; at 2 g/s that takes 22.4 + 1 ms, of 20 ms at 6000 rpm.
    expect(back.cells[5]).toBeCloseTo(23.4, 12);
    expect(toSmall.static).toEqual([{ at: 5, rpm: 6000, load: 100, value: expect.closeTo(1.17, 9) }]);
    // Always open gives 40 mg of the 44.8.
    expect(toSmall.cells!.fuelChangePercent[5]).toBeCloseTo((40 / 44.8 - 1) * 100, 9);
    expect(toSmall.abovePlanning.map(({ at }) => at)).toEqual([]);
    expect(toSmall.cells!.fuelChangePercent[4]).toBe(0);
  });

  test("old injectors that no longer closed hand on what they really gave", () => {
    const { table: next, report: told } = rescaleForInjectors(
      pulses([
        [2, 3, 4],
        [5, 9, 25],
      ]),
      { from: small, to: large, build },
    );
    // 2 g/s for the whole 20 ms: 40 mg, which the large set gives in 10 + 0.8 ms.
    expect(next.cells[5]).toBeCloseTo(10.8, 12);
    expect(told.wasStatic.map(({ at }) => at)).toEqual([5]);
    expect(told.cells!.fuelChangePercent[5]).toBe(0);
  });
});

describe("laws", () => {
  const change = fc.tuple(builds(), injectors(), injectors(), tables({ min: 2, max: 30 }));

  test("delivered mass stays in every cell where both sets are inside their limits", () => {
    fc.assert(
      fc.property(change, ([plan, from, to, table]) => {
        const { table: next, report } = rescaleForInjectors(table, { from, to, build: plan, closedCells: "keep" });
        for (let at = 0; at < table.cells.length; at++) {
          if (report.cells!.dutyAfter[at]! >= 1 || report.cells!.dutyBefore[at]! >= 1) continue;
          const before = massAt(table, at, from, plan);
          expect(Math.abs(massAt(next, at, to, plan) - before)).toBeLessThanOrEqual(1e-12 * before + 1e-12);
          expect(report.cells!.fuelChangePercent[at]).toBe(0);
        }
      }),
    );
  });

  test("a pulse one rounding above the dead time changes no fuel", () => {
    const from = createInjector({ name: "invented", flowGramsPerSecond: 1, ratedPressureKpa: 250, deadTime: 0.2 });
    const to = createInjector({ ...from, name: "slower", deadTime: 2.0003 });
    const plan = createBuild({
      engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 9000, injectionsPerCycle: 1 },
      fuel: fuels.petrol,
      injectors: from,
      rail: { kind: "manifold-referenced", pressureKpa: 250 },
      battery: { volts: 13 },
      place: { altitudeM: 0, temperatureC: 20 },
    });
    const table = createTable({
      id: "t",
      name: "invented",
      quantity: "pulse-width",
      rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000] }),
      load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
      cells: [
        [0.2 + 2e-13, 0.2 + 3e-14],
        [0.2 + 5e-15, 5],
      ],
    });
    const { report } = rescaleForInjectors(table, { from, to, build: plan });
    expect(Array.from(report.cells!.fuelChangePercent)).toEqual([0, 0, 0, 0]);
  });

  test("there and back is the identity", () => {
    fc.assert(
      fc.property(change, ([plan, from, to, table]) => {
        const there = rescaleForInjectors(table, { from, to, build: plan, closedCells: "keep" });
        const back = rescaleForInjectors(there.table, { from: to, to: from, build: plan, closedCells: "keep" });
        for (let at = 0; at < table.cells.length; at++) {
          if (there.report.cells!.dutyAfter[at]! >= 1 || there.report.cells!.dutyBefore[at]! >= 1) continue;
          expect(back.table.cells[at]).toBeCloseTo(table.cells[at]!, 10);
        }
      }),
    );
  });

  test("equal injectors change nothing, bit for bit", () => {
    fc.assert(
      fc.property(builds(), injectors(), tables({ min: 0, max: 30 }), (plan, injector, table) => {
        const twin = createInjector({ ...injector, name: "twin" });
        const { table: next } = rescaleForInjectors(table, {
          from: injector,
          to: twin,
          build: plan,
          closedCells: "keep",
        });
        expect(next).toBe(table);
      }),
    );
  });

  test("a larger injector alone adds no fuel anywhere, only headroom", () => {
    fc.assert(
      fc.property(
        builds(),
        injectors(),
        fc.integer({ min: 101, max: 300 }),
        tables({ min: 2, max: 40 }),
        (plan, from, percent, table) => {
          const to = createInjector({ ...from, flowGramsPerSecond: from.flowGramsPerSecond * (percent / 100) });
          const { report } = rescaleForInjectors(table, { from, to, build: plan, closedCells: "keep" });
          const { fuelChangePercent, dutyBefore, dutyAfter } = report.cells!;
          for (let at = 0; at < table.cells.length; at++) {
            if (dutyAfter[at]! >= 1) {
              // Full flow of the old set lies between what the new one gives closing and always open: listed, not clipped.
              expect(dutyBefore[at]).toBeGreaterThanOrEqual(1);
              expect(report.static.some((note) => note.at === at)).toBe(true);
              continue;
            }
            expect(fuelChangePercent[at]).toBe(0);
            if (dutyBefore[at]! < 1) expect(dutyAfter[at]).toBeLessThanOrEqual(dutyBefore[at]! + 1e-12);
          }
        },
      ),
    );
  });

  test("trims on their base pulse make the factory's pulse deliver the same", () => {
    fc.assert(
      fc.property(
        builds(),
        injectors(),
        injectors(),
        tables({ min: 3, max: 8 }),
        fc.integer({ min: -15, max: 40 }),
        (plan, from, to, base, trim) => {
          const trims = createTable({
            ...base,
            id: "trims",
            quantity: "trim",
            unit: "%",
            cells: base.cells.map((_, at) => trim + (at % 5)),
          });
          const { table: next, report } = rescaleForInjectors(trims, {
            from,
            to,
            build: plan,
            basePulse: base,
            closedCells: "keep",
          });
          const passedOn = (trimmed: FuelTable): FuelTable => ({
            ...base,
            cells: base.cells.map((ms, at) => ms * (1 + trimmed.cells[at]! / 100)),
          });
          for (let at = 0; at < base.cells.length; at++) {
            if (report.cells!.dutyAfter[at]! >= 1 || report.cells!.dutyBefore[at]! >= 1) continue;
            const before = massAt(passedOn(trims), at, from, plan);
            expect(massAt(passedOn(next), at, to, plan)).toBeCloseTo(before, 9);
          }
          // Without the base pulse, the exact trim lies inside the band, as long as the base pulse is one that was considered.
          const { report: rough } = rescaleForInjectors(trims, { from, to, build: plan, plausiblePulseMs: [3, 8] });
          expect(rough.basis).toBe("estimated");
          if (from.shortPulse || to.shortPulse) return;
          for (let at = 0; at < base.cells.length; at++) {
            if (report.cells!.dutyBefore[at]! >= 1) continue;
            expect(next.cells[at]).toBeGreaterThanOrEqual(rough.band!.low[at]! - 1e-9);
            expect(next.cells[at]).toBeLessThanOrEqual(rough.band!.high[at]! + 1e-9);
          }
        },
      ),
    );
  });

  test("the input is left as it was", () => {
    const table = pulses([
      [2, 3, 4],
      [5, 9, 13],
    ]);
    const before = table.cells.slice();
    rescaleForInjectors(table, { from: small, to: large, build });
    expect(table.cells).toEqual(before);
  });
});

describe("by quantity", () => {
  test("fuel masses stay; the report says what the controller is told and what pulses become", () => {
    const table = createTable({
      id: "m",
      name: "invented",
      quantity: "fuel-mass",
      rpm,
      load,
      cells: [
        [4, 8, 12],
        [16, 24, 38],
      ],
    });
    const { table: next, report } = rescaleForInjectors(table, { from: small, to: large, build });
    expect(next).toBe(table);
    expect(report.changed).toBe("injector-constants");
    expect(report.cells!.pulseBeforeMs[0]).toBeCloseTo(3, 12);
    expect(report.cells!.pulseAfterMs[0]).toBeCloseTo(1.8, 12);
    // 38 mg at 2 g/s fill the cycle at 6000 rpm: 19 + 1 of 20 ms. Always open gave 40; now 38 arrive.
    expect(report.wasStatic.map(({ at }) => at)).toEqual([5]);
    expect(report.cells!.fuelChangePercent[5]).toBeCloseTo(-5, 9);
    expect(report.cells!.fuelChangePercent[4]).toBe(0);
    // By the ratio of flows alone 3 ms would become 1.5; it takes 1.8.
    expect(report.cells!.flowRatioDifferencePercent[0]).toBeCloseTo(20, 9);
    expect(report).toMatchObject({ closed: [], assumptions: [] });
  });

  test("efficiencies stay, their pulses by air charge and target", () => {
    const table = createTable({
      id: "ve",
      name: "invented",
      quantity: "volumetric-efficiency",
      rpm,
      load,
      cells: [
        [60, 70, 75],
        [70, 85, 90],
      ],
    });
    const { table: next, report } = rescaleForInjectors(table, { from: small, to: large, build, target: 0.9 });
    expect(next).toBe(table);
    // 542.5 cc at 100 kPa and 35 °C, 90 %: 552 mg of air.
    const airMg = (0.9 * 100_000 * 542.5) / (287.05287 * 308.15);
    const fuelMg = airMg / (0.9 * fuels.petrol.stoichiometricRatio);
    expect(report.cells!.pulseAfterMs[5]).toBeCloseTo(fuelMg / 4 + 0.8, 9);
    expect(report.assumptions.map(({ id }) => id)).toEqual(["charge-temperature"]);
  });

  test("lambda and factors know no injector", () => {
    const table = createTable({
      id: "t",
      name: "invented",
      quantity: "lambda",
      rpm,
      load,
      cells: [
        [1, 1, 1],
        [0.9, 0.88, 0.86],
      ],
    });
    const { table: next, report } = rescaleForInjectors(table, { from: small, to: large, build });
    expect(next).toBe(table);
    expect(report.cells).toBeNull();
  });
});

describe("pressure", () => {
  const fixed = createBuild({ ...build, rail: { kind: "fixed", pressureKpa: 300 } });
  const wide = createInjector({
    ...large,
    deadTime: [
      { volts: 13, ms: 0.7, pressureKpa: 250 },
      { volts: 13, ms: 1.1, pressureKpa: 400 },
    ],
  });

  test("a fixed rail has more of it at low manifold pressure, and dead time follows", () => {
    const { table } = rescaleForInjectors(
      pulses([
        [3, 3, 3],
        [3, 3, 3],
      ]),
      { from: small, to: wide, build: fixed },
    );
    // 40 kPa in the manifold: 361.325 kPa across; the dead time lies at 111.325/150 of the way.
    expect(table.cells[0]).toBeCloseTo(1 + 0.7 + 0.4 * (111.325 / 150), 9);
    expect(table.cells[3]).toBeCloseTo(1 + 0.7 + 0.4 * (51.325 / 150), 9);
  });

  test("over throttle position it is assumed, and the report says how much that matters", () => {
    const { report } = rescaleForInjectors(
      pulses(
        [
          [3, 3, 3],
          [3, 3, 3],
        ],
        throttle,
      ),
      { from: small, to: wide, build: fixed },
    );
    const [assumption] = report.assumptions;
    expect(assumption!.id).toBe("manifold-outside-pressure");
    // 0.35 of outside pressure has 65.86 kPa more across: 0.1756 ms of 1.8335 ms.
    expect(assumption!.mattersPercent).toBeCloseTo(
      ((0.4 * ((101.325 * 0.65) / 150)) / (1 + 0.7 + 0.4 * (50 / 150))) * 100,
      6,
    );
    const given = rescaleForInjectors(
      pulses(
        [
          [3, 3, 3],
          [3, 3, 3],
        ],
        throttle,
      ),
      {
        from: small,
        to: wide,
        build: fixed,
        manifoldKpa: [
          [40, 40, 40],
          [100, 100, 100],
        ],
      },
    );
    expect(given.report.assumptions).toEqual([]);
    expect(given.table.cells[0]).toBeCloseTo(1 + 0.7 + 0.4 * (111.325 / 150), 9);
  });

  test("a manifold-referenced rail needs no manifold pressure", () => {
    const { report } = rescaleForInjectors(
      pulses(
        [
          [3, 3, 3],
          [3, 3, 3],
        ],
        throttle,
      ),
      { from: small, to: wide, build },
    );
    expect(report.assumptions).toEqual([]);
  });

  test("no pressure left across the injector is refused, naming the cell", () => {
    const boosted = createAxis({ quantity: "manifold-pressure", breakpoints: [100, 420] });
    const error = errorOf(() =>
      rescaleForInjectors(
        pulses(
          [
            [3, 3, 3],
            [3, 3, 3],
          ],
          boosted,
        ),
        { from: small, to: large, build: fixed },
      ),
    );
    expect(error.code).toBe("no-injection-pressure");
    expect(error.message).toContain("the cell at 1000 rpm, 420 kPa");
  });
});

describe("bad input", () => {
  test("a pulse under the dead time is refused with its place, or kept as a fuel cut when told so", () => {
    const table = pulses([
      [0, 0.5, 4],
      [5, 9, 13],
    ]);
    const error = errorOf(() => rescaleForInjectors(table, { from: small, to: large, build }));
    expect(error.code).toBe("pulse-under-dead-time");
    expect(error.message).toBe(
      "rescaleForInjectors: the pulse at 1000 rpm, 40 kPa must be longer than the dead time, 1 ms at 13.8 V, got 0 ms; " +
        'correct the cell, the dead time or the voltage, or say closedCells "keep" if fuel is cut there',
    );
    const { table: next, report } = rescaleForInjectors(table, { from: small, to: large, build, closedCells: "keep" });
    expect(next.cells[0]).toBe(0);
    expect(next.cells[1]).toBeCloseTo(0.4, 12);
    expect(report.closed.map(({ at, value }) => [at, value])).toEqual([
      [0, 0],
      [1, 0.5],
    ]);
  });

  test("negative pulses, lists of the wrong length, tables that don't fit", () => {
    expect(
      errorOf(() =>
        rescaleForInjectors(
          pulses([
            [-1, 2, 3],
            [4, 5, 6],
          ]),
          { from: small, to: large, build },
        ),
      ).code,
    ).toBe("pulse-negative");
    const trims = createTable({
      id: "tr",
      name: "invented",
      quantity: "trim",
      rpm,
      load,
      cells: [
        [0, 5, -5],
        [1, 2, 3],
      ],
    });
    expect(errorOf(() => rescaleForInjectors(trims, { from: small, to: large, build, basePulse: trims })).code).toBe(
      "wrong-quantity",
    );
    const other = pulses(
      [
        [2, 3, 4],
        [5, 6, 7],
      ],
      throttle,
    );
    expect(errorOf(() => rescaleForInjectors(trims, { from: small, to: large, build, basePulse: other })).code).toBe(
      "axes-do-not-match",
    );
    const fixed = createBuild({ ...build, rail: { kind: "fixed", pressureKpa: 300 } });
    const given = { from: small, to: large, build: fixed };
    expect(errorOf(() => rescaleForInjectors(other, { ...given, manifoldKpa: [[40, 50]] })).code).toBe(
      "wrong-cell-count",
    );
    expect(errorOf(() => rescaleForInjectors(other, { ...given, manifoldKpa: 0 })).code).toBe("not-positive");
    const overVolts = createTable({
      id: "dead",
      name: "invented",
      quantity: "pulse-width",
      rpm: createAxis({ quantity: "battery-voltage", breakpoints: [9, 12, 15] }),
      cells: [[1.6, 1, 0.7]],
    });
    expect(errorOf(() => rescaleForInjectors(overVolts, { from: small, to: large, build })).code).toBe("wrong-axis");
  });
});

test("trims are looked up on a base pulse table with other breakpoints", () => {
  const base = createTable({
    id: "factory",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 6000] }),
    load,
    cells: [
      [2, 4],
      [6, 11],
    ],
  });
  const trims = createTable({
    id: "tr",
    name: "invented",
    quantity: "trim",
    rpm,
    load,
    cells: [
      [0, 10, 0],
      [0, 0, 20],
    ],
  });
  const { table } = rescaleForInjectors(trims, { from: small, to: large, build, basePulse: base });
  // At 3000 rpm the base is 2.8 ms; 3.08 ms less 1, halved, and 0.8 more is 1.84 ms.
  expect(table.cells[1]).toBeCloseTo((1.84 / 2.8 - 1) * 100, 9);
});

describe("trims without their base pulse", () => {
  const trims = createTable({ id: "tr", name: "invented", quantity: "trim", rpm, load: throttle, cells: [[5, 5, 5], [5, 5, 5]] }); // biome-ignore format: rows
  const rough = (settings: Partial<Parameters<typeof rescaleForInjectors>[1]> = {}) =>
    rescaleForInjectors(trims, { from: small, to: large, build, ...settings });
  const ids = (settings: Partial<Parameters<typeof rescaleForInjectors>[1]>) =>
    rough(settings).report.assumptions.map(({ id }) => id);

  test("go by the ratio of flows, within a band over the base pulses that are plausible", () => {
    const { table, report } = rough({ plausiblePulseMs: [4, 8] });
    expect(table.cells[0]).toBeCloseTo((1.05 / 2 - 1) * 100, 9);
    // At base pulse p: ((1.05·p − 1)/2 + 0.8)/p − 1, which is 0.3/p above the ratio.
    expect(report.band!.high[0]).toBeCloseTo((1.05 / 2 + 0.3 / 4 - 1) * 100, 9);
    expect(report).toMatchObject({ basis: "estimated", changed: "cells", cells: null });
    const wide = rough().report.band!.high[0]!;
    expect(wide).toBeCloseTo((1.05 / 2 + 0.3 / 1.5 - 1) * 100, 9);
  });

  test("stay where the injectors do the same", () => {
    const { table, report } = rough({ to: { ...small, name: "same" } });
    expect(table).toBe(trims);
    expect(report.band).toEqual({ low: trims.cells, high: trims.cells });
    expect(report.assumptions).toEqual([]);
  });

  test("rest on what is assumed of the manifold and of the ratings", () => {
    const fixed = { ...build, rail: { kind: "fixed", pressureKpa: 300 } } as const;
    const { testDensityKgPerL: _, ...unrated } = large;
    expect(ids({})).toEqual(["base-pulse-unknown"]);
    expect(ids({ build: fixed })).toEqual(["base-pulse-unknown", "manifold-outside-pressure"]);
    expect(ids({ to: unrated })).toEqual(["base-pulse-unknown", "rated-with-the-fuel"]);
    const { testDensityKgPerL: __, ...alsoUnrated } = small;
    const both = rough({ from: alsoUnrated, to: unrated }).report.assumptions.at(-1)!;
    expect(both.id).toBe("rated-with-one-fluid");
    expect(both.matters).toContain("4.4 % off");
    expect(rough({ to: unrated }).report.assumptions.at(-1)!.text).toMatch(/\(large\)$/);
  });

  test("plausible pulses that are none are refused", () => {
    expect(errorOf(() => rough({ plausiblePulseMs: [0, 5] })).details.where).toMatch(/plausiblePulseMs\[0\]$/);
    expect(errorOf(() => rough({ plausiblePulseMs: [5, 4] })).details.where).toMatch(/plausiblePulseMs\[1\]$/);
  });
});

test("a manifold pressure that is given counts for masses too", () => {
  const masses = createTable({ id: "m", name: "invented", quantity: "fuel-mass", rpm, load: throttle, cells: [[4, 8, 12], [16, 24, 30]] }); // biome-ignore format: rows
  const fixed = { ...build, rail: { kind: "fixed", pressureKpa: 300 } } as const;
  const assumed = rescaleForInjectors(masses, { from: small, to: large, build: fixed }).report;
  const given = rescaleForInjectors(masses, { from: small, to: large, build: fixed, manifoldKpa: 50 }).report;
  expect(assumed.assumptions.map(({ id }) => id)).toEqual(["manifold-outside-pressure"]);
  expect(given.assumptions).toEqual([]);
  expect(given.cells!.pulseAfterMs[0]!).toBeLessThan(assumed.cells!.pulseAfterMs[0]!);
});
