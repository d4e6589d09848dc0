import { requireSameQuantity } from "../cells/compare-tables.ts";
import { percentChange } from "../cells/percent-change.ts";
import { lookupMany } from "../lookup/lookup-many.ts";
import { sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { type AxesShownAs, figureText, placeWords, type ShownAs, sayChange } from "./figures.ts";

/** Changes smaller than this many percent are rounding, not changes. */
export const LEAST_CHANGE_PERCENT = 1e-6;

/** What changed in a table, as pictures and their sentences tell it. */
export interface Changes {
  /** What it was, on the axes of what it is. */
  readonly before: FuelTable;
  /** Whether the breakpoints differ, so that `before` was read between its own. */
  readonly interpolated: boolean;
  /** Of each cell, as `percentChange` says; 0 where it is only rounding. */
  readonly percent: Float64Array;
  /** How many cells rose. */
  readonly raised: number;
  /** How many cells fell. */
  readonly lowered: number;
  /** The cell of the greatest change in percent, a change from zero being the greatest of all; −1 if none changed. */
  readonly largest: number;
}

/**
 * Each cell's change in percent from one table to another.
 *
 * Over other breakpoints along the same quantities, `before` is read at the cells of `after`, holding its edges.
 *
 * @throws FuelwrightError `quantities-differ`, `axes-do-not-match` if an axis runs along another quantity
 */
export function changesOf(after: FuelTable, before: FuelTable, operation = "plot"): Changes {
  requireSameQuantity(operation, before, after);
  const interpolated = !sameAxis(before.rpm, after.rpm) || !sameAxis(before.load, after.load);
  const was = interpolated ? onAxesOf(after, before, operation) : before;
  let raised = 0;
  let lowered = 0;
  let largest = -1;
  const percent = after.cells.map((cell, at) => {
    const change = percentChange(after.quantity, was.cells[at]!, cell);
    return Math.abs(change) < LEAST_CHANGE_PERCENT ? 0 : change;
  });
  percent.forEach((change, at) => {
    if (change > 0) raised++;
    if (change < 0) lowered++;
    if (exceeds(change, largest < 0 ? 0 : percent[largest]!)) largest = at;
  });
  return { before: was, interpolated, percent, raised, lowered, largest };
}

/** Whether a change is greater in size than another by more than rounding: of equal ones the first counts. */
export const exceeds = (change: number, other: number): boolean => Math.abs(change) > Math.abs(other) * (1 + 1e-9);

function onAxesOf(table: FuelTable, before: FuelTable, operation: string): FuelTable {
  if (before.rpm.quantity !== table.rpm.quantity || before.load.quantity !== table.load.quantity)
    throw new FuelwrightError(
      "axes-do-not-match",
      `${operation}: before must lie over ${table.rpm.quantity} and ${table.load.quantity}, got ${before.rpm.quantity} ` +
        `and ${before.load.quantity}; leave it out`,
      { before: before.id, after: table.id },
    );
  const columns = table.rpm.breakpoints.length;
  const cells = lookupMany(before, {
    rpm: table.cells.map((_, at) => table.rpm.breakpoints[at % columns]!),
    load: table.cells.map((_, at) => table.load.breakpoints[Math.floor(at / columns)]!),
  });
  return withCells({ ...table, name: before.name }, cells, operation);
}

/** "largest change +34 % at 3,000 rpm and 60 kPa, 6.10 to 8.17 ms"; empty where nothing changed. */
export function sayLargest(table: FuelTable, changes: Changes, shown: ShownAs, axes?: AxesShownAs): string {
  const { before, percent, largest } = changes;
  if (largest < 0) return "";
  const [from, to] = [before.cells[largest]!, table.cells[largest]!].map((value) => figureText(value, shown));
  const unit = shown.unit && ` ${shown.unit}`;
  return `largest change ${sayChange(percent[largest]!)} ${placeWords(table, axes)(largest)}, ${from} to ${to}${unit}`;
}

/** The changes in a sentence: "12 of 48 cells changed, 11 raised and 1 lowered; largest change …". */
export function sayChanges(table: FuelTable, changes: Changes, shown: ShownAs, axes?: AxesShownAs): string {
  const { interpolated, raised, lowered, largest } = changes;
  const all = table.cells.length;
  const said =
    largest < 0
      ? `None of ${all} cells changed.`
      : `${raised + lowered} of ${all} cells changed, ${raised} raised and ${lowered} lowered; ` +
        `${sayLargest(table, changes, shown, axes)}.`;
  return interpolated ? `${said} The breakpoints differ: what it was is read between its own.` : said;
}
