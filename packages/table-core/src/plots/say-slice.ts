import type { FuelTable } from "../values/fuel-table.ts";
import { axisQuantities, cellQuantities } from "../values/quantities.ts";
import { type AxesShownAs, breakpointWords, figureText, type ShownAs } from "./figures.ts";
import type { SliceDirection } from "./slice.ts";

/** What a slice's sentence is made of; values in the table's own unit, in order of the slice's axis. */
export interface SaidSlice {
  readonly table: Pick<FuelTable, "name" | "quantity" | "rpm" | "load">;
  readonly along: SliceDirection;
  /** The cell through which it is cut, row-major. */
  readonly cell: number;
  readonly now: readonly number[];
  /** Null: nothing to compare with, or nothing differs. */
  readonly was: readonly number[] | null;
  readonly shown: ShownAs;
  readonly axes?: AxesShownAs | undefined;
}

/** Where a table is cut: "at 70 kPa", "at 3,500 rpm", or the name of a one-row table. */
export function sayCut({ table, along, cell, axes }: Pick<SaidSlice, "table" | "along" | "cell" | "axes">): string {
  const columns = table.rpm.breakpoints.length;
  if (along === "rpm" && table.load.quantity === "single-row") return table.name;
  return along === "rpm"
    ? `at ${breakpointWords(table.load, Math.floor(cell / columns), axes?.load)}`
    : `at ${breakpointWords(table.rpm, cell % columns, axes?.rpm)}`;
}

/** "pulse width over rpm, at 20 kPa: 2.50 to 6.00 ms; at 1,500 rpm 6.00 ms; before 2.50 to 8.00 ms, at 1,500 rpm 8.00 ms" */
export function saySlice(slice: SaidSlice): string {
  const { table, along, cell, now, was, shown, axes } = slice;
  const axis = table[along];
  const columns = table.rpm.breakpoints.length;
  const here = along === "rpm" ? cell % columns : Math.floor(cell / columns);
  // Shown values may fall where the table's rise, as an equivalence ratio does: they are compared as shown.
  const say = (value: number) => figureText(value, { ...shown, show: (figure) => figure });
  const unit = shown.unit && ` ${shown.unit}`;
  const told = (values: readonly number[], joint: string) => {
    const figures = values.map(shown.show);
    return `${say(Math.min(...figures))} to ${say(Math.max(...figures))}${unit}${joint} ${at} ${say(figures[here]!)}${unit}`;
  };
  const at = breakpointWords(axis, here, axes?.[along]);
  const over = `${cellQuantities[table.quantity].label} over ${axisQuantities[axis.quantity].label}, ${sayCut(slice)}`;
  return `${over}: ${told(now, "; at")}${was ? `; before ${told(was, ", at")}` : ""}`;
}
