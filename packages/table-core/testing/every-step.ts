import { createBuild } from "../src/build/build.ts";
import { createJob, type Job } from "../src/job/job.ts";
import type { Step, StepKind } from "../src/job/step.ts";
import { checkStep } from "../src/job/step-schema.ts";
import { createAxis } from "../src/values/axis.ts";
import { createTable, type FuelTable, type FuelTableSpec } from "../src/values/fuel-table.ts";
import { inventedBuild } from "./jobs.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 4000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60, 100] });
const places = load.breakpoints.flatMap((kpa) => rpm.breakpoints.map((r) => [r, kpa] as const));

const invented = (id: string, cell: (rpm: number, kpa: number) => number, rest: Partial<FuelTableSpec> = {}) =>
  createTable({
    id,
    name: `invented, ${id}`,
    quantity: "pulse-width",
    rpm,
    load,
    cells: Float64Array.from(places, ([r, kpa]) => cell(r, kpa)),
    ...rest,
  });

const pulse = (r: number, kpa: number) => 1.4 + kpa / 14 + r / 9000 + (r === 2000 ? 0.3 : 0);

/** Invented tables: pulses, masses, a target, both cylinders, a trim, and a one-row correction. */
export const inventedTables: readonly FuelTable[] = [
  invented("t", pulse, { storage: { min: 0, max: 25, step: 0.01 }, locked: [{ rpm: [1000, 1000], load: [30, 30] }] }),
  invented("m", (r, kpa) => 2 + kpa / 5 + r / 3000, { quantity: "fuel-mass" }),
  invented("target", (_, kpa) => (kpa > 80 ? 0.88 : 1), { quantity: "lambda" }),
  invented("trim-2", (r) => r / 2000, { quantity: "trim", cylinder: 2 }),
  invented("front", pulse, { cylinder: 1 }),
  invented("rear", (r, kpa) => 1.03 * pulse(r, kpa), { cylinder: 2 }),
  createTable({
    id: "warm-up",
    name: "invented, warm-up",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-10, 30, 80] }),
    cells: [[1.4, 1.1, 1]],
  }),
];

const figure = { value: 0.1, deviation: 0.02 };
const cells = (value: number) => places.map(() => value);

/** What a log is said to have shown of `t`: 4 % too lean everywhere. */
export const inventedEvidence = {
  version: 1,
  name: "invented ride",
  logs: ["invented.csv"],
  simulated: true,
  rpm: { quantity: "rpm", breakpoints: [...rpm.breakpoints] },
  load: { quantity: "manifold-pressure", breakpoints: [...load.breakpoints] },
  factors: cells(1.04),
  deviations: cells(0.005),
  samples: cells(200),
  seconds: cells(10),
  residuals: cells(0),
  spreads: cells(0.01),
  delay: {
    sensors: [{ sensor: 1, constant: figure, flow: figure, lag: figure, total: figure }],
    film: { share: figure, time: figure, covariance: 0 },
    reference: { rpm: 3000, manifoldKpa: 60 },
    found: true,
    profile: [{ delay: 0.1, residual: 0.02 }],
  },
  noise: 0.01,
  inflation: 4,
  used: 2400,
  usedSeconds: 120,
  gates: [{ kind: "warm", label: "warm", removed: 12, alone: 3 }],
  deadTime: { value: 0.05, deviation: 0.02, supported: true },
  warmth: null,
  warnings: [{ code: "simulated", text: "The log is simulated.", details: { logs: 1, name: "invented" } }],
} as const;

const middle = { rpm: [2000, 4000], load: [60, 100], feather: { rpm: 500, load: 5 }, also: [{ rpm: [6000, 6000] }] };
const newSet = {
  name: "new set",
  flowGramsPerSecond: 3.6,
  ratedPressureKpa: 300,
  testDensityKgPerL: 0.74,
  deadTime: [
    { volts: 9, ms: 1.4, pressureKpa: 300 },
    { volts: 14, ms: 0.6, pressureKpa: 300 },
  ],
  shortPulse: [
    { effectiveMs: 0.4, deliveredMs: 0.3 },
    { effectiveMs: 0.8, deliveredMs: 0.8 },
  ],
  smallestPulseMs: 0.9,
};

