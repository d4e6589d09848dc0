import type { RideStage } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import type { FittedEvidence } from "../../workers/evidence-tasks.ts";
import { duration, percent } from "./words.ts";

/** Where to ride next, in an order that can be ridden; printed by itself. */
export function rideSection({ rides, fit }: FittedEvidence, print: () => void): TemplateResult {
  const { stages, gain, caution } = rides;
  const { logs, simulated } = fit.report;
  const { unit } = fit.corrections.load;
  return html`<section class="sheet ride" aria-label="Where to ride next">
    <h2>Where to ride next</h2>
    ${
      stages.length === 0
        ? html`<p class="quiet">More riding in the same places would teach little.</p>`
        : html`<p class="quiet">${simulated ? "Simulated. " : ""}Learnt from ${logs.join(", ")}. In this order, from low to high rpm; together they take ${percent(gain, 0)} of the doubt out of the table.</p>
          <ol class="stages">${stages.map(
            (stage) =>
              html`<li>${sayStage(stage, unit)} <span class="quiet">${sayGain(stage)}</span>${
                stage.highLoad ? html` <strong class="high">high load</strong>` : nothing
              }</li>`,
          )}</ol>
          <p class="warns">${caution}</p>
          <button @click=${print}>Print the list</button>`
    }
  </section>`;
}

function sayStage({ kind, rpm, load, seconds }: RideStage, unit: string): string {
  const [r0, r1] = rpm.map((value) => figure(value));
  const [l0, l1] = load.map((value) => figure(value));
  switch (kind) {
    case "hold":
      return `Hold ${r0} rpm at ${l0} ${unit} for ${duration(seconds)}.`;
    case "pull":
      return `At ${r0} rpm slowly from ${l0} to ${l1} ${unit} in ${duration(seconds)}.`;
    case "roll-on":
      return `Roll from ${r0} to ${r1} rpm at ${l0} ${unit}, in ${duration(seconds)}.`;
  }
}

const sayGain = ({ deviationBefore, deviationAfter }: RideStage) =>
  `known to ${percent(deviationBefore)} now, ${percent(deviationAfter)} after`;
