import type { Assumption, Basis } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { Asked } from "./asked.ts";

const words: Readonly<Record<Basis, string>> = {
  given: "given",
  computed: "computed",
  estimated: "estimated",
  "common-practice": "common practice",
};

/** Where a figure comes from, in words. */
export const sayBasis = (basis: Basis): string => words[basis];

/** What figures rest on that nobody gave, and how much it matters; each told once. */
export function assumptionList(assumptions: readonly Assumption[], basis?: Basis) {
  const each = [...new Map(assumptions.map((one) => [one.id, one])).values()];
  if (each.length === 0)
    return basis ? html`<p class="quiet">${capital(sayBasis(basis))} from what is given.</p>` : nothing;
  return html`<ul class="rests" aria-label="What this rests on">${each.map(
    ({ text, matters, basis: of }) => html`<li>${text} <em>${capital(sayBasis(of))}.</em> ${matters ?? ""}</li>`,
  )}</ul>`;
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** The hint of an empty field: what is assumed in its place and how much that matters, or `otherwise`. */
export function emptyHint(asked: Asked, id: string, otherwise = ""): string {
  const one = asked.assumption(id);
  return one ? `Empty: ${one.text} ${one.matters ?? ""}`.trim() : otherwise;
}
