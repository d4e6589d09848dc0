/** The least and greatest value of each stretch of time; NaN where there was none. */
export interface TraceLane {
  readonly low: Float32Array;
  readonly high: Float32Array;
}

/** A log as it is drawn: every quantity's range in equal stretches of time, however long the log. */
export interface TraceData {
  /** The log's own time at the beginning, in seconds. */
  readonly start: number;
  /** Seconds in a stretch. */
  readonly step: number;
  readonly count: number;
  readonly lanes: Readonly<Record<string, TraceLane>>;
}

/** Stretches kept: fine enough for half an hour of samples at 50 Hz one by one, and some megabytes at most. */
const MOST = 1 << 16;
const FINEST_SECONDS = 0.02;
/** A leap in time beyond this is a spoilt row, unless the rows after it agree. */
const LEAP_SECONDS = 6 * 3600;
const AGREEING = 50;

/** Gathers samples into stretches of time. Memory does not grow with the log: when it is full, two stretches become one. */
export class TraceBuilder {
  private start = Number.NaN;
  private step = FINEST_SECONDS;
  private count = 0;
  private last = Number.NaN;
  private leaps = 0;
  private readonly lanes = new Map<string, TraceLane>();

  constructor(private readonly most = MOST) {}

  /** Adds samples in order of time; those from before the log's beginning are left out. */
  add(columns: Readonly<Record<string, Float64Array | undefined>>, rows: number): void {
    const time = columns.time!;
    const places = new Int32Array(rows);
    for (let i = 0; i < rows; i++) places[i] = this.placeOf(time[i]!);
    for (const [key, values] of Object.entries(columns)) {
      if (key === "time" || !values) continue;
      const lane = this.lane(key);
      for (let i = 0; i < rows; i++) {
        const value = values[i]!;
        // Rows placed before the stretches were joined lie twice as far.
        const at = places[i]! < 0 ? -1 : Math.floor((time[i]! - this.start) / this.step);
        if (at < 0 || Number.isNaN(value)) continue;
        if (!(lane.low[at]! <= value)) lane.low[at] = value;
        if (!(lane.high[at]! >= value)) lane.high[at] = value;
      }
    }
  }

  take(): TraceData {
    const lanes = [...this.lanes].map(
      ([key, { low, high }]) => [key, { low: low.slice(0, this.count), high: high.slice(0, this.count) }] as const,
    );
    return {
      start: Number.isNaN(this.start) ? 0 : this.start,
      step: this.step,
      count: this.count,
      lanes: Object.fromEntries(lanes),
    };
  }

  /** Makes room for a time; −1 if it is left out. */
  private placeOf(time: number): number {
    if (Number.isNaN(this.start)) this.start = time;
    if (Math.abs(time - this.last) > LEAP_SECONDS && ++this.leaps < AGREEING) return -1;
    this.leaps = 0;
    this.last = time;
    if (!(time >= this.start)) return -1;
    while ((time - this.start) / this.step >= this.most) this.join();
    const at = Math.floor((time - this.start) / this.step);
    this.count = Math.max(this.count, at + 1);
    return at;
  }

  private join(): void {
    this.step *= 2;
    const half = Math.ceil(this.count / 2);
    for (const { low, high } of this.lanes.values()) {
      for (let at = 0; at < half; at++) {
        low[at] = lesser(low[2 * at]!, low[2 * at + 1] ?? Number.NaN);
        high[at] = -lesser(-high[2 * at]!, -(high[2 * at + 1] ?? Number.NaN));
      }
      low.fill(Number.NaN, half);
      high.fill(Number.NaN, half);
    }
    this.count = half;
  }

  private lane(key: string): TraceLane {
    let lane = this.lanes.get(key);
    if (!lane) {
      lane = {
        low: new Float32Array(this.most).fill(Number.NaN),
        high: new Float32Array(this.most).fill(Number.NaN),
      };
      this.lanes.set(key, lane);
    }
    return lane;
  }
}

/** The lesser of two numbers, of which one may be none. */
const lesser = (a: number, b: number) => (b < a || Number.isNaN(a) ? b : a);

/**
 * Least and greatest value in each of `columns` columns of the screen between two moments from the beginning.
 *
 * Nothing is lost: a spike of one sample is as high in the column it falls in. Where columns are finer than the stretches
 * kept, a stretch fills all of its columns.
 */
export function traceColumns(lane: TraceLane, step: number, from: number, to: number, columns: number): TraceLane {
  const low = new Float32Array(columns).fill(Number.NaN);
  const high = new Float32Array(columns).fill(Number.NaN);
  const width = (to - from) / columns;
  for (let x = 0; x < columns; x++) {
    const first = Math.max(0, Math.floor((from + x * width) / step));
    const end = Math.min(lane.low.length, Math.max(first + 1, Math.ceil((from + (x + 1) * width) / step)));
    for (let at = first; at < end; at++) {
      low[x] = lesser(low[x]!, lane.low[at]!);
      high[x] = -lesser(-high[x]!, -lane.high[at]!);
    }
  }
  return { low, high };
}

/** The range that all but a few stray stretches of some lanes lie in, with a little room. */
export function usualRange(lanes: readonly TraceLane[]): readonly [number, number] {
  const values: number[] = [];
  for (const { low, high } of lanes) {
    const stride = Math.max(1, Math.floor(low.length / 4000));
    for (let at = 0; at < low.length; at += stride) if (!Number.isNaN(low[at]!)) values.push(low[at]!, high[at]!);
  }
  if (values.length === 0) return [0, 1];
  values.sort((a, b) => a - b);
  const at = (share: number) => values[Math.round(share * (values.length - 1))]!;
  const [low, high] = [at(0.005), at(0.995)];
  const room = 0.06 * (high - low) || Math.abs(low) * 0.05 || 1;
  return [low - room, high + room];
}
