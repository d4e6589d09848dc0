import { html, type TemplateResult } from "lit";
import { beginStep } from "../table/begin-step.ts";
import type { StepForm } from "../table/forms/step-form.ts";
import type { BuildContext } from "./context.ts";

/**
 * Words that lead to the step which carries the table over to other parts: the last of that kind, or a new one.
 *
 * @param words - what a new step is for: "Carry the table over to another fuel"
 * @param settings - what a new step starts with
 */
export function stepLink({ desk }: BuildContext, form: StepForm, words: string, settings?: object): TemplateResult {
  const at = settings ? -1 : desk.job.steps.findLastIndex(({ kind }) => kind === form.kind);
  const step = desk.job.steps[at];
  const lead = async () => {
    desk.bench.closeDraft();
    desk.look({ after: null });
    if (step ? desk.attempt(() => desk.bench.preview(step)) : await beginStep(desk, form, settings))
      location.hash = "table";
  };
  return html`<button class="word" ?disabled=${desk.readOnly !== null} @click=${() => void lead()}>${
    step ? `Open step ${at + 1}, ${form.title.toLowerCase()}` : words
  }</button>`;
}
