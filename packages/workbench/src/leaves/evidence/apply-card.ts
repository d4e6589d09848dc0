import type { EvidenceSummary } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { addStep, makeStep } from "../../store/commands.ts";
import { sayStep } from "../../store/say-step.ts";
import { evidenceFields, evidenceOutcome, evidenceSource } from "../table/forms/evidence-form.ts";
import { tableOfFit } from "./correctable.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import type { EvidenceStep } from "./fit-task.ts";
import { stepSettings, type WouldApplyOf } from "./would-apply.ts";

/** How much is taken, what that would do, and the one button that does it. */
export function applyCard(bench: EvidenceBench, would: WouldApplyOf): TemplateResult | typeof nothing {
  const { desk, manners } = bench;
  const { result, running } = bench.fit.correct;
  const fitted = result?.fits[bench.shown];
  if (!result || !fitted) return nothing;
  const { summary } = fitted;
  // The table may have changed since it was fitted.
  const now = desk.bench.replay.state.tables[result.table.id];
  const table = now && tableOfFit(desk, now, summary);
  const step = desk.job.steps.findIndex(
    (other) => other.kind === "apply-evidence" && sameEvidence(other.settings.evidence, summary),
  );
  const outcome = table ? would.of(desk, table, summary, manners) : null;
  return html`<section class="sheet" aria-label="Apply">
    <h2>Apply what is proven</h2>
    <p class="quiet">${evidenceSource(summary)}</p>
    ${
      step >= 0
        ? html`<p>Applied as step ${step + 1}. A log tells of the table it was ridden on: ride again before you apply more.</p>
            <button class="word" @click=${() => {
              desk.attempt(() => desk.bench.preview(desk.job.steps[step]!));
              location.hash = "table";
            }}>Open the step</button>`
        : html`${evidenceFields(manners, (next) => bench.put({ manners: next as typeof manners }))}
            ${
              outcome?.report
                ? evidenceOutcome(outcome.report)
                : html`<div class="warns" role="alert">${outcome?.problem ?? "The table is no longer in the job; choose another."}</div>`
            }
            <div class="do"><button class="main" ?disabled=${running || !outcome?.report || outcome.report.changed === 0 || desk.readOnly !== null}
              @click=${() => {
                const settings = { ...stepSettings(desk, table!, manners), evidence: summary };
                desk.attempt(() => {
                  const made = makeStep(desk.job, "apply-evidence", table!.id, settings);
                  desk.perform(addStep(made, sayStep(made, desk.job).title));
                });
              }}>Apply as step ${desk.job.steps.length + 1}</button></div>
            <p class="quiet">Nothing is applied by itself. The step can be reopened, switched off and undone.</p>`
    }
  </section>`;
}

/** Whether a step holds this very fit: the same readings never correct twice. */
const sameEvidence = (kept: EvidenceStep["settings"]["evidence"], { name, used, factors }: EvidenceSummary) =>
  kept.name === name && kept.used === used && kept.factors.every((factor, at) => factor === factors[at]);
