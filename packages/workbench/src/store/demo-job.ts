import {
  type BuildSpec,
  type ColourScheme,
  checkStep,
  createAxis,
  createBuild,
  createJob,
  createTable,
  defaultScheme,
  type FuelTable,
  fuels,
  type Job,
} from "@fuelwright/table-core";

/** Every figure here is invented: a coastal shop's air-cooled parallel twin that pulls a sidecar. */
const demoBuild: BuildSpec = {
  engine: {
    displacementCc: 1085,
    cylinders: 2,
    revLimitRpm: 6800,
    injectionsPerCycle: 1,
    volumetricEfficiencyPercent: 86,
    idleRpm: 1000,
  },
  fuel: fuels.petrol,
  injectors: {
    name: "first set, as built",
    flowGramsPerSecond: 2.3,
    ratedPressureKpa: 300,
    deadTime: [
      { volts: 9, ms: 1.86 },
      { volts: 11, ms: 1.28 },
      { volts: 13, ms: 0.97 },
      { volts: 15, ms: 0.78 },
    ],
    smallestPulseMs: 1.3,
  },
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
  planning: { dutyPercent: 85 },
  throttleBody: { name: "single body, as built", diameterMm: 42, shaftMm: 8 },
  manifold: { name: "forked manifold, as built", flowBench: { litresPerSecond: 53, depressionKpa: 6.97 }, passages: 2 },
  intake: { layout: "separate-pulses" },
  pump: {
    name: "in the tank, as built",
    curve: [
      { pressureKpa: 250, litresPerHour: 25.6 },
      { pressureKpa: 300, litresPerHour: 23.4 },
      { pressureKpa: 350, litresPerHour: 20.7 },
      { pressureKpa: 400, litresPerHour: 17.4 },
    ],
    ratedVolts: 13.5,
    lossKpa: 15,
  },
  // A bore alone gains little behind a narrow manifold; with both, and a cam, the pump is what runs out next.
  stages: [
    { name: "larger throttle body", throttleBody: { name: "larger body", diameterMm: 50, shaftMm: 8 } },
    {
      name: "body, manifold and cam",
      note: "the cam's curve is a guess until it was on a dyno",
      revLimitRpm: 7000,
      throttleBody: { name: "larger body", diameterMm: 50, shaftMm: 8 },
      manifold: { name: "wider manifold", flowBench: { litresPerSecond: 80, depressionKpa: 6.97 }, passages: 2 },
      airCurve: [
        { rpm: 2000, factor: 0.97 },
        { rpm: 4000, factor: 1.04 },
        { rpm: 6400, factor: 1.17 },
      ],
    },
  ],
};

const rpm = createAxis({
  quantity: "rpm",
  unit: "rpm",
  breakpoints: [900, 1200, 1500, 1800, 2200, 2600, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 6400, 6800],
});
/** 3,500 rpm and 90 kPa: a long climb. */
export const DEMO_CELL = 8 * 15 + 7;

const load = createAxis({
  quantity: "manifold-pressure",
  unit: "kPa",
  breakpoints: [20, 26, 32, 40, 50, 60, 70, 80, 90, 100],
});

/** Lambda wished for: rich under load and when pulling away, near 1 at cruise. */
function targetAt(r: number, l: number): number {
  const loaded = Math.min(1, Math.max(0, (l - 55) / 35));
  const hot = r > 5400 && l > 75 ? 0.01 : 0;
  const lambda = (r < 1300 ? 0.96 : 1.0) - 0.11 * loaded - hot;
  return Math.round(lambda * 200) / 200;
}

/** Pulse widths as a patient builder might have found them: a smooth engine, and a few cells that are off. */
function pulseAt(r: number, l: number): number {
  const efficiency = 0.58 + 0.29 * Math.exp(-(((r - 4100) / 2400) ** 2)) + 0.035 * Math.sin(r / 640 + l / 33);
  const airMg = (efficiency * l * 542.5) / (0.287 * 318);
  const massMg = airMg / (14.6 * targetAt(r, l));
  const flow = 2.3 * Math.sqrt((401.3 - l) / 300);
  const off = r === 2600 && l === 50 ? 1.045 : r === 4500 && l === 80 ? 0.965 : 1;
  return Math.round((massMg / flow + 0.91) * off * 100) / 100;
}

const fill = (at: (r: number, l: number) => number) =>
  load.breakpoints.map((l) => rpm.breakpoints.map((r) => at(r, l)));

const fuelTable = (): FuelTable =>
  createTable({
    id: "fuel",
    name: "Both cylinders",
    quantity: "pulse-width",
    rpm,
    load,
    cells: fill(pulseAt),
    storage: { min: 0, max: 25.5, step: 0.01 },
  });

const targetTable = (): FuelTable =>
  createTable({ id: "target", name: "Mixture wished for", quantity: "lambda", rpm, load, cells: fill(targetAt) });

/** The job that is open at first: our own scenario, invented throughout. */
export function demoJob(): Job {
  return createJob({
    id: "demo",
    name: "Sidecar twin, larger injectors",
    about:
      "Invented for trying things out. The first injectors run out of time near the rev limit with the sidecar on; " +
      "a larger set goes in, and the mixture under load is made richer. A larger throttle body and manifold are considered.",
    invented: true,
    created: "2026-01-05T09:00:00.000Z",
    build: createBuild(demoBuild),
    tables: [fuelTable(), targetTable()],
    roles: { target: "target" },
    steps: [
      checkStep({
        id: "s1",
        kind: "rescale-for-injectors",
        settings: {
          tables: ["fuel"],
          to: {
            name: "larger set",
            flowGramsPerSecond: 3.05,
            ratedPressureKpa: 300,
            deadTime: [
              { volts: 9, ms: 2.04 },
              { volts: 11, ms: 1.44 },
              { volts: 13, ms: 1.12 },
              { volts: 15, ms: 0.91 },
            ],
            smallestPulseMs: 1.45,
          },
        },
        on: true,
        note: "the first set was open 9/10 of the time at the rev limit",
        time: "2026-01-05T09:20:00.000Z",
      }),
      checkStep({
        id: "s2",
        kind: "retarget-mixture",
        table: "fuel",
        settings: {
          region: { rpm: [2600, 6800], load: [90, 100], feather: { rpm: 600, load: 20 } },
          from: { table: "target" },
          to: 0.85,
          target: "target",
        },
        on: true,
        note: "long climbs with the sidecar, air-cooled",
        time: "2026-01-05T09:31:00.000Z",
      }),
    ],
  });
}

/** What stands in the fields of a new job until its builder has gone through them. */
export const STARTING_INJECTORS = "not said yet";

/** A job with nothing brought in yet; its build is a starting point to go through. */
export function emptyJob(scheme: ColourScheme | null): Job {
  return createJob({
    id: "job",
    name: "New job",
    build: createBuild({
      engine: { displacementCc: 600, cylinders: 2, revLimitRpm: 8000, injectionsPerCycle: 1 },
      fuel: fuels.petrol,
      injectors: { name: STARTING_INJECTORS, flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 1 },
      rail: { kind: "manifold-referenced", pressureKpa: 300 },
      battery: { volts: 13.5 },
      place: { altitudeM: 0, temperatureC: 20 },
    }),
    scheme: scheme ?? defaultScheme,
  });
}
