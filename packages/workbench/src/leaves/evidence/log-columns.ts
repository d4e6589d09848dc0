import { type ColumnSummary, type LogColumn, type LogQuantity, logQuantities } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { figure } from "../../store/display.ts";
import { numberField } from "../table/forms/fields.ts";
import { columnUnits, unitWords } from "./column-units.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import { columnsOf, type LogEntry } from "./log-entry.ts";

const quantities = Object.keys(logQuantities) as LogQuantity[];

/** Headings offered by name; a log may have thousands. */
const MOST_OFFERED = 400;

type Choice = { readonly quantity: LogQuantity; readonly channel?: number; readonly unit?: string } | null;

/** What was recognised in a log, each column with a way to put it right. */
export function logColumns(bench: EvidenceBench, log: LogEntry): TemplateResult {
  const columns = columnsOf(log);
  const taken = columns.filter(({ quantity }) => quantity !== null);
  const left = columns.filter(({ quantity }) => quantity === null);
  const choose = (column: LogColumn, choice: Choice) =>
    bench.choose(log.id, { columns: { ...log.source.choices.columns, [keyOf(columns, column)]: choice } });
  const mixture = taken.some(({ quantity, unit }) => quantity === "lambda" && unit === "AFR");
  return html`
    ${
      taken.length
        ? html`<div class="wide"><table class="columns">
            <thead><tr><th scope="col">heading</th><th scope="col">is read as</th><th scope="col">unit</th><th scope="col">from</th><th scope="col">to</th></tr></thead>
            <tbody>${taken.map((column) => row(log, column, choose))}</tbody></table></div>`
        : nothing
    }
    ${left.length ? another(left, choose) : nothing}
    ${
      taken.some(({ quantity }) => quantity === "time") && log.source.choices.hertz === undefined
        ? nothing
        : numberField({
            label: "No times: rows a second",
            explain: "log-hertz",
            value: log.source.choices.hertz ?? null,
            min: 0.1,
            max: 10_000,
            decimals: 1,
            change: (hertz) => bench.choose(log.id, { hertz }),
          })
    }
    ${
      mixture
        ? numberField({
            label: "AFR shown at lambda 1",
            explain: "gauge-afr",
            value: log.source.choices.gaugeAfr ?? 14.7,
            min: 5,
            max: 20,
            hint: "Gauges show 14.7 there whatever the fuel, unless they were told otherwise.",
            change: (gaugeAfr) => bench.choose(log.id, { gaugeAfr }),
          })
        : nothing
    }`;
}

/** By its heading where that names it alone, otherwise by its place. */
const keyOf = (columns: readonly LogColumn[], { heading, at }: LogColumn) =>
  columns.filter((other) => other.heading === heading).length === 1 && !/^\d+$/.test(heading) ? heading : String(at);

function row(log: LogEntry, column: LogColumn, choose: (column: LogColumn, choice: Choice) => void) {
  const { heading, channel, unit, unitFrom } = column;
  const quantity = column.quantity!;
  const seen = log.reading?.summary.columns.find(({ at }) => at === column.at);
  const units = columnUnits(quantity, unit);
  return html`<tr>
    <th scope="row">${heading}</th>
    <td>${quantityChoice(`What ${heading} is`, quantity, (chosen) => choose(column, chosen && { quantity: chosen, ...(channel > 1 && { channel }) }))}
      ${channel > 1 ? html`<span class="quiet">no. ${channel}</span>` : nothing}</td>
    <td>${
      units.length > 1
        ? html`<select aria-label="Unit of ${heading}" @change=${(event: Event) =>
            choose(column, {
              quantity,
              channel,
              unit: units[(event.target as HTMLSelectElement).selectedIndex]!,
            })}>
            ${units.map((name) => html`<option .selected=${live(name === unit)}>${unitWords(name)}</option>`)}
          </select>${unitFrom === "numbers" ? html` <span class="quiet">by its size</span>` : nothing}`
        : unitWords(unit)
    }</td>
    ${range(seen)}
  </tr>`;
}

function range(seen: ColumnSummary | undefined) {
  if (!seen || seen.samples === 0) return html`<td>–</td><td>–</td>`;
  const decimals = Math.abs(seen.high) < 10 ? 2 : Math.abs(seen.high) < 1000 ? 1 : 0;
  return html`<td>${figure(seen.low, decimals)}</td><td>${figure(seen.high, decimals)}
    ${
      seen.unreadable
        ? html`<span class="quiet">${figure(seen.unreadable, 0)} unreadable${
            seen.firstUnreadable
              ? `, first “${seen.firstUnreadable.text}” in line ${seen.firstUnreadable.line + 1}`
              : ""
          }</span>`
        : nothing
    }</td>`;
}

function quantityChoice(label: string, now: LogQuantity | null, change: (quantity: LogQuantity | null) => void) {
  return html`<select aria-label=${label} @change=${(event: Event) => {
    const at = (event.target as HTMLSelectElement).selectedIndex;
    change(at === 0 ? null : quantities[at - 1]!);
  }}>
    <option .selected=${live(now === null)}>not read</option>
    ${quantities.map((quantity) => html`<option .selected=${live(quantity === now)}>${logQuantities[quantity].label}</option>`)}
  </select>`;
}

/** A column that was not recognised, taken by its heading. */
function another(left: readonly LogColumn[], choose: (column: LogColumn, choice: Choice) => void) {
  return html`<form class="another" @submit=${(event: SubmitEvent) => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const [heading, quantity] = ["heading", "quantity"].map((name) => String(new FormData(form).get(name) ?? ""));
    const column = left.find((other) => other.heading === heading);
    if (column) choose(column, { quantity: quantity as LogQuantity });
    else form.querySelector("input")!.focus();
  }}>
    <label>${left.length === 1 ? "1 column is not read." : `${figure(left.length, 0)} columns are not read.`} Take
      <input name="heading" list="headings" size="18" autocomplete="off" required /></label>
    <datalist id="headings">${left.slice(0, MOST_OFFERED).map(({ heading }) => html`<option value=${heading}></option>`)}</datalist>
    <label>as <select name="quantity">${quantities.map((quantity) => html`<option value=${quantity}>${logQuantities[quantity].label}</option>`)}</select></label>
    <button>Take it</button>
  </form>`;
}
