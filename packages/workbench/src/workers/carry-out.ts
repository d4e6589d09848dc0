import {
  type CancelSignal,
  countGates,
  deadTimeMs,
  fitEvidence,
  fitEvidenceApart,
  type Gate,
  type Log,
  type LogSamples,
  readLog,
  type SampleKey,
  simulatedCsv,
  simulateLog,
  suggestTipIn,
  summariseEvidence,
  whereToRideNext,
} from "@fuelwright/table-core";
import { TraceBuilder } from "../elements/log-trace/trace-data.ts";
import type { CountedGates, FitTask, LogReading, LogSource, Task, TaskProgress, Tasks } from "./evidence-tasks.ts";

type Tell = (progress: TaskProgress) => void;

/** What is drawn of a log: the first sensor's, and what the engine did. */
const drawn: readonly SampleKey[] = [
  "time",
  "rpm",
  "manifold-pressure",
  "throttle-position",
  "air-charge",
  "lambda",
  "lambda-2",
  "lambda-commanded",
  "pulse-width",
  "coolant-temperature",
];

/** Between two words to the page, which also let a cancel come in, in milliseconds. */
const PATIENCE = 60;

/** Lets messages in now and then; tells the latest progress as often. */
function pacer(tell: Tell) {
  let last = performance.now();
  return (progress: TaskProgress): void | Promise<void> => {
    if (performance.now() - last < PATIENCE) return;
    last = performance.now();
    tell(progress);
    return new Promise((resolve) => setTimeout(resolve));
  };
}

function openLog(source: LogSource, signal: CancelSignal, pace: ReturnType<typeof pacer>): Promise<Log> {
  // A made log goes the way of every other: it is written as a logger would, and read again.
  const bytes = source.kind === "file" ? source.file : () => simulatedCsv(simulateLog(source.ride));
  return readLog(bytes, {
    ...source.choices,
    name: source.name,
    signal,
    onProgress: (progress) => pace({ of: "log", ...progress }),
  });
}

/** Carries out one task. @throws FuelwrightError what the logs and the fit throw, `cancelled` among them */
export async function carryOut(task: Task, signal: CancelSignal, tell: Tell): Promise<Tasks[keyof Tasks]["result"]> {
  const pace = pacer(tell);
  switch (task.kind) {
    case "read":
      return read(await openLog(task.source, signal, pace), task.gates);
    case "count":
      return count(await openLog(task.source, signal, pace), task.gates);
    case "fit":
      return fit(task, signal, pace);
  }
}

/** What the gates remove, over the same stretches of time as the trace. */
async function count(log: LogSamples, gates: readonly Gate[]): Promise<CountedGates> {
  const trace = new TraceBuilder();
  const counted = await countGates([log], gates, 1, ({ columns, count: rows }, masks) => {
    trace.add({ time: columns.time, removed: Float64Array.from(masks, (mask) => Number(mask !== 0)) }, rows);
  });
  const none = new Float32Array();
  return { ...counted, removed: trace.take().lanes.removed ?? { low: none, high: none } };
}

/** One passage through the log: its summary, what is drawn of it, and what the gates remove. */
async function read(log: Log, gates: readonly Gate[]): Promise<LogReading> {
  const trace = new TraceBuilder();
  const sensors = new Set<number>();
  const seen: LogSamples = {
    name: log.name,
    simulated: log.simulated,
    async *open() {
      for await (const chunk of log.open()) {
        trace.add(Object.fromEntries(drawn.map((key) => [key, chunk.columns[key]])), chunk.count);
        for (const key of Object.keys(chunk.columns)) {
          const number = /^lambda(?:-(\d+))?$/.exec(key);
          if (number) sensors.add(Number(number[1] ?? 1));
        }
        yield chunk;
      }
    },
  };
  const counted = await count(seen, gates);
  return {
    columns: log.columns,
    dialect: log.dialect,
    simulated: log.simulated,
    summary: log.summary(),
    trace: trace.take(),
    gates: counted,
    sensors: [...sensors].sort((a, b) => a - b),
  };
}

async function fit(task: FitTask, signal: CancelSignal, pace: ReturnType<typeof pacer>) {
  const { sources, table, gates, sensors, apart, target, injectors, film } = task;
  const logs: Log[] = [];
  for (const source of sources) logs.push(await openLog(source, signal, pace));
  const run = apart
    ? fitEvidenceApart
    : async (options: Parameters<typeof fitEvidence>[0]) => [await fitEvidence(options)];
  const fits = await run({
    logs,
    table,
    gates,
    signal,
    ...(sensors && { sensors }),
    ...(target && { commanded: target }),
    ...(injectors && { deadTime: deadTimeOf(injectors) }),
    ...(!film && { known: { film: null } }),
    onProgress: (progress) => pace({ of: "fit", ...progress }),
  });
  return fits.map((one) => ({
    fit: one,
    summary: summariseEvidence(one),
    rides: whereToRideNext(one),
    tipIn: suggestTipIn(one.delay),
  }));
}

/** Dead time by voltage, worked out once for each hundredth of a volt: it is asked for in every row. */
function deadTimeOf({ spec, pressureKpa }: NonNullable<FitTask["injectors"]>): (volts: number) => number {
  const known = new Map<number, number>();
  return (volts) => {
    const at = Math.round(100 * Math.min(30, Math.max(1, volts)));
    let ms = known.get(at);
    if (ms === undefined) known.set(at, (ms = deadTimeMs(spec, { volts: at / 100, pressureKpa })));
    return ms;
  };
}
