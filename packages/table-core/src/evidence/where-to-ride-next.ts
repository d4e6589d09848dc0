import type { FuelTable } from "../values/fuel-table.ts";
import { requireFinite, requireWhole, requireWithin } from "../values/require.ts";
import type { EvidenceFit } from "./fit-evidence.ts";

/** What {@link whereToRideNext} may be told. */
export interface RideOptions {
  /** Cells to visit at most; 12 unless said. */
  readonly most?: number;
  /** Seconds in each; 8 unless said. */
  readonly seconds?: number;
  /** Readings a second; unless said, as in the log. */
  readonly hertz?: number;
  /** How many rows or columns beyond where the log has been still count as reachable; 1 unless said. */
  readonly reach?: number;
  /** How much more a cell at full load counts than one that is as often visited at no load; 3 unless said. */
  readonly danger?: number;
}

/** One thing to do on the ride. */
export interface RideStage {
  /** A steady hold, a pull through loads at one rpm, or a roll through rpm at one load. */
  readonly kind: "hold" | "pull" | "roll-on";
  readonly rpm: readonly [number, number];
  readonly load: readonly [number, number];
  readonly seconds: number;
  /** By how much the doubt of the whole table falls, as a share of what it is now. */
  readonly gain: number;
  /** The largest deviation among its cells now, and what it is expected to be after, as shares. */
  readonly deviationBefore: number;
  /** See `deviationBefore`. */
  readonly deviationAfter: number;
  /** Whether it lies at high load, where a lean cell does harm. */
  readonly highLoad: boolean;
  /** Row-major cells it visits. */
  readonly cells: readonly number[];
}

/** A ride that teaches most, in an order that can be ridden. */
export interface RidePlan {
  readonly stages: readonly RideStage[];
  /** By how much the doubt of the table falls in all, as a share. */
  readonly gain: number;
  readonly caution: string;
}

/** From here up a row counts as high load. */
const HIGH_LOAD_SHARE = 0.75;
/** Deviation beyond which it does not matter how unsure a cell is. */
const DOUBT_CEILING = 0.1;

/**
 * Where to ride next: the cells whose doubt, weighed by how often the rider is there and by danger, would fall most.
 *
 * Each visit is taken as so many more readings of that cell; what it teaches about neighbours counts as well. Cells are
 * chosen one after the other, each with what the ones before taught, and joined to holds, pulls and roll-ons from low to
 * high rpm. Only what the log has reached, or nearly, is asked for.
 *
 * @throws FuelwrightError `not-finite`, `not-whole`, `out-of-range` for an option
 */
export function whereToRideNext(fit: EvidenceFit, options: RideOptions = {}): RidePlan {
  const most = requireWhole("whereToRideNext: most", options.most ?? 12, 1, 200);
  const seconds = requireWithin("whereToRideNext: seconds", options.seconds ?? 8, 1, 600);
  const reach = requireWhole("whereToRideNext: reach", options.reach ?? 1, 0, 256);
  const danger = requireFinite("whereToRideNext: danger", options.danger ?? 3);
  const { corrections: table, coverage, covariance, report } = fit;
  const { order } = covariance;
  const caution =
    "Holds at load belong on a dyno or a closed road, with a passenger or a logger that needs no eyes; stop at the first sign of detonation or heat.";
  if (order.length !== table.cells.length) return { stages: [], gain: 0, caution };
  const hertz = options.hertz ?? report.used / Math.max(1, report.usedSeconds) / Math.max(1, report.sensors.length);
  // So many readings that hang together are worth so many that do not.
  const worth = Math.max(1, (seconds * hertz) / report.inflation);
  const weights = cellWeights(table, coverage.seconds, danger);
  const reachable = reachableCells(table, coverage.samples, reach);
  const posterior = covariance.values.slice();
  const { band } = covariance;
  const variance = (at: number) => posterior[order[at]! * (band + 1) + band]!;
  const doubt = () =>
    weights.reduce(
      (sum, weight, at) => sum + weight * Math.min(DOUBT_CEILING, Math.sqrt(Math.max(0, variance(at)))),
      0,
    );
  const before = Float64Array.from({ length: order.length }, (_, at) => Math.sqrt(variance(at)));
  const start = doubt();
  const noise = report.noise.value ** 2 / worth;
  const cellOf = new Int32Array(order.length);
  order.forEach((unknown, at) => {
    cellOf[unknown] = at;
  });
  const chosen: { at: number; gain: number }[] = [];
  let now = start;
  while (chosen.length < most) {
    let best = -1;
    let gain = 0;
    for (let at = 0; at < order.length; at++) {
      if (!reachable[at] || chosen.some((choice) => choice.at === at)) continue;
      const teaches = gainOf(posterior, band, order[at]!, noise, (unknown) => weights[cellOf[unknown]!]!);
      if (teaches > gain) {
        gain = teaches;
        best = at;
      }
    }
    if (best < 0 || gain < 0.002 * start) break;
    visit(posterior, band, order[best]!, noise);
    const then = doubt();
    chosen.push({ at: best, gain: (now - then) / start });
    now = then;
  }
  return { stages: joinStages(table, chosen, seconds, before, variance), gain: (start - now) / start, caution };
}

