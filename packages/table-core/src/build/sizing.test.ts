import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, pumps, tables } from "../../testing/arbitraries.ts";
import { barometricPressure } from "../air/place.ts";
import { fuels } from "../fuel/fuel.ts";
import { createInjector } from "../fuel/injector.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable } from "../values/fuel-table.ts";
import { createBuild } from "./build.ts";
import { cellDemand } from "./cell-demand.ts";
import { checkCeilings } from "./check-ceilings.ts";
import { fullLoadEfficiency } from "./full-load-efficiency.ts";
import { createPump } from "./parts.ts";
import { estimatePower, fullLoadCurve } from "./power.ts";
import { pumpCurve, pumpFlow, pumpLoad } from "./pump-flow.ts";
import { sizeInjectors, sizeInjectorsForPower } from "./size-injectors.ts";
import { sizePump } from "./size-pump.ts";
import { solveIntake } from "./solve-intake.ts";

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
const masses = createTable({
  id: "m",
  name: "invented",
  quantity: "fuel-mass",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 6000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] }),
  cells: [
    [6, 8, 9],
    [24, 30, 36],
  ],
});

describe("the window of injectors, worked on paper", () => {
  const sized = sizeInjectors({ build, table: masses });

  test("smallest: 36 mg in 80 % of 20 ms less 1 ms dead time", () => {
    expect(sized.smallest!.flowGramsPerSecond).toBeCloseTo(36 / 15, 12);
    expect(sized.smallest!.flowCcPerMinute).toBeCloseTo(((36 / 15) * 60) / 0.745, 9);
    expect(sized.smallest!.cell).toEqual({ at: 5, rpm: 6000, load: 100, value: 36 });
  });

  test("largest: 6 mg in a pulse of 1.6 ms less 1 ms dead time", () => {
    expect(sized.largest!.flowGramsPerSecond).toBeCloseTo(6 / 0.6, 9);
    expect(sized.largest!.cell.at).toBe(0);
    expect(sized.fits).toBe(true);
    expect(sized.basis).toBe("computed");
    expect(sized.rail).toBeNull();
  });

  test("where idle counts can be said, and spare can be asked for", () => {
    const idle = sizeInjectors({
      build,
      table: masses,
      idleRegion: { rpm: [3000, 3000], load: [40, 40] },
      sparePercent: 10,
    });
    expect(idle.largest!.flowGramsPerSecond).toBeCloseTo(8 / 0.6, 9);
    expect(idle.smallest!.flowGramsPerSecond).toBeCloseTo(39.6 / 15, 9);
  });

  test("more rail pressure is told as another way, with the pump's say", () => {
    const short = createBuild({ ...build, injectors: { ...build.injectors, flowGramsPerSecond: 2 } });
    // 2 g/s has to become 2.4: 300 · 1.44.
    const { rail } = sizeInjectors({ build: short, table: masses });
    expect(rail!.pressureKpa).toBeCloseTo(432, 3);
    expect(rail!.pumpKeepsUp).toBeNull();
    // The engine burns 36 mg · 2 · 50 /s: 17.4 L/h. A pump of 30 L/h at 300 kPa has that still at 432 kPa, or hasn't.
    const withPump = (litresPerHour: number) =>
      sizeInjectors({
        build: createBuild({
          ...short,
          pump: {
            curve: [
              { pressureKpa: 300, litresPerHour: 30 },
              { pressureKpa: 432, litresPerHour },
            ],
          },
        }),
        table: masses,
      }).rail!.pumpKeepsUp;
    expect(withPump(17.5)).toBe(true);
    expect(withPump(17.2)).toBe(false);
  });

  test("what can't be done is said", () => {
    const wide = createTable({
      ...masses,
      cells: [
        [2, 2, 2],
        [24, 30, 90],
      ],
    });
    expect(sizeInjectors({ build, table: wide }).fits).toBe(false);
    const fast = createTable({ ...masses, rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 100_000] }) });
    const none = sizeInjectors({ build, table: fast });
    expect(none.smallest).toBeNull();
    expect(none.sentence).toContain("dead time eats");
    const empty = createTable({
      ...masses,
      cells: [
        [0, 0, 0],
        [0, 0, 0],
      ],
    });
    expect(() => sizeInjectors({ build, table: empty })).toThrow(FuelwrightError);
    const { smallestPulseMs: _, ...injectors } = build.injectors;
    const assumed = sizeInjectors({ build: createBuild({ ...build, injectors }), table: masses });
    expect(assumed.assumptions.map(({ id }) => id)).toContain("smallest-pulse");
    // 1.5 ms assumed leaves 0.5 open, 2 ms would leave 1: half the size.
    expect(assumed.assumptions.find(({ id }) => id === "smallest-pulse")!.mattersPercent).toBeCloseTo(50, 9);
  });
});

