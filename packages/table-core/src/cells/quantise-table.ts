import { FuelwrightError } from "../values/errors.ts";
import { createStorage, type FuelTable, type Storage, withCells } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { storageLevels } from "./storage-levels.ts";

/** What {@link quantiseTable} takes. */
export interface QuantiseTable {
  /** How the controller stores a cell; left out: as the table says. */
  readonly storage?: Storage;
  /** Whether what is rounded off goes on to the next cell of the row, so that the row's mean is kept. Default false. */
  readonly diffuse?: boolean;
}

/**
 * The table as the controller can store it: every cell at the nearest of min, min + step, … max. Halves go up.
 *
 * Without `diffuse` a cell within the range moves by half a step at most. With it a cell moves by a whole step at most,
 * and the sum of a row's cells by half a step; what is cut off at the ends of the range is not carried on. Either way a second time changes nothing. Locked cells stay as they are, to be stored or not. The
 * result says its storage. O(cells).
 *
 * @example quantiseTable(table, { storage: { min: 0, max: 25.5, step: 0.1 }, diffuse: true })
 * @throws FuelwrightError `storage-missing` if neither says a storage, `bad-storage`
 */
export function quantiseTable(table: FuelTable, { storage, diffuse = false }: QuantiseTable = {}): FuelTable {
  const kept = requireStorage("quantiseTable", table, storage);
  const levels = storageLevels(kept);
  const [low, high] = [levels.value(0), levels.value(levels.top)];
  const free = editWeights(table);
  const columns = table.rpm.breakpoints.length;
  let carried = 0;
  const cells = table.cells.map((value, at) => {
    if (at % columns === 0) carried = 0;
    if (free[at] === 0) return value;
    const wanted = Math.min(Math.max(value, low), high) + carried;
    const stored = levels.value(Math.min(Math.max(levels.nearest(wanted), 0), levels.top));
    if (diffuse) carried = wanted - stored;
    return stored;
  });
  return Object.freeze({ ...withCells(table, cells, "quantiseTable"), storage: kept });
}

/** The storage given, or else the table's. @throws FuelwrightError `storage-missing`, `bad-storage` */
export function requireStorage(operation: string, table: FuelTable, storage: Storage | undefined): Storage {
  const kept = storage ?? table.storage;
  if (!kept)
    throw new FuelwrightError(
      "storage-missing",
      `${operation}: ${table.id} must say how the controller stores it, got nothing; give storage { min, max, step }`,
      { id: table.id },
    );
  return createStorage(`${operation}: storage`, kept);
}
