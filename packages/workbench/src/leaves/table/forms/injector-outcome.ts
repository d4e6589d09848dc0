import type { CellNote, RescaleReport } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { figure } from "../../../store/display.ts";
import { reachOf } from "./reach.ts";

/** What the change of injectors found, for each table carried over. */
export function injectorOutcome(desk: Desk, report: unknown, tables: readonly string[]): TemplateResult | null {
  const reports = report as Record<string, RescaleReport> | undefined;
  if (!reports) return null;
  return html`${tables.map((id) => {
    const one = reports[id];
    const name = desk.shown.tables[id]?.name ?? id;
    return one ? html`${tables.length > 1 ? html`<h3>${name}</h3>` : nothing}${oneReport(one)}` : nothing;
  })}`;
}

function oneReport(report: RescaleReport) {
  const { constants, cells } = report;
  return html`
    ${
      report.changed === "injector-constants"
        ? html`<p>The cells stay: the controller's own injector constants change.</p>
            <table aria-label="Injector constants for the controller"><tbody>
              <tr><th scope="row">flow</th><td>${figure(constants.to.flowGramsPerSecond, 3)} g/s, ${figure(constants.to.flowCcPerMinute, 1)} cc/min</td></tr>
              <tr><th scope="row">dead time at ${figure(constants.volts, 1)} V</th><td>${figure(constants.to.deadTimeMs, 3)} ms</td></tr>
            </tbody></table>`
        : nothing
    }
    ${cells ? fuelSentence(cells.fuelChangePercent) : nothing}
    ${cells ? html`<p class="quiet">${ratioSentence(cells.flowRatioDifferencePercent)}</p>` : nothing}
    ${warn(report.static, "are open all the time with the new set: the fuel can't be kept there and the engine runs lean", false)}
    ${warn(report.abovePlanning, "are above the planning ceiling", false)}
    ${warn(report.underSmallestPulse, "fall under the new set's smallest repeatable pulse; idle may hunt", false)}
    ${warn(report.closed, "open no longer than the dead time", false)}
    ${warn(report.wasStatic, "were open all the time already with the old set", false)}
    ${
      report.band
        ? html`<div class="warns">Without the factory's pulse widths this is an estimate. The right trim lies within
            ${figure(widest(report.band.low, report.band.high), 1)} points of band in the worst cell.</div>`
        : nothing
    }
    ${report.assumptions.map(
      (assumption) => html`<p class="quiet">Assumed: ${assumption.text} ${assumption.matters ?? ""}</p>`,
    )}
    <p class="quiet">First start on new injectors: cold, by a competent person, with a wideband sensor and an extinguisher at hand.</p>`;
}

/** A list of cells as one warning sentence. */
export function warn(notes: readonly CellNote[], words: string, always: boolean): TemplateResult | typeof nothing {
  if (notes.length === 0 && !always) return nothing;
  return html`<div class="warns">${notes.length === 1 ? "1 cell" : `${notes.length} cells`}, ${reachOf(notes)}, ${words}.</div>`;
}

function fuelSentence(change: Float64Array) {
  const changed = change.filter((percent) => Math.abs(percent) > 1e-6).length;
  return changed === 0
    ? html`<p>Every cell delivers the same fuel as before.</p>`
    : html`<p>${changed} of ${change.length} cells can't deliver the same fuel as before; the rest do.</p>`;
}

function ratioSentence(difference: Float64Array): string {
  let most = 0;
  for (const percent of difference) if (Math.abs(percent) > Math.abs(most)) most = percent;
  if (Math.abs(most) < 0.05) return "The plain ratio of flows would have done the same here.";
  return `The plain ratio of flows would be off by up to ${figure(Math.abs(most), 1)} %, most at short pulses: that is the dead time.`;
}

function widest(low: Float64Array, high: Float64Array): number {
  return high.reduce((most, value, at) => Math.max(most, value - low[at]!), 0);
}
