import type { RetargetReport } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { cellDisplay, figure } from "../../../store/display.ts";
import { warn } from "./injector-outcome.ts";
import { reachOf } from "./reach.ts";

/** What the other mixture does: before and after, fuel, and what stands against it. */
export function mixtureOutcome(desk: Desk, report: unknown): TemplateResult | null {
  if (!report) return null;
  const found = report as RetargetReport;
  const display = cellDisplay({ quantity: "lambda" }, desk.preferences, desk.shown.build.fuel);
  const span = (cells: Float64Array) => {
    const shown = Array.from(cells, (lambda) => display.show(lambda));
    const [low, high] = [Math.min(...shown), Math.max(...shown)].map((value) => figure(value, display.decimals));
    return low === high ? low : `${low} to ${high}`;
  };
  const changes = found.fuelChangePercent;
  const changed = changes.filter((percent) => percent !== 0).length;
  const lean = new Set(found.leanerAtHighLoad.map(({ at }) => at));
  const underLoad = found.leanUnderLoad.filter(({ at }) => !lean.has(at));
  return html`
    ${found.changed === "target" ? html`<p>The cells stay: a controller of efficiencies reads the mixture from its target table.</p>` : nothing}
    <p>${changed} cells change, ${display.unit} ${span(found.lambdaBefore)} before, ${span(found.lambdaAfter)} after;
      fuel ${percents(changes)}.</p>
    ${
      found.leanerAtHighLoad.length
        ? html`<div class="warns" role="alert"><strong>Leaner at high load</strong> in ${found.leanerAtHighLoad.length} cells,
            ${reachOf(found.leanerAtHighLoad)}. Lean under load detonates and destroys engines: be sure that this is meant.</div>`
        : nothing
    }
    ${warn(underLoad, "are leaner than lambda 1 with the engine at work, and leaner than before", false)}
    ${warn(found.static, "are open all the time: the fuel can't be given there and the engine runs lean", false)}
    ${warn(found.abovePlanning, "are above the planning ceiling", false)}
    ${warn(found.underSmallestPulse, "fall under the smallest repeatable pulse", false)}
    ${found.band ? html`<div class="warns">Without the factory's pulse widths the trims are an estimate.</div>` : nothing}
    ${found.assumptions.map((assumption) => html`<p class="quiet">Assumed: ${assumption.text} ${assumption.matters ?? ""}</p>`)}`;
}

function percents(changes: Float64Array): string {
  let low = 0;
  let high = 0;
  for (const percent of changes) {
    low = Math.min(low, percent);
    high = Math.max(high, percent);
  }
  const say = (percent: number) => `${percent < 0 ? "−" : "+"}${figure(Math.abs(percent), 1)} %`;
  if (low === 0 && high === 0) return "unchanged";
  if (low === 0) return `up to ${say(high)}`;
  return high === 0 ? `down to ${say(low)}` : `${say(low)} to ${say(high)}`;
}
