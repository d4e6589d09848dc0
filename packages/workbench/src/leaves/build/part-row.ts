import { html, nothing, type TemplateResult } from "lit";

/** One line of the parts list, and what opens under it. */
export interface PartRow {
  readonly id: string;
  /** As it is read. */
  readonly name: string;
  /** As it is announced, where that differs. */
  readonly region?: string;
  readonly what: string;
  readonly verdict: TemplateResult | typeof nothing;
  body(): TemplateResult;
}

/** A part with its verdict beside it; its name opens its fields. */
export function partRow({ id, name, region, what, verdict, body }: PartRow, open: boolean, toggle: () => void) {
  return html`<section class="part" aria-label=${region ?? name}>
    <div class="line">
      <h2><button class="opens" aria-expanded=${open} aria-controls=${open ? `part-${id}` : nothing} @click=${toggle}>${name}</button></h2>
      <span class="what">${what}</span>
      <span class="verdict">${verdict}</span>
    </div>
    ${open ? html`<div class="body" id="part-${id}">${body()}</div>` : nothing}
  </section>`;
}
