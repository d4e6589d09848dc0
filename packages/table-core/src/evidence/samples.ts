/** What a column of a log can hold, in the unit {@link logQuantities} gives it. */
export type LogQuantity =
  | "time"
  | "rpm"
  | "manifold-pressure"
  | "throttle-position"
  | "air-charge"
  | "air-flow"
  | "lambda"
  | "lambda-commanded"
  | "pulse-width"
  | "coolant-temperature"
  | "air-temperature"
  | "battery-voltage"
  | "barometric-pressure"
  | "trim-short"
  | "trim-long"
  | "cylinder"
  | "gear"
  | "speed"
  | "fuel-cut";

/** A column's key: the quantity, and for the second sensor, cylinder or bank the quantity with its number. */
export type SampleKey = LogQuantity | `${LogQuantity}-${number}`;

/** The key of a quantity for sensor, cylinder or bank `channel`, from 1. */
export const sampleKey = (quantity: LogQuantity, channel = 1): SampleKey =>
  channel === 1 ? quantity : `${quantity}-${channel}`;

/**
 * Samples of a log in the order of its rows, column by column.
 *
 * All columns have `count` numbers in the units of the library; NaN means not sampled or not readable. `time` is in
 * seconds, always there and always finite; it runs backwards only where the log's own does, which `fitEvidence` passes
 * over and tells.
 */
export interface SampleChunk {
  readonly count: number;
  /** The number of the first sample in the log, from 0. */
  readonly first: number;
  readonly columns: Readonly<{ time: Float64Array } & Partial<Record<SampleKey, Float64Array>>>;
}

/** A log that can be gone through more than once. */
export interface LogSamples {
  readonly name: string;
  /** Whether it was made by a simulation: whatever is found from it says so. */
  readonly simulated: boolean;
  /** Begins anew, from the first sample. */
  open(): AsyncIterable<SampleChunk> | Iterable<SampleChunk>;
}
