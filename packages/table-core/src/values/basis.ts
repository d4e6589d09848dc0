/**
 * Where a figure comes from.
 *
 * `given`: typed in by the user. `computed`: follows from given figures by a law of physics or by arithmetic.
 * `estimated`: rests on at least one assumption, which is named. `common-practice`: a rule of the trade, not a measurement.
 */
export type Basis = "given" | "computed" | "estimated" | "common-practice";

/** Something the figures rest on that nobody gave: what was taken, and how much it matters. */
export interface Assumption {
  /** Stable name, for programs. */
  readonly id: string;
  /** One sentence: what was assumed. */
  readonly text: string;
  readonly basis: Basis;
  /** One sentence: how far the result could move; left out where it can't be said. */
  readonly matters?: string;
  /** The same as a number: the largest change of the result in percent. */
  readonly mattersPercent?: number;
}
