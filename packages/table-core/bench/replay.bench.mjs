// A job of 100 mixed steps on a 32 × 32 table, done again from the first step. Target: 16 ms at the median, one frame.
import { checkStep, createAxis, createBuild, createJob, createTable, fuels, replayJob } from "../dist/index.js";

const SIZE = 32;
const STEPS = 100;

export function setup() {
  const rpm = createAxis({ quantity: "rpm", breakpoints: Array.from({ length: SIZE }, (_, at) => 800 + at * 200) });
  const load = createAxis({
    quantity: "manifold-pressure",
    breakpoints: Array.from({ length: SIZE }, (_, at) => 20 + at * 2.6),
  });
  const cells = load.breakpoints.map((kpa) => rpm.breakpoints.map((turns) => 1.6 + kpa * 0.08 + Math.sin(turns / 700)));
  const tables = [
    createTable({ id: "main", name: "invented", quantity: "pulse-width", rpm, load, cells }),
    createTable({
      id: "target",
      name: "invented target",
      quantity: "lambda",
      rpm,
      load,
      cells: cells.map((row) => row.map(() => 0.92)),
    }),
  ];
  const injectors = { name: "invented", flowGramsPerSecond: 2.6, ratedPressureKpa: 300, deadTime: 0.9 };
  const build = createBuild({
    engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
    fuel: fuels.petrol,
    injectors,
    rail: { kind: "fixed", pressureKpa: 300 },
    battery: { volts: 13.6 },
    place: { altitudeM: 20, temperatureC: 20 },
  });
  const region = { rpm: [1600, 5200], load: [40, 80], feather: { rpm: 400, load: 8 } };
  const kinds = [
    (at) => ({ kind: "scale-cells", settings: { region, factor: 1 + ((at % 7) - 3) / 400 } }),
    (at) => ({ kind: "offset-cells", settings: { region: { rpm: [800, 2000] }, amount: ((at % 5) - 2) / 100 } }),
    () => ({ kind: "limit-cells", settings: { min: 1.2, max: 18 } }),
    (at) => ({
      kind: "set-cells",
      settings: { region: { rpm: [800 + 200 * (at % 30), 800 + 200 * (at % 30)], load: [20, 30.4] }, value: 2.4 },
    }),
    () => ({ kind: "blend-tables", settings: { region, with: { table: "main", after: "source" }, weight: 0.1 } }),
    (at) => ({
      kind: "rescale-for-injectors",
      table: undefined,
      settings: { tables: ["main"], to: { ...injectors, flowGramsPerSecond: 2.6 + (at % 4) / 50 } },
    }),
    () => ({ kind: "retarget-mixture", settings: { region, from: { table: "target" }, to: 0.92, target: "target" } }),
    (at) => ({
      kind: "shape-cells",
      settings: {
        along: "rpm",
        points: [
          [1000, 1],
          [4000, 1 + (at % 3) / 500],
          [7000, 1],
        ],
      },
    }),
    () => ({ kind: "quantise-table", settings: { storage: { min: 0, max: 25.5, step: 0.004 } } }),
    () => ({ kind: "smooth-cells", settings: { region, rpmStrength: 0.5, loadStrength: 0.5 } }),
  ];
  const steps = Array.from({ length: STEPS }, (_, at) => {
    const { table = "main", ...step } = { table: "main", ...kinds[at % kinds.length](at) };
    const named = step.kind === "rescale-for-injectors" ? {} : { table };
    return checkStep({ id: `s${at}`, on: true, note: "", time: "", ...named, ...step });
  });
  return createJob({ name: "invented", build, tables, steps });
}

/** @returns rows for the table of ratios: name, milliseconds at the median, target */
export function run({ rounds = 60 } = {}) {
  const job = setup();
  const passedOver = replayJob(job).outcomes.filter(({ status }) => status !== "applied");
  if (passedOver.length)
    throw new Error(`replay: ${passedOver[0].id} was passed over: ${passedOver[0].reason?.message}`);
  const times = [];
  for (let round = 0; round < rounds + 20; round++) {
    const start = performance.now();
    replayJob(job);
    if (round >= 20) times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return [
    {
      name: `replay ${STEPS} mixed steps, ${SIZE}×${SIZE}`,
      ms: times[Math.floor(times.length / 2)],
      p95: times[Math.floor(times.length * 0.95)],
      targetMs: 16,
    },
  ];
}
