import { logQuantities, type UnitRule } from "./log-quantities.ts";
import { type SkippedRows, UNREADABLE } from "./parse-rows.ts";
import type { LogQuantity, SampleChunk, SampleKey } from "./samples.ts";

interface FillColumn {
  readonly quantity: LogQuantity;
  readonly key: SampleKey;
  readonly rule: UnitRule;
}

/** What came through one column. */
interface Tally {
  samples: number;
  empty: number;
  unreadable: number;
  low: number;
  high: number;
}

/** Rows that may wait for the next sample of a slow column before they are given up. */
const MOST_WAITING = 1 << 15;

/**
 * Turns blocks of parsed rows into chunks of samples: units changed, and quantities that are sampled less often than
 * the rows filled in between (see `logQuantities`), over at most `fillSeconds`. Rows wait for the next sample of a
 * quantity that is filled along a line.
 */
export class RateFiller {
  rows = 0;
  seconds = 0;
  readonly timeless: SkippedRows = { count: 0, firstLine: 0 };
  readonly tallies: Tally[];
  private readonly waiting: Float64Array[];
  private count = 0;
  /** Rows from the front that are filled already. */
  private readonly held: { value: number; time: number }[];
  /** For each column filled along a line, the row from which on it waits for a sample. */
  private readonly open: Int32Array;
  private parsed = 0;
  private lastTime = Number.NaN;

  constructor(
    private readonly columns: readonly FillColumn[],
    private readonly timeAt: number,
    private readonly fillSeconds: number,
    private readonly hertz: number | null,
  ) {
    this.tallies = columns.map(() => ({ samples: 0, empty: 0, unreadable: 0, low: Infinity, high: -Infinity }));
    this.waiting = columns.map(() => new Float64Array(0));
    this.held = columns.map(() => ({ value: Number.NaN, time: Number.NEGATIVE_INFINITY }));
    this.open = new Int32Array(columns.length);
  }

  /** Takes over a block of parsed rows; returns the samples that are ready, or null. */
  take(block: readonly Float64Array[], rows: number, last: boolean): SampleChunk | null {
    this.append(block, rows);
    const time = this.times();
    let ready = this.count;
    this.columns.forEach(({ quantity }, at) => {
      const { between } = logQuantities[quantity];
      if (between === "hold") this.hold(at, time);
      else if (between === "line") ready = Math.min(ready, this.line(at, time, last));
    });
    if (this.count - ready > MOST_WAITING) ready = this.count;
    return ready === 0 ? null : this.emit(ready);
  }

  private times(): Float64Array {
    return this.timeAt >= 0 ? this.waiting[this.timeAt]! : this.clock!;
  }

  private clock: Float64Array | null = null;

  private append(block: readonly Float64Array[], rows: number): void {
    const { columns, waiting, tallies, timeAt } = this;
    // Rows without a time cannot be used at all.
    let keep: Int32Array | null = null;
    let kept = rows;
    if (timeAt >= 0) {
      const time = block[timeAt]!;
      let bad = 0;
      for (let i = 0; i < rows; i++) if (!(Math.abs(time[i]!) < 1e15)) bad++;
      if (bad > 0) {
        keep = new Int32Array(rows - bad);
        kept = 0;
        for (let i = 0; i < rows; i++)
          if (Math.abs(time[i]!) < 1e15) keep[kept++] = i;
          else if (this.timeless.count++ === 0) this.timeless.firstLine = this.parsed + i + 1;
      }
    }
    this.parsed += rows;
    const from = this.count;
    const needed = from + kept;
    columns.forEach(({ rule }, at) => {
      if (waiting[at]!.length < needed) {
        const wider = new Float64Array(Math.max(needed, 2 * waiting[at]!.length));
        wider.set(waiting[at]!.subarray(0, from));
        waiting[at] = wider;
      }
      const to = waiting[at]!;
      const source = block[at]!;
      const { scale, offset, over } = rule;
      const tally = tallies[at]!;
      let { low, high } = tally;
      let empty = 0;
      let unreadable = 0;
      for (let i = 0; i < kept; i++) {
        const raw = source[keep ? keep[i]! : i]!;
        let value = over ? scale / raw : raw * scale + offset;
        if (Number.isNaN(raw)) empty++;
        else if (raw === UNREADABLE || !(Math.abs(value) < 1e300)) {
          unreadable++;
          value = UNREADABLE;
        } else {
          if (value < low) low = value;
          if (value > high) high = value;
        }
        to[from + i] = value;
      }
      tally.low = low;
      tally.high = high;
      tally.empty += empty;
      tally.unreadable += unreadable;
      tally.samples += kept - empty - unreadable;
    });
    if (timeAt < 0) {
      if (!this.clock || this.clock.length < needed) {
        const wider = new Float64Array(2 * needed);
        wider.set(this.clock?.subarray(0, from) ?? []);
        this.clock = wider;
      }
      for (let i = 0; i < kept; i++) this.clock[from + i] = (this.rows + from + i) / this.hertz!;
    }
    this.count = needed;
  }

