import { type Dynamics, eachReading, type Grid, ModelRow } from "../src/evidence/dynamics-pass.ts";
import { type Gate, usualGates } from "../src/evidence/gates.ts";
import type { LogSamples } from "../src/evidence/samples.ts";
import { type Series, SeriesBuilder } from "../src/evidence/series.ts";
import { type SimulatedLog, type SimulatedLogOptions, simulateLog } from "../src/evidence/simulate-log.ts";
import { seededRandom } from "../src/numeric/seeded-random.ts";
import { type Axis, createAxis } from "../src/values/axis.ts";

/** A 16 × 16 table of an invented machine. */
export const rideRpm: Axis = createAxis({
  quantity: "rpm",
  breakpoints: [800, 1100, 1400, 1800, 2200, 2600, 3000, 3400, 3800, 4300, 4800, 5300, 5800, 6300, 6800, 7400],
});
export const rideLoad: Axis = createAxis({
  quantity: "manifold-pressure",
  breakpoints: [25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100],
});

/** What kind of truth and ride: words in a kind add up. */
export interface RideKind {
  readonly film?: boolean;
  readonly outOfLine?: boolean;
  readonly quiet?: boolean;
}

/** A random truth, ride, delay, lag and film, the same for the same seed. */
export function randomRide(seed: number, kind: RideKind = {}): SimulatedLogOptions {
  const random = seededRandom(seed * 7919 + 13);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  return {
    seed,
    rpm: rideRpm,
    load: rideLoad,
    delay: { constant: between(0.02, 0.14), flow: between(0.1, 0.4) },
    lag: between(0.05, 0.2),
    film: kind.film ? { share: between(0.08, 0.35), time: between(0.08, 0.45) } : null,
    noise: kind.quiet ? 0.006 : 0.015,
    surface: {
      amplitude: between(0.025, 0.05),
      length: between(0.3, 0.5),
      outOfLine: kind.outOfLine ? 4 + Math.floor(between(0, 5)) : 0,
    },
    closedLoop: random.uniform() < 0.3,
    uneven: random.uniform() < 0.3,
  };
}

/** A simulated log with its chunks kept, so that it is simulated once. */
export function held(simulated: SimulatedLog): SimulatedLog {
  const chunks = [...(simulated.log.open() as Iterable<never>)];
  return { ...simulated, log: { ...simulated.log, open: () => chunks } };
}

export const rideOf = (options: SimulatedLogOptions): SimulatedLog => held(simulateLog(options));

/** A log as a series for fitting, in parts of `rows` with `lead` seconds each, or whole. */
export function seriesOf(log: LogSamples, gates: readonly Gate[] = usualGates, rows = Infinity, lead = 0): Series[] {
  const builder = new SeriesBuilder({
    xQuantity: "rpm",
    yQuantity: "manifold-pressure",
    channel: 1,
    gates,
    deadTime: () => 0.9,
    commanded: () => 1,
    pause: 0.5,
  });
  const parts: Series[] = [];
  for (const chunk of log.open() as Iterable<Parameters<SeriesBuilder["append"]>[0]>) {
    builder.append(chunk);
    if (builder.fresh >= rows) parts.push(builder.take(lead));
  }
  if (builder.fresh > 0) parts.push(builder.take());
  return parts;
}

/** The model's readings at given dynamics and cells, with their slopes. */
export function modelled(series: Series, dynamics: Dynamics, grid: Grid, cells: Float64Array | null) {
  const row = new ModelRow(grid.cells);
  const readings: { at: number; value: number; slopes: number[] }[] = [];
  eachReading(series, dynamics, grid, cells, row, (at) => {
    readings.push({ at, value: row.known + row.model, slopes: Array.from(row.slopes) });
  });
  return readings;
}

const nearest = (breakpoints: readonly number[], value: number) => {
  let best = 0;
  for (let at = 1; at < breakpoints.length; at++)
    if (Math.abs(breakpoints[at]! - value) < Math.abs(breakpoints[best]! - value)) best = at;
  return best;
};

/** What a plain method makes of a log: each gated sample to the nearest cell, at a constant delay, averaged. */
export interface NearestCell {
  /** Cells with at least a second of samples. */
  readonly visited: readonly number[];
  /** Root mean square error over these, at the delay that turns out best against the truth. */
  readonly best: number;
  /** The same without any correction. */
  readonly alone: number;
}

export function nearestCell(log: LogSamples, truth: Float64Array, hertz: number): NearestCell {
  const columns = rideRpm.breakpoints.length;
  const [series] = seriesOf(log);
  const { count, time, x, y, known, measured, mask } = series!;
  const usable = (at: number) => mask[at] === 0 && !Number.isNaN(measured[at]);
  const cells = Int32Array.from(
    { length: count },
    (_, at) => nearest(rideLoad.breakpoints, y[at]!) * columns + nearest(rideRpm.breakpoints, x[at]!),
  );
  const hits = new Float64Array(truth.length);
  for (let at = 0; at < count; at++) if (usable(at)) hits[cells[at]!]!++;
  const visited = Array.from(truth.keys()).filter((cell) => hits[cell]! >= hertz);
  const error = (estimate: (cell: number) => number) =>
    Math.sqrt(visited.reduce((sum, cell) => sum + (estimate(cell) - truth[cell]!) ** 2, 0) / visited.length);
  let best = Number.POSITIVE_INFINITY;
  for (let delay = 0; delay <= 0.8; delay += 0.04) {
    const sums = new Float64Array(truth.length);
    const counts = new Float64Array(truth.length);
    let then = 0;
    for (let at = 0; at < count; at++) {
      while (then < at && time[then + 1]! <= time[at]! - delay) then++;
      if (!usable(at)) continue;
      sums[cells[then]!]! += measured[at]! - known[at]!;
      counts[cells[then]!]!++;
    }
    best = Math.min(
      best,
      error((cell) => (counts[cell]! > 0 ? sums[cell]! / counts[cell]! : 0)),
    );
  }
  return { visited, best, alone: error(() => 0) };
}
