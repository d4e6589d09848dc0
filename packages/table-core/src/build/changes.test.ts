import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { builds, tables } from "../../testing/arbitraries.ts";
import { correctPower } from "../air/correct-power.ts";
import { fuels } from "../fuel/fuel.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { createBuild } from "./build.ts";
import { cellDemand } from "./cell-demand.ts";
import { changeDisplacement } from "./change-displacement.ts";
import { changeIntake } from "./change-intake.ts";
import { checkCeilings } from "./check-ceilings.ts";
import { comparePlaces } from "./compare-places.ts";
import { compareStages } from "./compare-stages.ts";
import { convertFuelTable } from "./convert-fuel-table.ts";
import { solveIntake } from "./solve-intake.ts";
import { whatWouldItTake } from "./what-would-it-take.ts";

const build = createBuild({
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 7000,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 88,
    chargeTemperatureC: 40,
    brakeSpecificFuelConsumptionGPerKwh: 320,
  },
  fuel: fuels.petrol,
  injectors: {
    name: "invented",
    flowGramsPerSecond: 3,
    ratedPressureKpa: 300,
    deadTime: 1,
    smallestPulseMs: 1.6,
    testDensityKgPerL: 0.745,
  },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
  throttleBody: { diameterMm: 36, count: 2 },
  manifold: { effectiveAreaMm2: 650 },
  intake: { layout: "separate-pulses" },
  pump: {
    curve: [
      { pressureKpa: 0, litresPerHour: 40 },
      { pressureKpa: 400, litresPerHour: 18 },
    ],
    ratedVolts: 13.8,
  },
});
const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 5000, 7000] });
const pressure = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 70, 100] });
const throttle = createAxis({ quantity: "throttle-position", breakpoints: [5, 30, 100] });
const charge = createAxis({ quantity: "air-charge", breakpoints: [100, 300, 500] });
const cells = [
  [2.6, 2.8, 2.9, 3],
  [5, 5.6, 5.8, 5.6],
  [8, 9.2, 9.6, 9],
];
const table = createTable({ id: "p", name: "invented", quantity: "pulse-width", rpm, load: pressure, cells });
const overThrottle = createTable({ ...table, load: throttle });

describe("displacement", () => {
  test("scales the fuel of every cell exactly, through dead time", () => {
    const { table: next, report } = changeDisplacement(table, { fromCc: 1000, toCc: 1100, build });
    next.cells.forEach((ms, at) => {
      expect(ms).toBeCloseTo((table.cells[at]! - 1) * 1.1 + 1, 10);
    });
    expect(report.basis).toBe("computed");
    expect(report.fuelChangePercent[5]).toBeCloseTo(10, 9);
  });

  test("there and back is the identity", () => {
    fc.assert(
      fc.property(builds(), tables({ min: 3, max: 15 }), fc.integer({ min: 300, max: 2000 }), (plan, made, toCc) => {
        const there = changeDisplacement(made, { fromCc: 1000, toCc, build: plan }).table;
        const back = changeDisplacement(there, { fromCc: toCc, toCc: 1000, build: plan }).table;
        back.cells.forEach((ms, at) => {
          expect(ms).toBeCloseTo(made.cells[at]!, 9);
        });
      }),
      { numRuns: 40 },
    );
  });

  test("efficiencies and tables over air charge stay, and corrections over other axes too", () => {
    const efficiency = createTable({ ...table, quantity: "volumetric-efficiency", unit: "%" });
    const kept = changeDisplacement(efficiency, { fromCc: 1000, toCc: 1100, build });
    expect(kept.table).toBe(efficiency);
    expect(kept.report.changed).toBe("constants");
    expect(kept.report.fuelChangePercent[0]).toBeCloseTo(10, 9);
    const measured = createTable({ ...table, load: charge });
    expect(changeDisplacement(measured, { fromCc: 1000, toCc: 1100, build }).table).toBe(measured);
    const warmUp = createTable({
      id: "w",
      name: "invented",
      quantity: "factor",
      rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-10, 80] }),
      cells: [[1.5, 1]],
    });
    expect(changeDisplacement(warmUp, { fromCc: 1000, toCc: 1100, build }).table).toBe(warmUp);
    expect(() => changeDisplacement(table, { fromCc: 0, toCc: 1100, build })).toThrow("fromCc must be above 0");
  });
});

