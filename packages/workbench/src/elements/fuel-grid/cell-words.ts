import type { FuelTable } from "@fuelwright/table-core";
import { changeText } from "./cell-change.ts";
import { type AxesDisplay, breakpointWords, figureOf } from "./cell-display.ts";
import type { GridView } from "./grid-view.ts";

/** Where a cell lies, in words: "3,500 rpm, 70 kPa". */
export function placeWords(
  { table, axes }: { table: Pick<FuelTable, "rpm" | "load">; axes: AxesDisplay | null },
  at: number,
): string {
  const columns = table.rpm.breakpoints.length;
  const rpm = breakpointWords(table.rpm, at % columns, axes?.rpm);
  if (table.load.quantity === "single-row") return rpm;
  return `${rpm}, ${breakpointWords(table.load, Math.floor(at / columns), axes?.load)}`;
}

/** A cell's accessible name: its value, its place, its change, and the words of its marks. */
export function cellWords(view: GridView, at: number): string {
  const { table, display, before, change, marks, deviation } = view;
  let words = `${figureOf(display, table.cells[at]!)}${display.unit && ` ${display.unit}`}, ${placeWords(view, at)}`;
  const percent = change ? change[at]! : 0;
  if (percent !== 0)
    words += `, ${changeText(percent)}${before ? `, before ${figureOf(display, before.cells[at]!)}` : ""}`;
  if (deviation && Number.isFinite(deviation[at]!)) words += `, give or take ${deviation[at]!.toPrecision(2)} %`;
  for (const mark of marks.get(at) ?? []) words += `, ${mark.words}`;
  return words;
}
