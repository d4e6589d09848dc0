import type { FuelTable, SettingsOf } from "@fuelwright/table-core";
import { html } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { cellDisplay, type Display } from "../../../store/display.ts";
import { choiceField, numberField } from "./fields.ts";
import { defineForm } from "./step-form.ts";

const NO_TABLE = "Bring in a table first.";

/** Settings that start with the region selected. */
export const selected = (desk: Desk) => (desk.view.region ? { region: desk.view.region } : {});

export const displayOf = (desk: Desk, table: FuelTable): Display =>
  cellDisplay(table, desk.preferences, desk.shown.build.fuel);

/** Where a form needs nothing but a table at hand. */
export function onTable<S>(settings: (table: FuelTable, desk: Desk) => S) {
  return (desk: Desk): { readonly table: string; readonly settings: S } | string => {
    const { table } = desk;
    return table ? { table: table.id, settings: settings(table, desk) } : NO_TABLE;
  };
}

export const editForms = [
  defineForm({
    kind: "set-cells",
    title: "Set",
    about: "One value in every cell selected.",
    group: "cells",
    hasRegion: true,
    start: onTable((table, desk) => ({ ...selected(desk), value: table.cells[desk.view.cell]! })),
    fields: ({ desk, settings, change }) => {
      const display = displayOf(desk, desk.table!);
      return numberField({
        label: "Value",
        explain: "set-value",
        value: display.show(settings.value),
        unitText: display.unit,
        decimals: display.decimals,
        change: (shown) => change({ ...settings, value: display.read(shown) }),
      });
    },
  }),
  defineForm({
    kind: "scale-cells",
    title: "Scale",
    about: "The same percentage on every cell selected.",
    group: "cells",
    hasRegion: true,
    start: onTable((_, desk) => ({ ...selected(desk), factor: 1 })),
    fields: ({ settings, change }) =>
      numberField({
        label: "Change",
        explain: "scale-change",
        value: (settings.factor - 1) * 100,
        unitText: "%",
        decimals: 2,
        min: -99.9,
        max: 900,
        change: (percent) => change({ ...settings, factor: 1 + percent / 100 }),
      }),
  }),
  defineForm({
    kind: "offset-cells",
    title: "Add or take off",
    about: "The same amount on every cell selected.",
    group: "cells",
    hasRegion: true,
    start: onTable((_, desk) => ({ ...selected(desk), amount: 0 })),
    fields: ({ desk, settings, change }) =>
      numberField({
        label: "Amount",
        explain: "offset-amount",
        value: settings.amount,
        unitText: desk.table!.unit,
        decimals: 3,
        change: (amount) => change({ ...settings, amount }),
      }),
  }),
  defineForm({
    kind: "limit-cells",
    title: "Keep within limits",
    about: "Cells below the least or above the most are brought to it.",
    group: "cells",
    hasRegion: true,
    start: onTable((table, desk) => ({ ...selected(desk), max: Math.max(...table.cells) })),
    fields: ({ desk, settings, change }) => {
      const { unit } = desk.table!;
      const { min, max, ...rest } = settings;
      return html`${numberField({
        label: "At least",
        explain: "at-least",
        value: min ?? null,
        unitText: unit,
        decimals: 3,
        change: (value) => change({ ...rest, ...(max !== undefined && { max }), min: value }),
        clear: () => change({ ...rest, ...(max !== undefined && { max }) }),
      })}${numberField({
        label: "At most",
        explain: "at-most",
        value: max ?? null,
        unitText: unit,
        decimals: 3,
        change: (value) => change({ ...rest, ...(min !== undefined && { min }), max: value }),
        clear: () => change({ ...rest, ...(min !== undefined && { min }) }),
      })}`;
    },
  }),
  defineForm({
    kind: "fill-cells",
    title: "Fill from around",
    about: "The cells selected are drawn in from those around them, whatever they hold.",
    group: "cells",
    hasRegion: true,
    start: (desk) =>
      desk.view.region
        ? onTable((_, d): SettingsOf<"fill-cells"> => ({ region: d.view.region!, along: "both" }))(desk)
        : "Select the cells to be filled first.",
    fields: ({ settings, change }) =>
      choiceField(
        "Drawn in",
        settings.along ?? "both",
        [
          ["both", "from all around"],
          ["rpm", "along rpm"],
          ["load", "along load"],
        ],
        (along) => change({ ...settings, along }),
        "",
        "fill-along",
      ),
  }),
  defineForm({
    kind: "lock-cells",
    title: "Lock",
    about: "Later edits leave these cells as they are. A change of injectors carries them over all the same.",
    group: "cells",
    hasRegion: true,
    start: onTable((_, desk) => ({ region: desk.view.region ?? {} })),
    fields: () => html``,
  }),
  defineForm({
    kind: "unlock-cells",
    title: "Unlock",
    about: "Edits reach these cells again.",
    group: "cells",
    hasRegion: true,
    start: (desk) =>
      desk.table?.locked.length ? onTable((_, d) => selected(d))(desk) : "Nothing is locked in this table.",
    fields: () => html``,
  }),
] as const;
