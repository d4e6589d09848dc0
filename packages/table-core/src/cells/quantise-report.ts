import { sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable, Storage } from "../values/fuel-table.ts";
import { requireStorage } from "./quantise-table.ts";
import { storageLevels } from "./storage-levels.ts";

/** A cell and what rounding made of it; `at` is its row-major place. */
export interface StoredCell {
  /** Row-major index. */
  readonly at: number;
  readonly rpm: number;
  readonly load: number;
  /** In full precision, in the table's unit. */
  readonly before: number;
  /** As stored. */
  readonly after: number;
  /** After − before, in the table's unit. */
  readonly error: number;
}

/** What rounding to a controller's storage did. */
export interface QuantiseReport {
  /** The cell with the greatest rounding error, or null if no cell was rounded. Cells cut off do not count. */
  readonly largest: StoredCell | null;
  /** Root mean square of the rounding errors, of all cells but those cut off. */
  readonly rootMeanSquare: number;
  /** Cells that lay outside the range by more than rounding, and now stand at its end. */
  readonly clipped: readonly (StoredCell & { readonly end: "min" | "max" })[];
  /** Cells that the controller can't store as they are, because they were locked. */
  readonly unstored: readonly StoredCell[];
}

/**
 * What {@link quantiseTable} changed: rounding errors, cells cut off at the ends of the range, cells left unrounded.
 *
 * @param settings - `storage` as it was given to `quantiseTable`; left out: as `after` says
 * @throws FuelwrightError `axes-differ`, `storage-missing`, `bad-storage`
 */
export function quantiseReport(
  before: FuelTable,
  after: FuelTable,
  settings: { readonly storage?: Storage } = {},
): QuantiseReport {
  if (!sameAxis(before.rpm, after.rpm) || !sameAxis(before.load, after.load))
    throw new FuelwrightError(
      "axes-differ",
      `quantiseReport: ${before.id} and ${after.id} must have the same breakpoints; give a table and what rounding made of it`,
    );
  const levels = storageLevels(requireStorage("quantiseReport", after, settings.storage));
  const columns = before.rpm.breakpoints.length;
  const cells = Array.from(before.cells, (value, at): StoredCell => {
    const stored = after.cells[at]!;
    const rpm = before.rpm.breakpoints[at % columns]!;
    const load = before.load.breakpoints[Math.floor(at / columns)]!;
    return { at, rpm, load, before: value, after: stored, error: stored - value };
  });
  const clipped: (StoredCell & { end: "min" | "max" })[] = [];
  const unstored: StoredCell[] = [];
  let largest: StoredCell | null = null;
  let squares = 0;
  for (const cell of cells) {
    const level = levels.nearest(cell.before);
    if (levels.value(levels.nearest(cell.after)) !== cell.after) unstored.push(cell);
    if (cell.error !== 0 && (level < 0 || level > levels.top))
      clipped.push({ ...cell, end: level < 0 ? "min" : "max" });
    else {
      squares += cell.error ** 2;
      if (Math.abs(cell.error) > Math.abs(largest?.error ?? 0)) largest = cell;
    }
  }
  const rounded = cells.length - clipped.length;
  return { largest, rootMeanSquare: rounded > 0 ? Math.sqrt(squares / rounded) : 0, clipped, unstored };
}
