import type { PartId } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { BuildContext } from "./context.ts";
import { lookAtCells } from "./look-at-cells.ts";
import { sayVerdict } from "./say-verdict.ts";

/** The verdict on a part in its row: words that lead to the cells, and the sentence behind them. */
export function verdictOf({ desk, asked }: BuildContext, id: PartId): TemplateResult | typeof nothing {
  const { ceilings } = asked;
  if (!ceilings.ok) return nothing;
  const part = ceilings.value.parts.find((one) => one.part === id);
  if (!part) return nothing;
  const { kind, words, cells } = sayVerdict(part, ceilings.value.ceilings);
  return html`${
    cells.length > 0
      ? html`<button class="stamp ${kind}" title="Show the cells this comes from"
          @click=${() => lookAtCells(desk, asked, cells)}>${words}</button>`
      : html`<span class="stamp ${kind}">${words}</span>`
  } <span class="why">${part.sentence}</span>`;
}
