import { html, type TemplateResult } from "lit";
import "../../elements/help-tip/help-tip.ts";

export { fixed, say, sayGain } from "../say-figure.ts";

/** One sentence of help for a field, and where its figure comes from. */
export const help = (about: string, text: string, source = ""): TemplateResult =>
  html`<fw-help slot="help" about=${about} text=${text} source=${source}></fw-help>`;

/** A line of text under a label of its own. */
export function textField(
  label: string,
  value: string,
  change: (value: string) => void,
  maxLength = 100,
): TemplateResult {
  return html`<label class="row">${label} <input .value=${value} maxlength=${maxLength} size="18"
    @change=${(event: Event) => change((event.target as HTMLInputElement).value.trim())} /></label>`;
}
