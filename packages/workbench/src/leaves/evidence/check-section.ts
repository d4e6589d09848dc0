import {
  type AppliedEvidence,
  compareEvidence,
  type EvidenceOutcome,
  type EvidenceSummary,
  type FuelTable,
  FuelwrightError,
} from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { sayPlace } from "../../store/display.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { sayStep } from "../../store/say-step.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import { type EvidenceStep, evidenceStepsOf } from "./fit-task.ts";
import { chooseFiles } from "./logs-section.ts";
import { canMakeRide } from "./made-ride.ts";
import { percent, signed } from "./words.ts";

/** Surprises listed by name. */
const MOST_LISTED = 8;

/** Did it work? A second log, ridden on the table with a correction applied, against what that correction foretold. */
export function checkSection(bench: EvidenceBench): TemplateResult | typeof nothing {
  const { desk } = bench;
  const steps = evidenceStepsOf(desk);
  if (steps.length === 0) return nothing;
  const step = steps.find(({ id }) => id === bench.checked) ?? steps.at(-1)!;
  const at = desk.job.steps.indexOf(step);
  const { report, status } = desk.bench.replay.outcomes[at]!;
  const table = step.table === undefined ? undefined : desk.bench.replay.state.tables[step.table];
  const { result, running, problem } = bench.fit.check;
  const after = result?.fits[0];
  return html`<section class="sheet" aria-label="Did it work">
    <h2>Did it work?</h2>
    <p class="quiet">Ride the corrected table, and let the second log say what is left.</p>
    ${
      steps.length > 1
        ? html`<label class="row">The correction <select @change=${(event: Event) => {
            bench.put({ checked: steps[(event.target as HTMLSelectElement).selectedIndex]!.id });
            bench.refit("check");
          }}>${steps.map((one) => html`<option .selected=${live(one === step)}>${desk.job.steps.indexOf(one) + 1} ${sayStep(one, desk.job).title}</option>`)}</select></label>`
        : nothing
    }
    <div class="do">
      ${chooseFiles(bench, "Choose a second log", "check")}
      ${
        step.settings.evidence.simulated && canMakeRide(table ?? null)
          ? html`<button @click=${() => bench.addMade(table!, "check")}>Ride the made machine again</button>`
          : nothing
      }
    </div>
    ${running ? html`<p class="quiet" role="status">Fitting the second log.</p>` : nothing}
    ${problem ? html`<div class="warns" role="alert">${problem}</div>` : nothing}
    ${after && status === "applied" ? outcome(bench, step, report as AppliedEvidence, after.summary, table ?? null) : nothing}
  </section>`;
}

function outcome(
  bench: EvidenceBench,
  step: EvidenceStep,
  { applied }: AppliedEvidence,
  after: EvidenceSummary,
  table: FuelTable | null,
) {
  try {
    return told(bench, compareEvidence(step.settings.evidence as EvidenceSummary, applied, after), table);
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return html`<div class="warns" role="alert">${plainRefusal(error.message)}</div>`;
  }
}

function told(bench: EvidenceBench, found: EvidenceOutcome, table: FuelTable | null) {
  const row = (name: string, value: string, more: string) =>
    html`<tr><th scope="row">${name}</th><td>${value}</td><td class="quiet">${more}</td></tr>`;
  return html`
    <p>${verdict(found)}</p>
    <table class="facts" aria-label="Before and after"><tbody>
      ${row("off before", percent(found.before), "where both rides were")}
      ${row("foretold", percent(found.predicted), "what the first log said would be left")}
      ${row("achieved", percent(found.achieved), `of it ${percent(found.uncertainty)} is the second log's own doubt`)}
      ${row("as foretold", percent(found.asPredicted, 0), `of ${found.cells.length} cells, within two deviations`)}
      ${row("scatter of readings", percent(found.spreadAfter), `${percent(found.spreadBefore)} before; no table takes it away`)}
    </tbody></table>
    ${found.simulated ? html`<div class="warns">Simulated: this says how the method works, not how an engine runs.</div>` : nothing}
    ${found.surprises.length && table ? surprises(bench, found, table) : nothing}`;
}

const verdict = ({ before, achieved, uncertainty }: EvidenceOutcome) =>
  achieved <= Math.max(1.5 * uncertainty, 0.005)
    ? "Yes: what is left is within what can be measured."
    : achieved < 0.7 * before
      ? "Partly: much of it is gone. Correct once more from this log."
      : "No: as much is off as before. Look for another cause before more is applied.";

function surprises({ desk }: EvidenceBench, { surprises: cells }: EvidenceOutcome, { rpm, load }: FuelTable) {
  const columns = rpm.breakpoints.length;
  return html`<h3>Not as foretold</h3>
    <div class="wide"><table><thead><tr><th scope="col">cell</th><th scope="col">before</th><th scope="col">foretold</th><th scope="col">achieved</th></tr></thead>
    <tbody>${cells.slice(0, MOST_LISTED).map(
      ({ at, before, predicted, achieved, deviation }) => html`<tr>
        <th scope="row">${sayPlace({ rpm, load }, { rpm: rpm.breakpoints[at % columns]!, load: load.breakpoints[Math.floor(at / columns)]! }, desk.preferences)}</th>
        <td>${signed(before)}</td><td>${signed(predicted)}</td><td>${signed(achieved)} ± ${percent(deviation)}</td></tr>`,
    )}</tbody></table></div>
    ${cells.length > MOST_LISTED ? html`<p class="quiet">and ${cells.length - MOST_LISTED} more</p>` : nothing}`;
}