/** Each kind of step with every setting it can have, in several forms where one form cannot have them all. */
const everySetting: readonly (readonly [StepKind, object, table?: string])[] = [
  ["set-cells", { region: middle, value: 5 }],
  ["scale-cells", { region: middle, factor: 1.05 }],
  ["offset-cells", { region: middle, amount: 0.2 }],
  ["limit-cells", { region: middle, min: 2, max: 5.2 }],
  ["evaluate-cells", { region: middle, expression: "cell * (1 + target / 100)" }],
  ["paste-cells", { rpm: [2000, 4000], load: [60], cells: [[5.5, 5.7]] }],
  ["lock-cells", { region: { rpm: [6000, 6000] } }],
  ["unlock-cells", { region: { rpm: [6000, 6000] } }],
  [
    "smooth-cells",
    {
      region: middle,
      rpmStrength: 0.5,
      loadStrength: 0.2,
      weights: [{ region: { rpm: [2000, 2000] }, weight: 0.5 }],
      hold: "rim",
      mostChange: 0.4,
    },
  ],
  ["smooth-cells", { strength: "auto" }],
  ["smooth-cells", { strength: 0.3 }],
  ["fill-cells", { region: { rpm: [2000, 4000], load: [60, 60] }, along: "rpm" }],
  ["extrapolate-cells", { rpm: [7000], load: [110], trendOver: 2, fade: 0.5 }],
  ["blend-tables", { region: middle, with: { table: "front", after: "source" }, weight: 0.25 }],
  ["blend-tables", { with: { table: "rear" }, weight: { along: "rpm", from: [2000, 0], to: [6000, 1] } }],
  ["rebin-table", { rpm: [1000, 2000, 3000, 6000], load: [30, 60, 80, 100] }],
  ["shape-cells", { region: middle, along: "load", points: [[30, 1], [100, 1.1]] }], // biome-ignore format: points
  ["quantise-table", { storage: { min: 0, max: 20, step: 0.05 }, diffuse: true }],
  ["split-by-cylinder", { cylinders: 2, trims: ["trim-2"] }],
  ["join-cylinders", { tables: ["front", "rear"], base: "t" }, ""],
  ["copy-cylinder", { tables: ["front", "rear"], from: 1, to: [2], region: middle }, ""],
  ["rescale-for-injectors", { tables: ["t", "m"], basePulse: "t", to: newSet, closedCells: "keep" }, ""],
  ["retarget-mixture", { region: middle, from: { table: "target" }, to: 0.9, basePulse: "t", target: "target" }],
  ["retarget-mixture", { from: 1, to: { table: "target", after: "source" }, target: "target" }, "m"],
  [
    "change-fuel",
    {
      tables: ["t", "m"],
      basePulse: "t",
      to: {
        name: "invented blend",
        stoichiometricRatio: 12.5,
        densityKgPerL: 0.76,
        latentHeatKjPerKg: 500,
        lowerHeatingValueMjPerKg: 38,
        composition: { carbon: 2, hydrogen: 5, oxygen: 0.4 },
      },
    },
    "",
  ],
  ["change-displacement", { tables: ["m"], basePulse: "t", toCc: 1150, region: middle }, ""],
  [
    "change-intake",
    {
      tables: ["t"],
      basePulse: "t",
      to: {
        throttleBody: { name: "larger", diameterMm: 46, count: 1, shaftMm: 8, dischargeCoefficient: 0.9 },
        manifold: {
          name: "straight",
          flowBench: { litresPerSecond: 60, depressionKpa: 7, temperatureC: 20, barometricKpa: 101 },
          passages: 2,
        },
        intake: { layout: "separate-pulses", openDegrees: 240, sensor: "after-manifold" },
      },
      region: middle,
    },
    "",
  ],
  ["change-intake", { tables: ["m"], to: { manifold: { effectiveAreaMm2: 900 } } }, ""],
  ["convert-fuel-table", { to: "volumetric-efficiency", target: "target", basePulse: "t" }],
  [
    "apply-evidence",
    {
      region: middle,
      evidence: inventedEvidence,
      fraction: 0.8,
      cap: 0.1,
      deviations: 1,
      manner: "shrunk",
      smooth: 0.1,
      leastSamples: 5,
      basePulse: "t",
    },
  ],
];

/** The steps of {@link everyStepJob}: every kind, every setting. */
export const everyStep: readonly Step[] = everySetting.map(([kind, settings, table = "t"], at) =>
  checkStep({
    id: `s${at}`,
    kind,
    ...(table && { table }),
    settings,
    on: true,
    note: at === 0 ? "invented" : "",
    time: "2026-01-05T09:00:00.000Z",
  }),
);

/** A job with a step of every kind, all invented: for tests that ask each of them something. */
export const everyStepJob: Job = createJob({
  id: "every-step",
  name: "invented",
  about: "A step of every kind.",
  invented: true,
  created: "2026-01-05T09:00:00.000Z",
  build: createBuild({
    ...inventedBuild,
    throttleBody: { name: "as built", diameterMm: 42, shaftMm: 8 },
    manifold: { name: "as built", flowBench: { litresPerSecond: 53, depressionKpa: 6.97 }, passages: 2 },
    intake: { layout: "separate-pulses" },
    pump: {
      curve: [
        { pressureKpa: 250, litresPerHour: 25 },
        { pressureKpa: 400, litresPerHour: 17 },
      ],
    },
    stages: [{ name: "larger body", throttleBody: { diameterMm: 50 } }],
  }),
  tables: inventedTables,
  roles: { target: "target", basePulse: "t" },
  steps: everyStep,
  named: [{ name: "before the parts", after: "s17" }],
});
