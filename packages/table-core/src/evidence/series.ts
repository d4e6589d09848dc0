import type { Axis } from "../values/axis.ts";
import { flowReference } from "./flow-reference.ts";
import { type Gate, type GateState, gateMasks, gateStateAtStart, isEngineGate, structuralBits } from "./gates.ts";
import { type LogQuantity, type SampleChunk, sampleKey } from "./samples.ts";

/**
 * A stretch of log made ready for fitting: the engine's side and the sensor's side of each row, in order of time.
 *
 * The first `lead` rows only bring delay, film and lag to where they would be; they count for nothing.
 */
export interface Series {
  readonly count: number;
  readonly lead: number;
  readonly time: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** ln of the lambda that the controller asked for, closed-loop trims included. */
  readonly known: Float64Array;
  /** Fuel flow in effective milliseconds times rpm; 0 while cut. */
  readonly fuel: Float64Array;
  /** 1 / effective pulse, 0 where there is none. */
  readonly inverse: Float64Array;
  /** (coolant − 80 °C) / 10, 0 where not known. */
  readonly warmth: Float64Array;
  /** Exhaust volume passed since the beginning, in seconds at the reference flow. */
  readonly volume: Float64Array;
  /** ln of the lambda measured; NaN without a reading. */
  readonly measured: Float64Array;
  /** The gates that remove the reading, as {@link gateMasks} has them. */
  readonly mask: Uint32Array;
  /** In how many rows before each (and, last, in all) the engine was in no state to learn from: count + 1 numbers. */
  readonly unfit: Int32Array;
  /** The row at which the stretch without a pause begins. */
  readonly since: Int32Array;
  readonly hasFuel: boolean;
}

/** Which columns to take and what to assume where there are none. */
export interface SeriesSetup {
  readonly xQuantity: LogQuantity;
  /** null for a one-row table. */
  readonly yQuantity: LogQuantity | null;
  readonly channel: number;
  readonly gates: readonly Gate[];
  /** Milliseconds the injector needs to open, at a battery voltage. */
  readonly deadTime: (volts: number) => number;
  /** Commanded lambda where the log has no column for it. */
  readonly commanded: (x: number, y: number) => number;
  /** Seconds without a row that count as a pause. */
  readonly pause: number;
}

/** The log column that an axis runs along. */
export const axisColumn = (axis: Axis): LogQuantity | null =>
  axis.quantity === "single-row" ? null : (axis.quantity as LogQuantity);

const numberColumns = [
  "time",
  "x",
  "y",
  "known",
  "fuel",
  "inverse",
  "warmth",
  "volume",
  "measured",
] as const satisfies readonly (keyof Series)[];

/** Turns chunks of samples into a {@link Series}, one after the other. */
export class SeriesBuilder {
  count = 0;
  /** Readings seen so far, whatever became of them. */
  readings = 0;
  /** Readings in rows that could not be used at all, by their masks. */
  readonly dropped = new Map<number, number>();
  /** Which columns were found, for the report. */
  readonly found = new Set<LogQuantity>();
  private lead = 0;
  private capacity = 0;
  private readonly numbers = {} as Record<(typeof numberColumns)[number], Float64Array>;
  private mask = new Uint32Array(0);
  private unfit = new Int32Array(0);
  private since = new Int32Array(0);
  private gateState: GateState = gateStateAtStart();
  private readonly engineBits: number;
  private flow = 0;
  private hasFuel = false;

  constructor(readonly setup: SeriesSetup) {
    this.engineBits = setup.gates.reduce((bits, gate, at) => (isEngineGate(gate) ? bits | (1 << at) : bits), 0);
  }

  /** Rows that belong to the series being built, its lead not counted. */
  get fresh(): number {
    return this.count - this.lead;
  }