test("the injector that sizing names just meets the ceiling", () => {
  fc.assert(
    fc.property(builds(), tables({ min: 2, max: 12 }), (plan, pulses) => {
      const asked = cellDemand({ build: plan, table: pulses }).askedMg;
      if (!asked.some((mg) => mg > 0)) return;
      const table = createTable({ ...pulses, quantity: "fuel-mass", unit: "mg", cells: asked });
      const { smallest } = sizeInjectors({ build: plan, table });
      if (!smallest) return;
      const fitted = { ...plan, injectors: { ...plan.injectors, flowGramsPerSecond: smallest.flowGramsPerSecond } };
      const { demand, ceilings } = checkCeilings({ build: fitted, table });
      expect(Math.max(...demand.duty)).toBeCloseTo(plan.planning.dutyPercent / 100, 9);
      expect(ceilings.some(({ kind }) => kind === "static")).toBe(false);
      const smaller = {
        ...fitted,
        injectors: { ...fitted.injectors, flowGramsPerSecond: smallest.flowGramsPerSecond * 0.99 },
      };
      expect(checkCeilings({ build: smaller, table }).ceilings.some(({ part }) => part === "injectors")).toBe(true);
    }),
  );
});

test("flow for a power is arithmetic, and refuses nonsense", () => {
  expect(
    sizeInjectorsForPower({ powerKw: 60, brakeSpecificFuelConsumptionGPerKwh: 300, injectors: 2, dutyPercent: 80 }),
  ).toEqual({ totalGramsPerSecond: 5, flowGramsPerSecond: 3.125, basis: "computed" });
  expect(() =>
    sizeInjectorsForPower({ powerKw: 60, brakeSpecificFuelConsumptionGPerKwh: 300, injectors: 0, dutyPercent: 80 }),
  ).toThrow("injectors must be between 1 and 64");
});

describe("pumps", () => {
  const pump = createPump({
    curve: [
      { pressureKpa: 400, litresPerHour: 40, volts: 12 },
      { pressureKpa: 0, litresPerHour: 80, volts: 12 },
      { pressureKpa: 300, litresPerHour: 66, volts: 14 },
    ],
  });

  test("flow is linear over pressure and voltage, held below and followed above", () => {
    expect(pumpFlow(pump, { pressureKpa: 200, volts: 12 }).litresPerHour).toBe(60);
    expect(pumpFlow(pump, { pressureKpa: 500, volts: 12 }).litresPerHour).toBe(30);
    expect(pumpFlow(pump, { pressureKpa: 900, volts: 12 }).litresPerHour).toBe(0);
    expect(pumpFlow(pump, { pressureKpa: 300, volts: 13 }).litresPerHour).toBe(58);
    // Below 12 V by voltage: 50 · 10/12.
    const low = pumpFlow(pump, { pressureKpa: 300, volts: 10 });
    expect(low.litresPerHour).toBeCloseTo((50 * 10) / 12, 12);
    expect(low.assumptions.map(({ id }) => id)).toEqual(["pump-voltage-scaled"]);
  });

  test("sizing names the cell, the pressure and what is in hand", () => {
    const fitted = createBuild({
      ...build,
      pump: {
        curve: [
          { pressureKpa: 0, litresPerHour: 40 },
          { pressureKpa: 400, litresPerHour: 20 },
        ],
        ratedVolts: 13.8,
        lossKpa: 20,
      },
    });
    const sized = sizePump({ build: fitted, table: masses });
    const need = (36 * 2 * 50 * 3.6) / 1000 / 0.745;
    expect(sized.needLitresPerHour).toBeCloseTo(need, 9);
    expect(sized.wantedLitresPerHour).toBeCloseTo(need * 1.2, 9);
    // 300 kPa over a manifold 1.325 kPa below outside, and 20 kPa of filter.
    expect(sized.pressureKpa).toBeCloseTo(318.675, 9);
    expect(sized.pump!.litresPerHour).toBeCloseTo(40 - 318.675 / 20, 9);
    expect(sized.pump!.givesOutKpa).toBeCloseTo((40 - need) * 20, 6);
    expect(sizePump({ build, table: masses }).pump).toBeNull();
  });

  test("more volts never give less, more pressure never more", () => {
    fc.assert(
      fc.property(
        pumps(),
        fc.integer({ min: 0, max: 900 }),
        fc.integer({ min: 0, max: 300 }),
        fc.integer({ min: 80, max: 150 }),
        (made, pressureKpa, more, tenths) => {
          const volts = tenths / 10;
          const { litresPerHour } = pumpFlow(made, { pressureKpa, volts });
          expect(pumpFlow(made, { pressureKpa: pressureKpa + more, volts }).litresPerHour).toBeLessThanOrEqual(
            litresPerHour + 1e-9,
          );
          if (made.curve[0]!.volts !== undefined)
            expect(pumpFlow(made, { pressureKpa, volts: volts + 0.5 }).litresPerHour).toBeGreaterThanOrEqual(
              litresPerHour - 1e-9,
            );
        },
      ),
    );
  });

  test("a curve that rises, or repeats, or says volts at some points, is refused by name", () => {
    const point = { pressureKpa: 300, litresPerHour: 40 };
    expect(() => createPump({ curve: [{ pressureKpa: 100, litresPerHour: 30 }, point] }, "build.pump")).toThrow(
      "build.pump.curve must not rise with pressure, got 30 L/h at 100 kPa and 40 L/h at 300 kPa; a pump gives less against more pressure, check both points",
    );
    expect(() => createPump({ curve: [point, point] })).toThrow("300 kPa twice");
    expect(() => createPump({ curve: [point, { pressureKpa: 400, litresPerHour: 30, volts: 12 }] })).toThrow(
      "at every point or at none",
    );
    expect(() => createPump({ curve: [{ ...point, volts: 0 }] })).toThrow("volts must be above 0");
    expect(() =>
      createPump({
        curve: [
          { pressureKpa: 3, litresPerHour: 40 },
          { pressureKpa: 4, litresPerHour: 50 },
        ],
      }),
    ).toThrow("must not rise");
    expect(() => createPump({ curve: [] })).toThrow("give at least one pressure");
  });
});

