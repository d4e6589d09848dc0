import { html, type TemplateResult } from "lit";
import "../elements/help-tip/help-tip.ts";
import { fieldHelp, type HelpId } from "./field-help.ts";

/** The help of a field, to stand beside its label; in an element with fields in the slot `help`. */
export function helpOn(id: HelpId, about: string): TemplateResult {
  const { text, source, term } = fieldHelp[id];
  return html`<fw-help slot="help" .about=${about} .text=${text} .source=${source ?? ""} .term=${term ?? ""}></fw-help>`;
}
