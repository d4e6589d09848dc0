import { expect, test } from "vitest";
import { fuels } from "../fuel/fuel.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { createBuild } from "./build.ts";
import { cellDemand } from "./cell-demand.ts";
import { checkCeilings } from "./check-ceilings.ts";
import { fullLoadEfficiency } from "./full-load-efficiency.ts";
import { whatWouldItTake } from "./what-would-it-take.ts";

const build = createBuild({
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 6600,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 95,
  },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1, testDensityKgPerL: 0.745 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.8 },
  place: { altitudeM: 0, temperatureC: 20 },
  throttleBody: { diameterMm: 42 },
  manifold: { effectiveAreaMm2: 520 },
});
const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 5000, 6600] });
const given = [70, 88, 84, 76];
const efficiencies = createTable({
  id: "ve",
  name: "invented",
  quantity: "volumetric-efficiency",
  rpm,
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] }),
  cells: [given.map((percent) => percent - 10), given],
});

test("the highest row of an efficiency table comes back as it is", () => {
  const curve = fullLoadEfficiency(
    { build, table: efficiencies },
    cellDemand({ build, table: efficiencies, target: 0.87 }),
  )!;
  expect(curve.map((point) => point.rpm)).toEqual([...rpm.breakpoints]);
  curve.forEach(({ percent }, at) => {
    expect(percent).toBeCloseTo(given[at]!, 9);
  });
});

test("over throttle position, without a target, or without fuel nothing is said", () => {
  const throttle = createAxis({ quantity: "throttle-position", breakpoints: [10, 100] });
  const masses = (load: typeof throttle, cells: number[][]) =>
    createTable({ id: "m", name: "invented", quantity: "fuel-mass", rpm, load, cells });
  const full = [
    [10, 10, 10, 10],
    [30, 34, 33, 30],
  ];
  const told = (table: ReturnType<typeof masses>, target?: number) => {
    const settings = { build, table, ...(target !== undefined && { target }) };
    return fullLoadEfficiency(settings, cellDemand(settings));
  };
  expect(told(masses(efficiencies.load, full), 0.87)).toHaveLength(4);
  expect(told(masses(efficiencies.load, full))).toBeUndefined();
  expect(told(masses(throttle, full), 0.87)).toBeUndefined();
  expect(told(masses(efficiencies.load, [full[0]!, [30, 34, 0, 30]]), 0.87)).toBeUndefined();
});

test("what it would take for the present power agrees with the verdict on the intake", () => {
  const settings = { build, table: efficiencies, target: 0.87 };
  const verdict = checkCeilings(settings).parts.find(({ part }) => part === "intake")!;
  const now = whatWouldItTake({ ...settings, wish: { displacementCc: build.engine.displacementCc } });
  // Both look for the rpm at which 5 % are lost; the area wanted is the rev limit over it.
  expect(now.intake!.areaFactor).toBeCloseTo(1 / (1 + verdict.inHandPercent! / 100), 9);
  expect(now.parts.find(({ part }) => part === "intake")!.enough).toBe(verdict.inHandPercent! >= 0);
});
