import type { FuelTable } from "../values/fuel-table.ts";
import { axisQuantities, cellQuantities } from "../values/quantities.ts";
import { type AxesShownAs, breakpointTexts, figureText, type ShownAs } from "./figures.ts";
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
  const side = along === "rpm" ? "load" : "rpm";
  const place = along === "rpm" ? Math.floor(cell / columns) : cell % columns;
  return `at ${breakpointTexts(table[side], axes?.[side])[place]} ${axes?.[side]?.unit ?? table[side].unit}`;
}

/** "pulse width over rpm, at 20 kPa: 2.50 to 6.00 ms; at 1,500 rpm 6.00 ms; before 2.50 to 8.00 ms, at 1,500 rpm 8.00 ms" */
export function saySlice(slice: SaidSlice): string {
  const { table, along, cell, now, was, shown, axes } = slice;
  const axis = table[along];
  const columns = table.rpm.breakpoints.length;
  const here = along === "rpm" ? cell % columns : Math.floor(cell / columns);
  const say = (value: number) => figureText(value, shown);
  const unit = shown.unit && ` ${shown.unit}`;
  const range = (values: readonly number[]) => {
    // Shown units may fall where the table's rise, as equivalence ratio does.
    const sorted = values.map((value) => [shown.show(value), value] as const).sort((a, b) => a[0] - b[0]);
    return `${say(sorted[0]![1])} to ${say(sorted.at(-1)![1])}${unit}`;
  };
  const at = `${breakpointTexts(axis, axes?.[along])[here]} ${axes?.[along]?.unit ?? axis.unit}`;
  return (
    `${cellQuantities[table.quantity].label} over ${axisQuantities[axis.quantity].label}, ${sayCut(slice)}: ` +
    `${range(now)}; at ${at} ${say(now[here]!)}${unit}` +
    (was ? `; before ${range(was)}, at ${at} ${say(was[here]!)}${unit}` : "")
  );
}
