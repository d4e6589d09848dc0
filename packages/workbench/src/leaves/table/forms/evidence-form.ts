import type { AppliedEvidence, EvidenceSummary, SettingsOf } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../../store/display.ts";
import type { HelpId } from "../../field-help.ts";
import { checkField, choiceField, numberField } from "./fields.ts";
import { warn } from "./injector-outcome.ts";
import { reachOf } from "./reach.ts";
import { defineForm } from "./step-form.ts";

export type EvidenceSettings = SettingsOf<"apply-evidence">;
/** How much of the evidence is taken: the settings without the evidence itself. */
export type EvidenceManners = Pick<EvidenceSettings, "fraction" | "cap" | "deviations" | "manner" | "smooth">;

/** How gently what is proven is smoothed when it is smoothed at all. */
const GENTLE = 1;

/** Fraction, cap, deviations and smoothing, as fields. */
export function evidenceFields<S extends EvidenceManners>(settings: S, change: (settings: S) => void): TemplateResult {
  const percent = (label: string, explain: HelpId, share: number, least: number, put: (share: number) => void) =>
    numberField({
      label,
      explain,
      value: 100 * share,
      unitText: "%",
      decimals: 0,
      min: least,
      max: 100,
      change: (value) => put(value / 100),
    });
  const deviations = settings.deviations ?? 1;
  return html`
    ${percent("Share of it", "evidence-share", settings.fraction ?? 1, 0, (fraction) => change({ ...settings, fraction }))}
    ${percent("A cell changes at most by", "evidence-cap", settings.cap ?? 0.1, 0, (cap) => change({ ...settings, cap }))}
    ${numberField({
      label: "A correction must exceed",
      explain: "evidence-deviations",
      value: deviations,
      unitText: deviations === 1 ? "deviation" : "deviations",
      decimals: 1,
      min: 0,
      max: 10,
      change: (value) => change({ ...settings, deviations: value }),
    })}
    ${choiceField(
      "Of what exceeds it",
      settings.manner ?? "shrunk",
      [
        ["shrunk", "less where it is doubtful"],
        ["excess", "only the part beyond"],
        ["whole", "all of it"],
      ],
      (manner) => change({ ...settings, manner }),
      "",
      "evidence-manner",
    )}
    ${checkField(
      "Smooth what is applied",
      (settings.smooth ?? 0) > 0,
      (on) => change({ ...settings, smooth: on ? GENTLE : 0 }),
      "evidence-smooth",
    )}`;
}

/** What was applied, and what was left alone and why. */
export function evidenceOutcome(report: AppliedEvidence): TemplateResult {
  const { applied, changed, unsupported, doubtful, capped, fuel } = report;
  let most = 0;
  for (const value of applied) if (Math.abs(value) > Math.abs(most)) most = value;
  const percent = 100 * Math.expm1(most);
  return html`
    <p>${
      changed === 0
        ? "Nothing is proven well enough to change a cell."
        : html`<strong>${cellsOf(changed)}</strong> ${changed === 1 ? "changes" : "change"}, at most by
            <strong>${percent < 0 ? "−" : "+"}${figure(Math.abs(percent), 1)} %</strong> fuel.`
    }</p>
    <p class="quiet">Left alone: ${unsupported} without enough readings, ${doubtful} within their doubt.${
      capped ? ` Held back by the limit: ${capped}.` : ""
    }</p>
    ${report.simulated ? html`<div class="warns">From a made log: for trying out, not for an engine.</div>` : nothing}
    ${
      fuel?.leanerAtHighLoad.length
        ? html`<div class="warns" role="alert"><strong>Less fuel at high load</strong> in ${cellsOf(fuel.leanerAtHighLoad.length)},
            ${reachOf(fuel.leanerAtHighLoad)}. Lean under load detonates and destroys engines: be sure of the sensor first.</div>`
        : nothing
    }
    ${
      fuel
        ? html`${warn(fuel.static, "are open all the time: the fuel can't be given there and the engine runs lean", false)}
            ${warn(fuel.abovePlanning, "are above the planning ceiling", false)}
            ${warn(fuel.underSmallestPulse, "fall under the smallest repeatable pulse", false)}`
        : nothing
    }
    ${report.assumptions.map(({ text, matters }) => html`<p class="quiet">Assumed: ${text} ${matters ?? ""}</p>`)}`;
}

const cellsOf = (count: number) => (count === 1 ? "1 cell" : `${count} cells`);

/** Where evidence comes from, in one sentence. */
export const evidenceSource = ({ logs, used, usedSeconds }: Pick<EvidenceSummary, "logs" | "used" | "usedSeconds">) =>
  `${logs.join(", ")}: ${figure(used, 0)} readings, ${figure(usedSeconds / 60, 1)} minutes.`;

export const evidenceForm = defineForm({
  kind: "apply-evidence",
  title: "From evidence",
  about: "Brings in what a log has proven, cell by cell; cells that nothing supports stay as they are.",
  group: "table",
  hasRegion: true,
  // The same evidence twice would correct twice: it is applied where it is fitted, and changed by reopening the step.
  start: () => "Fit a log on the Evidence leaf: what it proves is applied from there.",
  fields: ({ settings, change }) => html`<p class="quiet">${evidenceSource(settings.evidence)}</p>
    ${evidenceFields(settings, change)}`,
  outcome: ({ report }) => (report ? evidenceOutcome(report as AppliedEvidence) : null),
});
