import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, tables } from "../../testing/arbitraries.ts";
import { fuels } from "../fuel/fuel.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { createBuild } from "./build.ts";
import { cellDemand } from "./cell-demand.ts";
import { checkCeilings } from "./check-ceilings.ts";

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: {
    name: "invented",
    flowGramsPerSecond: 3,
    ratedPressureKpa: 300,
    deadTime: 1,
    smallestPulseMs: 1.6,
    testDensityKgPerL: 0.745,
  },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
  planning: { dutyPercent: 80 },
});
const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const table = createTable({
  id: "p",
  name: "invented",
  quantity: "pulse-width",
  rpm,
  load,
  cells: [
    [0.8, 1.5, 4],
    [6, 17, 25],
  ],
  storage: { min: 0, max: 20, step: 0.004 },
});

describe("a case worked on paper", () => {
  const report = checkCeilings({ build, table, target: 0.85 });
  const cellsOf = (kind: string) =>
    report.ceilings.find((ceiling) => ceiling.kind === kind)?.cells.map(({ at }) => at) ?? [];

  test("each limit names its cells", () => {
    expect(cellsOf("static")).toEqual([5]);
    expect(cellsOf("above-planning")).toEqual([]);
    expect(cellsOf("under-smallest-pulse")).toEqual([1]);
    expect(cellsOf("under-dead-time")).toEqual([0]);
    expect(cellsOf("outside-storage")).toEqual([5]);
  });

  test("the injectors' verdict names the worst cell", () => {
    const injectors = report.parts.find(({ part }) => part === "injectors")!;
    expect(injectors.verdict).toBe("gives-out");
    expect(injectors.worst).toEqual({ at: 5, rpm: 6000, load: 100, value: expect.closeTo(1.25 / 0.8, 12) });
    expect(injectors.sentence).toBe("The injectors no longer close: duty 125 % at 6,000 rpm and 100 kPa.");
    expect(injectors.inHandPercent).toBeCloseTo((0.8 / 1.25 - 1) * 100, 9);
    expect(report.first!.part).toBe("injectors");
  });

  test("where the injectors no longer close, the mixture that arrives is leaner", () => {
    // Asked: 24 ms at 3 g/s, 72 mg; always open: 60 mg.
    expect(report.deliveredMg[5]).toBe(60);
    expect(report.deliveredLambda![5]).toBeCloseTo((0.85 * 72) / 60, 12);
    expect(report.deliveredLambda![4]).toBe(0.85);
  });

  test("a part that isn't described is unknown, and without a target no mixture is told", () => {
    const { storage: _, ...plain } = table;
    const bare = checkCeilings({ build, table: plain });
    expect(bare.parts.find(({ part }) => part === "storage")!.verdict).toBe("unknown");
    expect(bare.deliveredLambda).toBeNull();
  });
});

test("every quantity that meters the same fuel asks the same of the parts", () => {
  fc.assert(
    fc.property(
      builds(),
      tables({ min: 3, max: 12 }),
      fc.double({ min: 0.75, max: 1.1, noNaN: true }),
      (plan, pulses, lambda) => {
        const byPulse = cellDemand({ build: plan, table: pulses, target: lambda });
        const masses = createTable({ ...pulses, quantity: "fuel-mass", unit: "mg", cells: byPulse.askedMg });
        const byMass = cellDemand({ build: plan, table: masses, target: lambda });
        const trims = createTable({ ...pulses, quantity: "trim", unit: "%", cells: pulses.cells.map(() => 0) });
        const byTrim = cellDemand({ build: plan, table: trims, target: lambda, basePulse: pulses });
        pulses.cells.forEach((ms, at) => {
          if (byPulse.askedMg[at] === 0) return;
          expect(byMass.pulseMs[at]).toBeCloseTo(ms, 9);
          expect(byTrim.askedMg[at]).toBeCloseTo(byPulse.askedMg[at]!, 9);
          expect(byMass.duty[at]).toBeCloseTo(byPulse.duty[at]!, 9);
        });
      },
    ),
  );
});

test("negative fuel is refused, naming the cell", () => {
  const masses = createTable({
    ...table,
    quantity: "fuel-mass",
    unit: "mg",
    cells: [
      [3, 4, 5],
      [6, -7, 8],
    ],
  });
  expect(() => cellDemand({ build, table: masses })).toThrow(
    "cellDemand: p at 3000 rpm, 100 kPa must not be negative, got -7 mg; correct the cell",
  );
});

test("tables that meter no fuel, and trims alone, are refused with the remedy", () => {
  const target = createTable({ ...table, id: "t", quantity: "lambda", unit: "lambda" });
  expect(() => cellDemand({ build, table: target })).toThrow("t holds lambda and meters no fuel by itself");
  const trims = createTable({ ...table, id: "tr", quantity: "trim", unit: "%" });
  expect(() => cellDemand({ build, table: trims })).toThrow("give basePulse, the factory's pulse widths");
});
