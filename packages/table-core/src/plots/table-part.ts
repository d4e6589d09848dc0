import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";

/** Part of a table's columns and rows, by index, half-open as `slice` has it. */
export interface TablePart {
  /** From the first, up to but without the last. */
  readonly columns: readonly [from: number, to: number];
  /** Likewise, counting rising load. */
  readonly rows: readonly [from: number, to: number];
}

/** @throws FuelwrightError `out-of-range` for a part that the table doesn't have, or of nothing */
export function requirePart(operation: string, table: Pick<FuelTable, "rpm" | "load">, part?: TablePart): TablePart {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const { columns: across, rows: up } = part ?? { columns: [0, columns], rows: [0, rows] };
  const good = ([from, to]: readonly [number, number], count: number) =>
    Number.isInteger(from) && Number.isInteger(to) && from >= 0 && from < to && to <= count;
  if (!good(across, columns) || !good(up, rows))
    throw new FuelwrightError(
      "out-of-range",
      `${operation}: part must lie within ${columns} columns and ${rows} rows, got columns ${across.join(" to ")} and ` +
        `rows ${up.join(" to ")}; give indices from low to high`,
      { columns, rows },
    );
  return { columns: across, rows: up };
}

/** A number of things in parts of nearly the same size, none above `most`. */
export function evenParts(count: number, most: number): (readonly [from: number, to: number])[] {
  const parts = Math.ceil(count / Math.max(1, most));
  return Array.from({ length: parts }, (_, at) => [
    Math.floor((at * count) / parts),
    Math.floor(((at + 1) * count) / parts),
  ]);
}
