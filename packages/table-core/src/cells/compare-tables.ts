import { sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import type { CellQuantity } from "../values/quantities.ts";
import { percentChange } from "./percent-change.ts";
import { gridRoughness } from "./roughness.ts";

/** One cell's change; `at` is its row-major place. */
export interface CellChange {
  /** Row-major index. */
  readonly at: number;
  readonly rpm: number;
  readonly load: number;
  /** The cell in the first table, in its unit. */
  readonly before: number;
  /** The cell in the second table. */
  readonly after: number;
  /** After − before, in the table's unit. */
  readonly absolute: number;
  /** The same as a percentage, as {@link percentChange} has it. */
  readonly percent: number;
}

/** What changed from one table to another, cells row-major [load][rpm]. */
export interface Comparison {
  /** After − before, in the table's unit. */
  readonly absolute: Float64Array;
  /** As {@link percentChange} says: 0 where nothing changed, ±Infinity where there was nothing to compare to. */
  readonly percent: Float64Array;
  /** How many cells differ. */
  readonly changed: number;
  /** Mean of `absolute` over all cells. */
  readonly meanChange: number;
  /** The greatest rise and fall by `absolute`; null if no cell rose or fell. */
  readonly largestRise: CellChange | null;
  readonly largestFall: CellChange | null;
  /** See {@link roughness}. */
  readonly roughness: { readonly before: number; readonly after: number };
}

/**
 * What changed between two tables on the same axes, cell by cell.
 *
 * @example compareTables(before, after).largestRise // { rpm: 4500, load: 90, absolute: 0.42, percent: 3.9, … }
 * @throws FuelwrightError `quantities-differ`, `axes-differ` (then `compareSurfaces` can do it)
 */
export function compareTables(before: FuelTable, after: FuelTable): Comparison {
  requireSameQuantity("compareTables", before, after);
  if (!sameAxis(before.rpm, after.rpm) || !sameAxis(before.load, after.load))
    throw new FuelwrightError(
      "axes-differ",
      `compareTables: ${before.id} and ${after.id} must have the same breakpoints; compare them with compareSurfaces`,
      { before: before.id, after: after.id },
    );
  return compareCells(before.quantity, before.rpm.breakpoints, before.load.breakpoints, before.cells, after.cells);
}

/** The comparison of two sets of cells on the same bare breakpoints. */
export function compareCells(
  quantity: CellQuantity,
  rpm: readonly number[],
  load: readonly number[],
  before: Float64Array,
  after: Float64Array,
): Comparison {
  const absolute = after.map((value, at) => value - before[at]!);
  const percent = after.map((value, at) => percentChange(quantity, before[at]!, value));
  let rise = -1;
  let fall = -1;
  let changed = 0;
  let sum = 0;
  absolute.forEach((change, at) => {
    sum += change;
    if (change !== 0) changed++;
    if (change > (rise < 0 ? 0 : absolute[rise]!)) rise = at;
    if (change < (fall < 0 ? 0 : absolute[fall]!)) fall = at;
  });
  const describe = (at: number): CellChange | null =>
    at < 0
      ? null
      : {
          at,
          rpm: rpm[at % rpm.length]!,
          load: load[Math.floor(at / rpm.length)]!,
          before: before[at]!,
          after: after[at]!,
          absolute: absolute[at]!,
          percent: percent[at]!,
        };
  return {
    absolute,
    percent,
    changed,
    meanChange: sum / absolute.length,
    largestRise: describe(rise),
    largestFall: describe(fall),
    roughness: { before: gridRoughness(rpm, load, before), after: gridRoughness(rpm, load, after) },
  };
}

/** @throws FuelwrightError `quantities-differ` */
export function requireSameQuantity(operation: string, a: FuelTable, b: FuelTable): void {
  if (a.quantity !== b.quantity)
    throw new FuelwrightError(
      "quantities-differ",
      `${operation}: ${a.id} holds ${a.quantity} and ${b.id} holds ${b.quantity}; choose two tables of one quantity`,
      { a: a.quantity, b: b.quantity },
    );
}
