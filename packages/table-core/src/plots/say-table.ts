import { axisQuantities, cellQuantities } from "../values/quantities.ts";
import { sayCeiling } from "./ceiling-hatches.ts";
import { sayChanges } from "./changes.ts";
import { figureWithUnit, placeWords } from "./figures.ts";
import type { ReadyTable } from "./table-figures.ts";
import type { TablePart } from "./table-part.ts";

/** The table in sentences: what it holds, its ends, what changed, what is at a ceiling. Of all of it, whatever part is shown. */
export function sayTable({ table, changes, ceilings, shown, axes }: ReadyTable): string {
  const { rpm, load, cells, name, quantity } = table;
  const place = placeWords(table, axes);
  let [low, high] = [0, 0];
  cells.forEach((cell, at) => {
    if (cell < cells[low]!) low = at;
    if (cell > cells[high]!) high = at;
  });
  const over = axisQuantities[rpm.quantity].label;
  const size =
    load.quantity === "single-row"
      ? `${rpm.breakpoints.length} cells over ${over}`
      : `${rpm.breakpoints.length} columns over ${over}, ${load.breakpoints.length} rows over ${axisQuantities[load.quantity].label}`;
  return [
    `${name}, ${cellQuantities[quantity].label}: ${size}.`,
    cells[low] === cells[high]
      ? `${figureWithUnit(cells[low]!, shown)} throughout.`
      : `Least ${figureWithUnit(cells[low]!, shown)} ${place(low)}, greatest ${figureWithUnit(cells[high]!, shown)} ${place(high)}.`,
    ...(changes ? [`Before and after: ${sayChanges(table, changes, shown, axes)}`] : []),
    ...ceilings.map((ceiling) => sayCeiling(table, ceiling, axes)),
  ].join(" ");
}

/** "1,000 to 3,500 rpm, 20 to 60 kPa" */
export function sayPart({ columns, rows, columnUnit, rowUnit }: ReadyTable, part: TablePart): string {
  const ends = (texts: readonly string[], unit: string) =>
    texts.length === 1 ? `${texts[0]} ${unit}` : `${texts[0]} to ${texts.at(-1)} ${unit}`;
  const across = ends(columns.slice(...part.columns), columnUnit);
  return rowUnit ? `${across}, ${ends(rows.slice(...part.rows), rowUnit)}` : across;
}