  private hold(at: number, time: Float64Array): void {
    const values = this.waiting[at]!;
    const held = this.held[at]!;
    // What is set once is meant until it is set again: ten times as long as a measured quantity is trusted.
    const longest = 10 * this.fillSeconds;
    for (let i = this.open[at]!; i < this.count; i++) {
      const value = values[i]!;
      if (!Number.isNaN(value)) {
        if (value !== UNREADABLE) {
          held.value = value;
          held.time = time[i]!;
        }
      } else if (Math.abs(time[i]! - held.time) <= longest) values[i] = held.value;
    }
    this.open[at] = this.count;
  }

  /** Fills along lines between samples; returns the first row that still waits for one. */
  private line(at: number, time: Float64Array, last: boolean): number {
    const values = this.waiting[at]!;
    const held = this.held[at]!;
    let open = this.open[at]!;
    for (let i = open; i < this.count; i++) {
      const value = values[i]!;
      if (Number.isNaN(value)) continue;
      if (value !== UNREADABLE) {
        if (i > open) {
          const span = time[i]! - held.time;
          if (span > 0 && span <= this.fillSeconds)
            for (let k = open; k < i; k++)
              values[k] = held.value + ((value - held.value) * (time[k]! - held.time)) / span;
        }
        held.value = value;
        held.time = time[i]!;
      }
      open = i + 1;
    }
    // Rows too far from the last sample are not filled any more, so they need not wait.
    const now = this.count > 0 ? time[this.count - 1]! : 0;
    if (last || !(now - held.time <= this.fillSeconds && now >= held.time)) open = this.count;
    this.open[at] = open;
    return open;
  }

  private emit(ready: number): SampleChunk {
    const { waiting, columns } = this;
    const out: Partial<Record<SampleKey, Float64Array>> = {};
    const time = this.times();
    columns.forEach(({ key }, at) => {
      const values = waiting[at]!.slice(0, ready);
      if (this.tallies[at]!.unreadable > 0)
        for (let i = 0; i < ready; i++) if (values[i] === UNREADABLE) values[i] = Number.NaN;
      out[key] = values;
      waiting[at]!.copyWithin(0, ready, this.count);
      this.open[at] = Math.max(0, this.open[at]! - ready);
    });
    const stamps = this.timeAt >= 0 ? out.time! : time.slice(0, ready);
    if (this.timeAt < 0) this.clock!.copyWithin(0, ready, this.count);
    for (let i = 0; i < ready; i++) {
      const step = stamps[i]! - this.lastTime;
      if (step > 0 && step < 60) this.seconds += step;
      this.lastTime = stamps[i]!;
    }
    const chunk: SampleChunk = { count: ready, first: this.rows, columns: { ...out, time: stamps } };
    this.rows += ready;
    this.count -= ready;
    return chunk;
  }
}