describe("a pump that gives out", () => {
  const weak = createBuild({
    ...build,
    pump: {
      curve: [
        { pressureKpa: 0, litresPerHour: 24 },
        { pressureKpa: 300, litresPerHour: 15 },
      ],
      ratedVolts: 13.8,
    },
  });
  const report = checkCeilings({ build: weak, table: masses, target: 0.85 });

  test("lets rail pressure fall until injectors and pump agree, and the mixture goes lean", () => {
    const drop = report.railDropKpa![5]!;
    expect(drop).toBeGreaterThan(0);
    // By hand: what the injectors draw at that pressure is what the pump gives there.
    const pulse = 36 / 3 + 1;
    const drawn = 3 * Math.sqrt((300 - drop) / 300) * (pulse - 1);
    const litres = (drawn * 2 * 50 * 3.6) / 1000 / 0.745;
    expect(litres).toBeCloseTo(24 - (300 - 1.325 - drop) * 0.03, 6);
    expect(report.deliveredMg[5]).toBeCloseTo(drawn, 9);
    expect(report.deliveredLambda![5]).toBeCloseTo((0.85 * 36) / drawn, 9);
    expect(report.leaner.map(({ at }) => at)).toEqual([5]);
    expect(report.ceilings.find(({ kind }) => kind === "pump-short")!.cells.map(({ at }) => at)).toEqual([5]);
  });

  test("is what gives out first", () => {
    expect(report.first!.part).toBe("pump");
    expect(report.parts.find(({ part }) => part === "pump")!.verdict).toBe("gives-out");
    expect(report.parts.find(({ part }) => part === "intake")!.verdict).toBe("unknown");
  });
});

test("the pump's sag never delivers more than asked, and nothing where it keeps up", () => {
  fc.assert(
    fc.property(builds(), pumps(), tables({ min: 2, max: 25 }), (drawn, pump, table) => {
      // Dead time that falls with pressure can outweigh the flow that is lost, and a short pulse then delivers more.
      const plan = {
        ...drawn,
        injectors: createInjector({ ...drawn.injectors, deadTime: 0.5 }),
        pump: createPump(pump),
      };
      const report = checkCeilings({ build: plan, table, target: 0.9 });
      const own = report.demand.deliveredMg;
      report.deliveredMg.forEach((mg, at) => {
        expect(mg).toBeLessThanOrEqual(own[at]! * (1 + 1e-12));
        if (report.railDropKpa![at] === 0) expect(mg).toBe(own[at]);
      });
    }),
    { numRuns: 200 },
  );
});

