import { createBuild } from "../src/build/build.ts";
import { checkCeilings } from "../src/build/check-ceilings.ts";
import { scaleCells } from "../src/cells/scale-cells.ts";
import { setCells } from "../src/cells/set-cells.ts";
import { fuels } from "../src/fuel/fuel.ts";
import { createTable } from "../src/values/fuel-table.ts";

/** An invented table, small enough to be read on paper. */
export const before = createTable({
  id: "main",
  name: "Invented pulses",
  quantity: "pulse-width",
  rpm: { quantity: "rpm", unit: "rpm", breakpoints: [1000, 3000, 5000, 6800] },
  load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: [30, 60, 100] },
  cells: [
    [2.5, 3, 3.25, 3],
    [5, 6, 6.5, 6],
    [9, 12, 13, 12.5],
  ],
});

/** 3 cells 25 % up, 1 of them then 30 %; 2 cells 4 % down. */
export const after = setCells(
  scaleCells(scaleCells(before, { region: { rpm: [3000, 6800], load: [100, 100] }, factor: 1.25 }), {
    region: { rpm: [1000, 3000], load: [30, 30] },
    factor: 0.96,
  }),
  { region: { rpm: [5000, 5000], load: [100, 100] }, value: 16.9 },
);

export const build = createBuild({
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 6800,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 86,
  },
  fuel: fuels.petrol,
  injectors: { name: "invented", flowGramsPerSecond: 2.3, ratedPressureKpa: 300, deadTime: 0.9, smallestPulseMs: 2.9 },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.5 },
  place: { altitudeM: 0, temperatureC: 20 },
  pump: {
    name: "invented",
    curve: [
      { pressureKpa: 250, litresPerHour: 18 },
      { pressureKpa: 400, litresPerHour: 8 },
    ],
    ratedVolts: 13.5,
  },
});

export const report = checkCeilings({ build, table: after, target: 0.88 });