describe("intake", () => {
  const to = { throttleBody: { diameterMm: 44, count: 2 } };

  test("over throttle position each cell is solved with both parts", () => {
    const { table: next, report } = changeIntake(overThrottle, { build, to });
    expect(report.firstGuess).toBe(true);
    expect(report.basis).toBe("estimated");
    const airAt = (parts: typeof build, openingPercent: number, at: number) =>
      solveIntake({ build: parts, rpm: at, openingPercent }).points[0]!.airMg;
    const larger = createBuild({ ...build, ...to });
    throttle.breakpoints.forEach((opening, row) => {
      rpm.breakpoints.forEach((turns, column) => {
        const expected = airAt(larger, opening, turns) / airAt(build, opening, turns);
        const at = row * 4 + column;
        expect(report.airFactor[at]).toBeCloseTo(expected, 9);
        expect(next.cells[at]).toBeCloseTo((overThrottle.cells[at]! - 1) * expected + 1, 6);
      });
    });
    // A larger bore opens more at the same angle: most at part throttle and high rpm.
    expect(report.airFactor[3]).toBeGreaterThan(report.airFactor[11]!);
    expect(report.fullThrottle.at(-1)!.airChangePercent).toBeGreaterThan(0);
  });

  test("over manifold pressure the sensor takes it in", () => {
    const { table: next, report } = changeIntake(table, { build, to });
    expect(next).toBe(table);
    expect(report.changed).toBe("nothing");
    expect(report.fullThrottle.at(-1)!.manifoldKpaAfter).toBeGreaterThan(report.fullThrottle.at(-1)!.manifoldKpaBefore);
  });

  test("a sensor before the manifold doesn't see the manifold change", () => {
    const plenum = createBuild({ ...build, intake: { layout: "shared-plenum", sensor: "before-manifold" } });
    const { table: next, report } = changeIntake(table, { build: plenum, to: { manifold: { effectiveAreaMm2: 300 } } });
    expect(report.changed).toBe("cells");
    // Less area behind the sensor: less air at the same reading, most at high rpm.
    expect(report.airFactor[11]).toBeLessThan(report.airFactor[8]!);
    expect(next.cells[11]).toBeLessThan(table.cells[11]!);
    expect(changeIntake(table, { build: plenum, to }).report.airFactor[11]).toBeCloseTo(1, 12);
  });

  test("the same parts change nothing", () => {
    const same = changeIntake(overThrottle, { build, to: { throttleBody: build.throttleBody! } });
    expect(same.table.cells).toEqual(overThrottle.cells);
  });
});

test("a table converts to other quantities and back", () => {
  fc.assert(
    fc.property(builds(), tables({ min: 3, max: 12 }), (plan, made) => {
      const given = { build: plan, target: 0.9 };
      const efficiency = convertFuelTable(made, { ...given, to: "volumetric-efficiency" }).table;
      const mass = convertFuelTable(efficiency, { ...given, to: "fuel-mass" }).table;
      const back = convertFuelTable(mass, { ...given, to: "pulse-width" }).table;
      const asked = cellDemand({ ...given, table: made }).askedMg;
      back.cells.forEach((ms, at) => {
        if (asked[at]! > 0) expect(ms).toBeCloseTo(made.cells[at]!, 9);
      });
    }),
    { numRuns: 40 },
  );
  expect(() => convertFuelTable(table, { build, to: "volumetric-efficiency" })).toThrow("give target");
});

describe("stages", () => {
  const staged = createBuild({
    ...build,
    stages: [
      {
        name: "cam",
        airCurve: [
          { rpm: 3000, factor: 1 },
          { rpm: 7000, factor: 1.15 },
        ],
      },
      {
        name: "cam and big bore",
        displacementCc: 1302,
        airCurve: [
          { rpm: 3000, factor: 1 },
          { rpm: 7000, factor: 1.15 },
        ],
      },
      { name: "and its injectors", displacementCc: 1302, injectors: { ...build.injectors, flowGramsPerSecond: 5 } },
    ],
  });
  const reports = compareStages({ build: staged, table, target: 0.88 });

  test("the first is the build as it is", () => {
    expect(reports.map(({ name }) => name)).toEqual(["as it is", "cam", "cam and big bore", "and its injectors"]);
    const own = cellDemand({ build: staged, table, target: 0.88 }).askedMg;
    reports[0]!.demand.cells.forEach((mg, at) => {
      expect(mg).toBeCloseTo(own[at]!, 9);
    });
  });

  test("demand grows by displacement and the drawn curve", () => {
    const own = reports[0]!.demand.cells;
    expect(reports[2]!.demand.cells[11]! / own[11]!).toBeCloseTo(1.2 * 1.15, 9);
    expect(reports[1]!.demand.cells[10]! / own[10]!).toBeCloseTo(1.075, 9);
    expect(reports[2]!.peakPowerKw).toBeGreaterThan(reports[0]!.peakPowerKw);
    expect(reports[2]!.assumptions.map(({ id }) => id)).toContain("air-curve-drawn");
  });

  test("what has to change is said, and what is changed no longer is", () => {
    const duty = (at: number) => Math.max(...reports[at]!.ceilings.demand.duty);
    expect(duty(3)).toBeLessThan(duty(2));
    for (const report of reports) {
      const toChange = report.ceilings.parts.filter(({ verdict }) => verdict === "at-limit" || verdict === "gives-out");
      expect(report.toChange.length).toBeGreaterThanOrEqual(toChange.length);
    }
  });
});

