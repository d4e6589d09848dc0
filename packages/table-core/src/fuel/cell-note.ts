import type { FuelTable } from "../values/fuel-table.ts";

/** A cell that a report points out. */
export interface CellNote {
  /** Row-major index. */
  readonly at: number;
  /** Breakpoints of its column and row. */
  readonly rpm: number;
  /** See `rpm`. */
  readonly load: number;
  /** What is told of the cell; the list it stands in says what that is. */
  readonly value: number;
}

export function cellNote(table: Pick<FuelTable, "rpm" | "load">, at: number, value: number): CellNote {
  const columns = table.rpm.breakpoints.length;
  return {
    at,
    rpm: table.rpm.breakpoints[at % columns]!,
    load: table.load.breakpoints[Math.floor(at / columns)]!,
    value,
  };
}

/** The cells whose value is picked, in order. */
export function notesOf(
  table: Pick<FuelTable, "rpm" | "load">,
  values: Float64Array,
  pick: (value: number, at: number) => boolean,
): readonly CellNote[] {
  const notes: CellNote[] = [];
  for (let at = 0; at < values.length; at++) if (pick(values[at]!, at)) notes.push(cellNote(table, at, values[at]!));
  return notes;
}