test("rail pressure falls until the injectors draw just what the pump gives there, whatever their dead time", () => {
  fc.assert(
    fc.property(builds(), pumps(), tables({ min: 2, max: 25 }), (drawn, spec, table) => {
      const pump = createPump(spec);
      const plan = { ...drawn, pump };
      const { deliveredMg, demand, railDropKpa } = checkCeilings({ build: plan, table, target: 0.9 });
      const flow = pumpCurve(pump, plan.battery.volts);
      pumpLoad({ build: plan, table, askedMg: deliveredMg, manifoldKpa: demand.manifoldKpa }).forEach((load, at) => {
        const drop = railDropKpa![at]!;
        // A pump that gives too little even into no pressure at all has no such point.
        if (drop === 0 || drop >= demand.pressureKpa[at]! - 1e-6 || drop >= load.pumpKpa) return;
        expect(load.needLitresPerHour).toBeCloseTo(flow(load.pumpKpa - drop), 5);
      });
    }),
    { numRuns: 200 },
  );
});

describe("the intake among the ceilings", () => {
  const restricted = createBuild({
    ...build,
    engine: { ...build.engine, volumetricEfficiencyPercent: 90 },
    throttleBody: { diameterMm: 32, count: 1 },
    manifold: { effectiveAreaMm2: 350 },
    intake: { layout: "separate-pulses" },
  });
  const efficiencies = createTable({
    ...masses,
    id: "ve",
    quantity: "volumetric-efficiency",
    unit: "%",
    cells: [
      [60, 70, 75],
      [80, 95, 90],
    ],
  });
  const report = checkCeilings({ build: restricted, table: efficiencies, target: 0.88 });
  const intake = report.parts.find(({ part }) => part === "intake")!;

  test("tells what is lost at the rev limit and which rows are out of reach", () => {
    expect(intake.verdict).toBe("gives-out");
    expect(intake.inHandPercent).toBeLessThan(0);
    expect(intake.worst!.at).toBe(5);
    expect(report.ceilings.find(({ kind }) => kind === "beyond-intake")!.cells.map(({ at }) => at)).toEqual([4, 5]);
    expect(intake.basis).toBe("estimated");
  });

  test("a row at outside pressure asks for all it can give where 5 % of the air is lost", () => {
    const outside = barometricPressure(restricted.place);
    const speeds = Array.from({ length: 12 }, (_, at) => 1000 + 400 * at);
    const full = createTable({
      ...efficiencies,
      rpm: createAxis({ quantity: "rpm", breakpoints: speeds }),
      load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, outside] }),
      cells: [speeds.map(() => 60), speeds.map((rpm) => 95 - rpm / 400)],
    });
    const { parts, demand } = checkCeilings({ build: restricted, table: full, target: 0.88 });
    const share = parts.find(({ part }) => part === "intake")!.share!;
    const curve = fullLoadEfficiency({ build: restricted, table: full }, demand)!;
    const { points } = solveIntake({ build: restricted, rpm: speeds, volumetricEfficiencyPercent: curve });
    const lossy = points.map(({ lossPercent }) => lossPercent > 5);
    expect(lossy).toContain(true);
    expect(lossy).toContain(false);
    expect(Array.from(share.subarray(12), (part) => part > 1)).toEqual(lossy);
  });

  test("a larger intake has more in hand", () => {
    const larger = { ...restricted, throttleBody: { diameterMm: 45 }, manifold: { effectiveAreaMm2: 900 } };
    const better = checkCeilings({ build: larger, table: efficiencies, target: 0.88 }).parts.find(
      ({ part }) => part === "intake",
    )!;
    expect(better.inHandPercent).toBeGreaterThan(intake.inHandPercent!);
  });
});

describe("power", () => {
  test("from fuel flow and consumption", () => {
    const engine = { brakeSpecificFuelConsumptionGPerKwh: 300 };
    expect(estimatePower({ fuelGramsPerSecond: 5, engine, fuel: fuels.petrol }).powerKw).toBeCloseTo(60, 12);
    const assumed = estimatePower({ fuelGramsPerSecond: 5, engine: {}, fuel: fuels.petrol });
    expect(assumed.basis).toBe("estimated");
    expect(assumed.assumptions).toHaveLength(1);
    // As much heat makes as much power: ethanol needs 44/26.8 of the mass.
    const ethanol = estimatePower({ fuelGramsPerSecond: (5 * 44) / 26.807354, engine: {}, fuel: fuels.ethanol });
    expect(ethanol.powerKw).toBeCloseTo(assumed.powerKw, 9);
  });

  test("over rpm along the highest load row", () => {
    const { points } = fullLoadCurve({ build, table: masses, target: 0.9 });
    expect(points.map(({ rpm }) => rpm)).toEqual([1000, 3000, 6000]);
    expect(points[2]!.fuelGramsPerSecond).toBeCloseTo(3.6, 12);
    expect(points[2]!.airGramsPerSecond).toBeCloseTo(3.6 * 0.9 * fuels.petrol.stoichiometricRatio, 9);
    expect(points[2]!.powerKw).toBeCloseTo((3.6 * 3600) / 320, 9);
  });
});
