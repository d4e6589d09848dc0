// Rescale of a 64 × 64 pulse table for other injectors on a fixed rail, with its report. Target: 2 ms at the median.
import { createAxis, createBuild, createInjector, createTable, fuels, rescaleForInjectors } from "../dist/index.js";

const SIZE = 64;

const overVolts = (base) => [8, 10, 12, 14, 16].map((volts) => ({ volts, ms: base + (16 - volts) * 0.09 }));
const overPressure = (base) =>
  [250, 300, 400].flatMap((pressureKpa) =>
    overVolts(base + pressureKpa / 4000).map((point) => ({ ...point, pressureKpa })),
  );

export function setup() {
  const from = createInjector({
    name: "invented, small",
    flowGramsPerSecond: 2.6,
    ratedPressureKpa: 300,
    deadTime: overPressure(0.8),
    shortPulse: [
      { effectiveMs: 0.3, deliveredMs: 0.2 },
      { effectiveMs: 0.8, deliveredMs: 0.8 },
    ],
  });
  const to = createInjector({
    ...from,
    name: "invented, large",
    flowGramsPerSecond: 3.9,
    deadTime: overPressure(0.65),
  });
  const build = createBuild({
    engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
    fuel: fuels.petrol,
    injectors: from,
    rail: { kind: "fixed", pressureKpa: 300 },
    battery: { volts: 13.6 },
    place: { altitudeM: 20, temperatureC: 20 },
  });
  const rpm = createAxis({ quantity: "rpm", breakpoints: Array.from({ length: SIZE }, (_, at) => 600 + at * 110) });
  const load = createAxis({
    quantity: "manifold-pressure",
    breakpoints: Array.from({ length: SIZE }, (_, at) => 20 + at * 1.3),
  });
  const cells = load.breakpoints.map((kpa) => rpm.breakpoints.map((turns) => 1.4 + kpa * 0.08 + turns / 9000));
  const table = createTable({ id: "main", name: "invented", quantity: "pulse-width", rpm, load, cells });
  return { table, from, to, build };
}

/** @returns rows for the table of ratios: name, milliseconds at the median, target */
export function run({ rounds = 200 } = {}) {
  const { table, from, to, build } = setup();
  const times = [];
  for (let round = 0; round < rounds + 50; round++) {
    const start = performance.now();
    rescaleForInjectors(table, { from, to, build });
    if (round >= 50) times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return [
    {
      name: "rescale 64×64, fixed rail, with report",
      ms: times[Math.floor(times.length / 2)],
      p95: times[Math.floor(times.length * 0.95)],
      targetMs: 2,
    },
  ];
}

if (import.meta.url === `file://${process.argv[1]}`) console.table(run());