/** How much each cell matters: how often the rider is there, and load. */
function cellWeights(table: FuelTable, seconds: Float64Array, danger: number): Float64Array {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const total = seconds.reduce((sum, value) => sum + value, 0) || 1;
  return seconds.map((value, at) => {
    const height = rows > 1 ? Math.floor(at / columns) / (rows - 1) : 0;
    return (Math.sqrt(value / total) + 0.03) * (1 + danger * height ** 2);
  });
}

/** Cells that the ride was in, or within `reach` rows and columns of. */
function reachableCells(table: FuelTable, samples: Float64Array, reach: number): Uint8Array {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const near = new Uint8Array(samples.length);
  samples.forEach((value, at) => {
    if (value < 5) return;
    const row = Math.floor(at / columns);
    const column = at % columns;
    for (let r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r++)
      for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c++)
        near[r * columns + c] = 1;
  });
  return near;
}

/** Elements (i, j) of a symmetric band for all i within the band of j. */
function eachNear(values: Float64Array, band: number, j: number, take: (i: number, value: number) => void): void {
  const size = values.length / (band + 1);
  for (let i = Math.max(0, j - band); i <= Math.min(size - 1, j + band); i++)
    take(i, i >= j ? values[i * band + j + band]! : values[j * band + i + band]!);
}

function gainOf(values: Float64Array, band: number, j: number, noise: number, weight: (i: number) => number): number {
  const total = noise + values[j * (band + 1) + band]!;
  let gain = 0;
  eachNear(values, band, j, (i, value) => {
    const was = values[i * (band + 1) + band]!;
    const then = Math.max(0, was - (value * value) / total);
    gain += weight(i) * (Math.min(DOUBT_CEILING, Math.sqrt(was)) - Math.min(DOUBT_CEILING, Math.sqrt(then)));
  });
  return gain;
}

/** The covariance after a visit to unknown j. */
function visit(values: Float64Array, band: number, j: number, noise: number): void {
  const column = new Map<number, number>();
  eachNear(values, band, j, (i, value) => column.set(i, value));
  const total = noise + column.get(j)!;
  for (const [a, va] of column)
    for (const [b, vb] of column) if (b <= a && a - b <= band) values[a * band + b + band]! -= (va * vb) / total;
}

/** Neighbouring cells joined to pulls (one rpm) and roll-ons (one load), from low to high rpm. */
function joinStages(
  table: FuelTable,
  chosen: readonly { readonly at: number; readonly gain: number }[],
  seconds: number,
  before: Float64Array,
  variance: (at: number) => number,
): RideStage[] {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const left = new Map(chosen.map((choice) => [choice.at, choice.gain]));
  const run = (at: number, step: number): number[] => {
    const cells = [at];
    for (let next = at + step; left.has(next) && (step !== 1 || next % columns !== 0); next += step) cells.push(next);
    return cells;
  };
  const stages: RideStage[] = [];
  const inOrder = [...left.keys()].sort((a, b) => (a % columns) - (b % columns) || a - b);
  for (const at of inOrder) {
    if (!left.has(at)) continue;
    const up = run(at, columns);
    const along = run(at, 1);
    const cells = along.length > up.length ? along : up;
    const gain = cells.reduce((sum, cell) => sum + left.get(cell)!, 0);
    for (const cell of cells) left.delete(cell);
    const place = (cell: number) =>
      [table.rpm.breakpoints[cell % columns]!, table.load.breakpoints[Math.floor(cell / columns)]!] as const;
    const [fromRpm, fromLoad] = place(cells[0]!);
    const [toRpm, toLoad] = place(cells[cells.length - 1]!);
    stages.push({
      kind: cells.length === 1 ? "hold" : cells === up ? "pull" : "roll-on",
      rpm: [fromRpm, toRpm],
      load: [fromLoad, toLoad],
      seconds: seconds * cells.length,
      gain,
      deviationBefore: Math.max(...cells.map((cell) => before[cell]!)),
      deviationAfter: Math.max(...cells.map((cell) => Math.sqrt(Math.max(0, variance(cell))))),
      highLoad: cells.some((cell) => rows > 1 && Math.floor(cell / columns) / (rows - 1) >= HIGH_LOAD_SHARE),
      cells,
    });
  }
  return stages;
}
