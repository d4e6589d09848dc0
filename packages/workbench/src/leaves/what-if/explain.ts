import { html, nothing, type TemplateResult } from "lit";

/** An explanation: plain words, where it comes from, and what the model leaves out. */
export interface Explanation {
  readonly title: string;
  readonly text: string | TemplateResult;
  readonly source: string;
  readonly leavesOut: string;
}

export function explain({ title, text, source, leavesOut }: Explanation): TemplateResult {
  return html`<section class="why"><h3>${title}</h3>
    <p>${text}</p>
    <p class="quiet">Source: ${source} Left out: ${leavesOut}</p></section>`;
}

/** Figures with their names, as the line under a grid has them. */
export function figures(
  label: string,
  list: readonly (readonly [name: string, value: string, note?: string] | null)[],
): TemplateResult {
  return html`<dl class="figures ${list.length > 6 ? "many" : ""}" aria-label=${label}>${list.map((item) =>
    item
      ? html`<div><dt>${item[0]}</dt><dd><b>${item[1]}</b>${item[2] ? html` <span>${item[2]}</span>` : nothing}</dd></div>`
      : nothing,
  )}</dl>`;
}
