import type { FuelTable } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { Desk } from "../../store/desk.ts";
import { cellDisplay, figure, percentChange, sayPlace } from "../../store/display.ts";
import type { TableCeilings } from "./ceilings-of.ts";

/** Everything about the cell at hand in one line: where, before, now, fuel, duty. */
export function readLine(
  desk: Desk,
  table: FuelTable,
  before: FuelTable,
  at: number,
  ceilings: TableCeilings,
): TemplateResult {
  const columns = table.rpm.breakpoints.length;
  const display = cellDisplay(table, desk.preferences, desk.shown.build.fuel);
  const show = (value: number) => `${figure(display.show(value), display.decimals)} ${display.unit}`.trim();
  const rpm = table.rpm.breakpoints[at % columns];
  const load = table.load.breakpoints[Math.floor(at / columns)];
  if (rpm === undefined || load === undefined) return html``;
  const place = sayPlace(table, { rpm, load }, desk.preferences);
  const now = table.cells[at]!;
  const was = before.cells.length === table.cells.length ? before.cells[at]! : null;
  const fuel = ceilings.fuelAt(at);
  const fuelBefore = ceilings.fuelBeforeAt(at);
  const duty = ceilings.dutyAt(at);
  return html`<div class="read" aria-label="Cell at hand">
    <div><span>cell</span> <b>${place}</b></div>
    ${was === null ? nothing : html`<div><span>before</span> <b>${show(was)}</b></div>`}
    <div><span>now</span> <b>${show(now)}</b> ${was === null ? nothing : percentChange(was, now)}</div>
    ${
      fuel === null
        ? nothing
        : html`<div><span>fuel</span> <b>${figure(fuel, 1)} mg</b> ${fuelBefore === null ? nothing : sayFuel(fuelBefore, fuel)}</div>`
    }
    ${duty === null ? nothing : html`<div><span>duty</span> <b>${figure(100 * duty, 0)} %</b></div>`}
  </div>`;
}

/** Below a thousandth of a percent it is rounding, not fuel. */
const sayFuel = (before: number, now: number) =>
  Math.abs(now - before) < 1e-5 * before ? "unchanged" : percentChange(before, now);
