import { html, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import type { Asked } from "./asked.ts";

/** What is worked out, at once for most tables, on a press for a large one that would hold the page up. */
export function onDemand(asked: Asked, name: string, redraw: () => void, work: () => TemplateResult): TemplateResult {
  if (!asked.large || asked.wanted.has(name)) return work();
  return html`<button @click=${() => {
    asked.wanted.add(name);
    redraw();
  }}>Work it out for ${figure(asked.table!.cells.length)} cells</button>`;
}
