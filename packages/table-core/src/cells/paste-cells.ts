import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireFinite, say } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";
import { mix } from "./mix.ts";

/** A block of cells with its own breakpoints, as it was copied: rows [load][rpm], both sides strictly rising. */
export interface PasteCells {
  readonly rpm: readonly number[];
  /** On a one-row table one entry, whose value does not count. */
  readonly load: readonly number[];
  /** Rows [load][rpm], in the table's unit. */
  readonly cells: readonly (readonly number[])[];
}

/**
 * The table with every cell that lies within the block's outline at the block's value there.
 *
 * A cell on the block's breakpoints takes the block's number exactly; between them the block is interpolated
 * (bilinear). A block of one row or one column applies at that one breakpoint only. Locked cells and cells outside the
 * outline come out bit for bit; if there are no others, the table itself is returned. O(cells).
 *
 * @example pasteCells(table, { rpm: [1000, 1500], load: [40], cells: [[2.4, 2.6]] })
 * @throws FuelwrightError `bad-block` or `not-finite`, naming the place
 */
export function pasteCells(table: FuelTable, { rpm, load, cells }: PasteCells): FuelTable {
  requireRising("pasteCells: rpm", rpm);
  requireRising("pasteCells: load", load);
  requireBlock(cells, load.length, rpm.length);
  const oneRow = table.load.quantity === "single-row";
  if (oneRow && load.length !== 1)
    throw new FuelwrightError(
      "bad-block",
      `pasteCells: load must be one row for a table of one row, got ${load.length} rows; paste one row`,
      { rows: load.length },
    );
  const columns = table.rpm.breakpoints.map((value) => placeIn(rpm, value));
  const rows = oneRow ? [{ at: 0, share: 0 }] : table.load.breakpoints.map((value) => placeIn(load, value));
  return editCells(table, undefined, "pasteCells", (_, at) => {
    const column = columns[at % columns.length];
    const row = rows[Math.floor(at / columns.length)];
    if (!column || !row) return undefined;
    const along = (r: number) => between(cells[r]!, column);
    return row.share === 0 ? along(row.at) : mix(along(row.at), along(row.at + 1), row.share);
  });
}

/** Where a value lies among rising points: `share` of the way from point `at` to the next. */
interface Place {
  readonly at: number;
  readonly share: number;
}

function placeIn(points: readonly number[], value: number): Place | null {
  const above = points.findIndex((point) => point >= value);
  if (above < 0) return null;
  if (points[above] === value) return { at: above, share: 0 };
  if (above === 0) return null;
  const low = points[above - 1]!;
  return { at: above - 1, share: (value - low) / (points[above]! - low) };
}

const between = (row: readonly number[], { at, share }: Place) =>
  share === 0 ? row[at]! : mix(row[at]!, row[at + 1]!, share);

function requireRising(where: string, points: readonly number[]): void {
  if (!Array.isArray(points) || points.length < 1 || points.length > MOST_BREAKPOINTS)
    throw new FuelwrightError(
      "bad-block",
      `${where} must be a list of 1 to ${MOST_BREAKPOINTS} numbers, got ${say(points)}; give the block's breakpoints`,
    );
  points.forEach((value, at) => {
    requireFinite(`${where}[${at}]`, value);
    if (at > 0 && value <= points[at - 1]!)
      throw new FuelwrightError(
        "bad-block",
        `${where}[${at}] must be above ${points[at - 1]}, got ${value}; sort the breakpoints and drop repeats`,
        { at, value },
      );
  });
}

function requireBlock(cells: PasteCells["cells"], rows: number, columns: number): void {
  if (!Array.isArray(cells) || cells.length !== rows)
    throw new FuelwrightError(
      "bad-block",
      `pasteCells: cells must be ${rows} rows, one for each load, got ${say(cells)}; check the block`,
      { rows },
    );
  cells.forEach((row, r) => {
    if (!Array.isArray(row) || row.length !== columns)
      throw new FuelwrightError(
        "bad-block",
        `pasteCells: cells[${r}] must be ${columns} numbers, one for each rpm, got ${say(row)}; fill or cut the row`,
        { row: r, columns },
      );
    row.forEach((value, c) => {
      requireFinite(`pasteCells: cells[${r}][${c}]`, value);
    });
  });
}
