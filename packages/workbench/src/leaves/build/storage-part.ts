import { cellQuantities, type FuelTable, type Storage } from "@fuelwright/table-core";
import { html, type TemplateResult } from "lit";
import { changeStorage } from "../../store/commands.ts";
import { figure } from "../../store/display.ts";
import { numberField } from "../table/forms/fields.ts";
import { quantiseForm } from "../table/forms/table-forms.ts";
import type { BuildContext } from "./context.ts";
import { help } from "./say.ts";
import { stepLink } from "./step-link.ts";

/** What the controller stores of the asked table, in a few words. */
export function storageWords({ asked }: BuildContext): string {
  const storage = asked.table?.storage;
  if (!asked.table) return "no table yet";
  return storage
    ? `${figure(storage.min, 3)} to ${figure(storage.max, 3)} ${asked.table.unit}, in steps of ${figure(storage.step, 4)}`
    : "not described";
}

const fields = [
  ["min", "Least", "The least value that the controller can hold in a cell; less is cut off."],
  ["max", "Greatest", "The greatest value that the controller can hold in a cell; more is cut off."],
  [
    "step",
    "In steps of",
    "Two values that the controller can tell apart differ by this much; each cell is rounded to it.",
  ],
] as const;

/** Range and step that the controller stores of the asked table. */
export function storagePart(context: BuildContext): TemplateResult {
  const { desk, asked } = context;
  if (!asked.table) return html`<p class="quiet">${asked.nothing}</p>`;
  const table = desk.job.tables.find(({ id }) => id === asked.table!.id);
  if (!table)
    return html`<p class="quiet">${asked.table.name} is made by a step, with the storage of the table it comes from.</p>`;
  const put = (storage: Storage | null) => desk.perform(changeStorage(table, storage));
  const { storage } = table;
  if (!storage)
    return html`<p class="quiet">What the controller can hold of ${table.name} is not described: nothing is rounded or cut off.</p>
      <button class="word" @click=${() => put(startFor(table))}>Describe it</button>`;
  return html`<p class="quiet">Of ${table.name}, as its controller's description says.</p>
    <div class="fields"><div>
      ${fields.map(([key, label, text]) =>
        numberField({
          label,
          value: storage[key],
          unitText: table.unit,
          decimals: 4,
          help: help(label, text, "the controller's description"),
          change: (value) => put({ ...storage, [key]: value }),
        }),
      )}
      <div class="words">
        ${stepLink(context, quantiseForm, "Round the cells to it")}
        <button class="word" @click=${() => put(null)}>Take the description out</button>
      </div>
    </div></div>`;
}

/** Figures to put right: room for twice the greatest cell, in steps of the last decimal shown. */
function startFor({ cells, quantity }: FuelTable): Storage {
  const least = Math.min(0, ...cells);
  const greatest = Math.max(1, ...cells);
  return { min: Math.floor(least), max: Math.ceil(2 * greatest), step: 10 ** -cellQuantities[quantity].decimals };
}
