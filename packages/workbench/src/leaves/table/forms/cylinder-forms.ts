import type { FuelTable } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { onTable, selected } from "./edit-forms.ts";
import { checkField, choiceField, numberField } from "./fields.ts";
import { defineForm } from "./step-form.ts";

/** The tables of several cylinders that belong with the one at hand: same quantity, each with a cylinder of its own. */
function siblings(desk: Desk): readonly FuelTable[] {
  const { table } = desk;
  const seen = new Set<number>();
  return Object.values(desk.shown.tables).filter(({ quantity, cylinder }) => {
    if (cylinder === undefined || quantity !== table?.quantity || seen.has(cylinder)) return false;
    seen.add(cylinder);
    return true;
  });
}

const NO_SIBLINGS = "There are no tables of several cylinders; split one first, or bring them in.";

const trimTables = (desk: Desk) =>
  Object.values(desk.shown.tables).filter(({ quantity, cylinder }) => quantity === "trim" && cylinder !== undefined);

/** Steps between one table for all cylinders and a table for each. */
export const cylinderForms = [
  defineForm({
    kind: "split-by-cylinder",
    title: "Split by cylinder",
    about: "A table for each cylinder, with its trim put on where there is one.",
    group: "table",
    start: (desk) =>
      desk.table?.cylinder === undefined
        ? onTable((_, { shown }) => ({ cylinders: Math.max(2, shown.build.engine.cylinders) }))(desk)
        : "This table serves one cylinder already.",
    fields({ desk, settings, change }) {
      const trims = settings.trims ?? [];
      return html`${numberField({
        label: "Cylinders",
        explain: "split-into",
        value: settings.cylinders,
        decimals: 0,
        min: 2,
        max: 64,
        change: (cylinders) => change({ ...settings, cylinders }),
      })}
      ${trimTables(desk).map(({ id, name }) =>
        checkField(`Put on ${name}`, trims.includes(id), (on) => {
          const { trims: _, ...rest } = settings;
          const wanted = on ? [...trims, id] : trims.filter((other) => other !== id);
          change(wanted.length ? { ...rest, trims: wanted } : rest);
        }),
      )}
      <p class="quiet">The table for all stays; the new ones stand beside it.</p>`;
    },
  }),
  defineForm({
    kind: "join-cylinders",
    title: "Join cylinders",
    about: "One base table and a trim for each cylinder, from a table for each.",
    group: "table",
    start(desk) {
      const tables = siblings(desk).map(({ id }) => id);
      return tables.length > 1 ? { settings: { tables } } : NO_SIBLINGS;
    },
    fields: ({ desk, settings }) =>
      html`<p class="quiet">Joins ${settings.tables.map((id) => desk.shown.tables[id]?.name ?? id).join(", ")}.</p>`,
    outcome({ report }) {
      const inexact = (report as { inexact: readonly unknown[] } | undefined)?.inexact.length ?? 0;
      return inexact === 0
        ? html`<p>Split again, every cell is the same number.</p>`
        : html`<p>${inexact} cells come back to the last place only when split again.</p>`;
    },
  }),
  defineForm({
    kind: "copy-cylinder",
    title: "Copy a cylinder",
    about: "One cylinder's cells to the others; part of the way by a soft edge, or by Blend.",
    group: "table",
    hasRegion: true,
    start(desk) {
      const tables = siblings(desk);
      return tables.length > 1
        ? { settings: { ...selected(desk), tables: tables.map(({ id }) => id), from: tables[0]!.cylinder! } }
        : NO_SIBLINGS;
    },
    fields({ desk, settings, change }) {
      const numbers = settings.tables.map((id) => desk.shown.tables[id]?.cylinder ?? 0);
      const others = numbers.filter((cylinder) => cylinder !== settings.from);
      const to = settings.to ?? others;
      return html`${choiceField(
        "From cylinder",
        String(settings.from),
        numbers.map((cylinder) => [String(cylinder), String(cylinder)] as const),
        (from) => {
          const { to: _, ...rest } = settings;
          change({ ...rest, from: Number(from) });
        },
        "",
        "copy-from",
      )}
      ${
        others.length > 1
          ? others.map((cylinder) =>
              checkField(`To cylinder ${cylinder}`, to.includes(cylinder), (on) =>
                change({ ...settings, to: others.filter((other) => (other === cylinder ? on : to.includes(other))) }),
              ),
            )
          : nothing
      }`;
    },
  }),
] as const;