  append(chunk: SampleChunk): void {
    const { setup } = this;
    const column = (quantity: LogQuantity): Float64Array | undefined => {
      const values = chunk.columns[sampleKey(quantity, setup.channel)] ?? chunk.columns[sampleKey(quantity)];
      if (values) this.found.add(quantity);
      return values;
    };
    const lambda = chunk.columns[sampleKey("lambda", setup.channel)];
    if (lambda) this.found.add("lambda");
    const { time } = chunk.columns;
    const xs = column(setup.xQuantity);
    const ys = setup.yQuantity ? column(setup.yQuantity) : undefined;
    const rpm = column("rpm");
    const pressure = column("manifold-pressure");
    const airFlow = column("air-flow");
    const pulse = column("pulse-width");
    const volts = column("battery-voltage");
    const coolant = column("coolant-temperature");
    const commanded = column("lambda-commanded");
    const trims = [column("trim-short"), column("trim-long")];
    const masks = gateMasks(chunk, setup.gates, this.gateState, setup.channel);
    const needed = this.count + chunk.count;
    if (needed > this.capacity) this.grow(Math.max(needed, 2 * this.capacity));
    const { numbers: to } = this;
    for (let i = 0; i < chunk.count; i++) {
      const reading = lambda ? lambda[i]! : Number.NaN;
      const read = !Number.isNaN(reading);
      if (read) this.readings++;
      const x = xs ? xs[i]! : Number.NaN;
      const y = setup.yQuantity ? (ys ? ys[i]! : Number.NaN) : 0;
      let known = Math.log(commanded ? commanded[i]! : setup.commanded(x, y));
      for (const trim of trims) if (trim && !Number.isNaN(trim[i])) known -= Math.log1p(trim[i]! / 100);
      const at = this.count;
      const step = at > 0 ? time[i]! - to.time[at - 1]! : 0;
      let drop = 0;
      if (
        !(plausible(setup.xQuantity, x) && (!setup.yQuantity || plausible(setup.yQuantity, y)) && Math.abs(known) < 3)
      )
        drop = structuralBits.unreadable;
      else if (at > 0 && step === 0) drop = structuralBits.repeated;
      if (drop !== 0) {
        if (read) {
          const mask = (masks[i]! | drop) >>> 0;
          this.dropped.set(mask, (this.dropped.get(mask) ?? 0) + 1);
        }
        continue;
      }
      if (step < 0) masks[i]! |= structuralBits.backwards;
      const paused = at === 0 || step < 0 || step > setup.pause;
      const turning = rpm && !Number.isNaN(rpm[i]) ? rpm[i]! : 0;
      const battery = volts && !Number.isNaN(volts[i]) ? volts[i]! : 13.5;
      const open = pulse ? pulse[i]! - setup.deadTime(battery) : Number.NaN;
      const cut = !(open > 0);
      if (pulse && open > 0) this.hasFuel = true;
      to.time[at] = time[i]!;
      to.x[at] = x;
      to.y[at] = y;
      to.known[at] = known;
      to.fuel[at] = cut ? 0 : open * turning;
      to.inverse[at] = cut ? 0 : 1 / Math.max(open, 0.2);
      to.warmth[at] = coolant && !Number.isNaN(coolant[i]) ? (coolant[i]! - 80) / 10 : 0;
      to.measured[at] = reading > 0 ? Math.log(reading) : Number.NaN;
      if (read && !(reading > 0)) masks[i]! |= structuralBits.unreadable;
      this.mask[at] = read ? masks[i]! : 0;
      const flow = relativeFlow(turning, pressure?.[i], airFlow?.[i], cut ? Number.NaN : open);
      to.volume[at] = at === 0 ? 0 : to.volume[at - 1]! + (paused ? 0 : 0.5 * step * (flow + this.flow));
      this.flow = flow;
      this.unfit[at + 1] = this.unfit[at]! + ((masks[i]! & this.engineBits) !== 0 ? 1 : 0);
      this.since[at] = paused ? at : this.since[at - 1]!;
      this.count++;
    }
  }

  /**
   * What has come in so far, as a series of its own; the builder keeps the last `leadSeconds` as the lead of the next.
   */
  take(leadSeconds = 0): Series {
    const { count, lead, numbers } = this;
    const columns = Object.fromEntries(numberColumns.map((key) => [key, numbers[key].slice(0, count)])) as Record<
      (typeof numberColumns)[number],
      Float64Array
    >;
    const series: Series = {
      ...columns,
      count,
      lead,
      mask: this.mask.slice(0, count),
      unfit: this.unfit.slice(0, count + 1),
      since: this.since.slice(0, count),
      hasFuel: this.hasFuel,
    };
    this.keepTail(leadSeconds);
    return series;
  }

  private keepTail(seconds: number): void {
    const { numbers, count } = this;
    if (count === 0) return;
    let from = count;
    const last = numbers.time[count - 1]!;
    // A stretch is only needed back to the pause before it.
    const begin = this.since[count - 1]!;
    while (from > begin && numbers.time[from - 1]! >= last - seconds) from--;
    for (const key of numberColumns) numbers[key].copyWithin(0, from, count);
    this.mask.copyWithin(0, from, count);
    this.unfit.copyWithin(0, from, count + 1);
    this.since.copyWithin(0, from, count);
    this.count = count - from;
    this.lead = this.count;
    for (let i = 0; i < this.count; i++) this.since[i] = Math.max(0, this.since[i]! - from);
  }

  private grow(to: number): void {
    const capacity = Math.max(1024, to);
    const wider = <T extends Float64Array | Uint32Array | Int32Array>(old: T | undefined, fresh: T): T => {
      if (old) fresh.set(old);
      return fresh;
    };
    for (const key of numberColumns) this.numbers[key] = wider(this.numbers[key], new Float64Array(capacity));
    this.mask = wider(this.mask, new Uint32Array(capacity));
    this.unfit = wider(this.unfit, new Int32Array(capacity + 1));
    this.since = wider(this.since, new Int32Array(capacity));
    this.capacity = capacity;
  }
}

/** Wider than any engine: what lies outside is a spoilt row, not a state of the engine. */
const widest: Partial<Record<LogQuantity, readonly [number, number]>> = {
  rpm: [0, 25_000],
  "manifold-pressure": [1, 600],
  "throttle-position": [-20, 130],
  "air-charge": [0, 20_000],
};

function plausible(quantity: LogQuantity, value: number): boolean {
  const [low, high] = widest[quantity] ?? [-1e6, 1e6];
  return value >= low && value <= high;
}

/** Air flow as a multiple of the reference flow, from the best that the log has. */
function relativeFlow(rpm: number, pressure: number | undefined, airFlow: number | undefined, open: number): number {
  let flow = rpm / flowReference.rpm;
  if (airFlow !== undefined && !Number.isNaN(airFlow)) flow = airFlow / flowReference.airFlow;
  else if (pressure !== undefined && !Number.isNaN(pressure)) flow *= pressure / flowReference.pressure;
  else if (!Number.isNaN(open)) flow *= open / flowReference.pulse;
  // Gas that stands still never arrives; a trickle keeps the arithmetic sound.
  return Math.max(flow, 0.02);
}