describe("a wish", () => {
  test("for the power there is asks for nothing more", () => {
    const now = whatWouldItTake({ build, table, wish: { displacementCc: 1085 }, target: 0.88 });
    expect(now.factor).toBe(1);
    expect(now.powerKw).toBeCloseTo(now.powerNowKw, 12);
    const ceilings = checkCeilings({ build, table, target: 0.88 });
    const injectors = ceilings.parts.find(({ part }) => part === "injectors")!;
    expect(now.parts[0]!.enough).toBe(injectors.inHandPercent! >= 0);
  });

  test("for double the power asks for double the fuel", () => {
    const now = whatWouldItTake({ build, table, wish: { displacementCc: 1085 } });
    const wish = whatWouldItTake({ build, table, wish: { powerKw: now.powerNowKw * 2 } });
    expect(wish.factor).toBeCloseTo(2, 12);
    expect(wish.injectors.smallest!.flowGramsPerSecond).toBeCloseTo(now.injectors.smallest!.flowGramsPerSecond * 2, 9);
    expect(wish.pump.needLitresPerHour).toBeCloseTo(now.pump.needLitresPerHour * 2, 9);
    // What a part loses depends on air over area: twice the air wants twice the area.
    expect(wish.intake!.areaFactor / now.intake!.areaFactor).toBeCloseTo(2, 3);
    expect(wish.parts.map(({ enough }) => enough)).toEqual([false, false, false]);
    // The area it names does it.
    const { areaFactor } = wish.intake!;
    const grown = createBuild({
      ...build,
      throttleBody: { diameterMm: 36 * Math.sqrt(areaFactor), count: 2 },
      manifold: { effectiveAreaMm2: 650 * areaFactor },
    });
    const [point] = solveIntake({ build: grown, rpm: 7000, volumetricEfficiencyPercent: 176 }).points;
    expect(point!.lossPercent).toBeCloseTo(5, 1);
  });

  test("for nothing is refused", () => {
    expect(() => whatWouldItTake({ build, table, wish: { powerKw: 0 } })).toThrow("wish.powerKw must be above 0");
  });
});

describe("another place", () => {
  const pass = { altitudeM: 2000, temperatureC: 10 };
  const there = comparePlaces({ build, to: pass, table, target: 0.88 });

  test("less air by pressure and temperature", () => {
    expect(there.barometricKpa.to).toBeCloseTo(79.4952, 3);
    expect(there.chargeTemperatureC.to).toBe(30);
    expect(there.airFactor).toBeCloseTo((79.4952 / 303.15) * (313.15 / 101.325), 5);
    const factor = (temperatureC: number, barometricKpa: number) =>
      correctPower({ standard: "sae-j1349-2004", temperatureC, barometricKpa }).factor;
    expect(there.powerFactor).toBeCloseTo(factor(20, 101.325) / factor(10, there.barometricKpa.to), 9);
    expect(there.powerWithinRange).toBe(false);
  });

  test("who measures what is told by its mixture", () => {
    const by = Object.fromEntries(there.controllers.map(({ kind, lambdaFactor }) => [kind, lambdaFactor]));
    expect(by["throttle-uncorrected"]).toBe(there.airFactor);
    expect(by["throttle-corrected"]).toBe(1);
    expect(by["manifold-pressure-uncorrected"]).toBeCloseTo(313.15 / 303.15, 12);
    expect(by["manifold-pressure-corrected"]).toBe(1);
    expect(there.controllers[0]!.sentence).toContain("richer");
    expect(there.controllers[2]!.sentence).toContain("leaner: watch detonation");
  });

  test("a fixed rail pushes less, a manifold-referenced one the same", () => {
    expect(there.injectorFlowFactor).toBeCloseTo(
      Math.sqrt((300 + there.barometricKpa.to - 101.325 / 2) / (300 + 101.325 / 2)),
      12,
    );
    const referenced = createBuild({ ...build, rail: { kind: "manifold-referenced", pressureKpa: 300 } });
    expect(comparePlaces({ build: referenced, to: pass }).injectorFlowFactor).toBe(1);
    expect(there.ceilings!.to.demand.pressureKpa[0]).toBeLessThan(there.ceilings!.from.demand.pressureKpa[0]!);
  });

  test("the same place changes nothing; one out of range is refused", () => {
    const same = comparePlaces({ build, to: build.place });
    expect([same.airFactor, same.powerFactor, same.ceilings]).toEqual([1, 1, null]);
    expect(() => comparePlaces({ build, to: { altitudeM: 9000, temperatureC: 5 } })).toThrow("did you mean 9000 ft");
  });
});
