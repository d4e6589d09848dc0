import { cellQuantities } from "../values/quantities.ts";
import { ceilingNote } from "./ceiling-hatches.ts";
import { drawTable, tableWidth } from "./draw-table.ts";
import { type Inks, lightInks } from "./inks.ts";
import { node, type Picture } from "./picture.ts";
import type { PlotOptions } from "./plot-options.ts";
import { sayPart } from "./say-table.ts";
import { laySheet, type Note } from "./sheet.ts";
import { signPath } from "./sign.ts";
import type { ReadyTable } from "./table-figures.ts";
import type { TablePart } from "./table-part.ts";

/** A part of a table as a picture with heading and notes. `description` is of the whole table. */
export function layTable(ready: ReadyTable, part: TablePart, description: string, options: PlotOptions): Picture {
  const { inks = lightInks } = options;
  const { table, changes, asChange, ceilings, axes, shown } = ready;
  const [columns, rows] = [part.columns[1] - part.columns[0], part.rows[1] - part.rows[0]];
  const shownPart = columns * rows === table.cells.length ? "" : sayPart(ready, part);
  const label = cellQuantities[table.quantity].label;
  const what = asChange ? [`change of ${label}`, "%"] : [label, shown.unit === label ? "" : shown.unit];
  const subtitle = [...what, shownPart].filter(Boolean).join(", ");
  return laySheet(
    {
      title: options.title ?? table.name,
      subtitle:
        changes && changes.before.name !== table.name ? `${subtitle}; before: ${changes.before.name}` : subtitle,
      description: shownPart ? `${description} Shown here: ${shownPart}.` : description,
      width: tableWidth(ready, columns),
      body: (top) => drawTable(ready, part, top, inks),
      notes: [
        ...changeNotes(ready, inks),
        ...ceilings.map((ceiling, at) => ceilingNote(table, ceiling, at, inks, axes)),
      ],
    },
    options,
  );
}

function changeNotes({ changes, asChange }: ReadyTable, inks: Inks): Note[] {
  if (!changes || changes.largest < 0) return [];
  if (asChange) return [{ text: "A dot: unchanged." }];
  const note = (text: string, percent: number): Note => ({
    text,
    sample: (x, y) => [
      node("path", {
        class: "sign",
        d: signPath(x + 11, y, percent),
        stroke: inks.ink,
        "stroke-width": 1.2,
        fill: "none",
      }),
    ],
  });
  return [note("raised", 1), note("lowered", -1)];
}
