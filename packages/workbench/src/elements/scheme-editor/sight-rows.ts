import { html } from "lit";
import { styleMap } from "lit/directives/style-map.js";
import type { ChangeColours } from "../../colour/change-colours.ts";
import { type Sight, seenAs, sights } from "../../colour/colour-vision.ts";
import { sayChange } from "../../colour/say-percent.ts";
import { type SightReport, sampleSizes } from "../../colour/tell-apart.ts";
import { sayVerdict } from "./sight-words.ts";

/** Sample changes as each sight has them, with what it tells apart; the figures stand in the first strip. */
export function renderSightRows(colours: ChangeColours, reports: readonly SightReport[]) {
  const { less, more } = sampleSizes(colours);
  const percents = [...less.map((size) => -size).reverse(), 0, ...more];
  // Of many narrow cells, those of the ends, half-way and the middle are wide enough for a figure.
  const few = percents.length <= FEW;
  const marks = [0, less.length >> 1, less.length, less.length + 1 + (more.length >> 1), percents.length - 1];
  const samples = percents.map((percent, at) => ({ percent, figure: few || marks.includes(at) }));
  return html`<dl class="sights ${few ? "" : "many"}">
    ${reports.map(
      (report) => html`<div class="sight">
        <dt>${sights[report.sight]}</dt>
        <dd class="strip" aria-hidden="true">${samples.map((sample) => renderSample(colours, report.sight, sample))}</dd>
        <dd class="verdict ${report.sight === "grey" ? "" : report.verdict}">${sayVerdict(report)}</dd>
      </div>`,
    )}
  </dl>`;
}

/** Cells that are wide enough for a figure on the narrowest page. */
const FEW = 11;

interface Sample {
  readonly percent: number;
  /** Whether the cell shows its percentage. */
  readonly figure: boolean;
}

function renderSample(colours: ChangeColours, sight: Sight, { percent, figure }: Sample) {
  const { background, ink } = colours.tintAt(percent);
  const tint = { backgroundColor: seenAs(background, sight), color: ink };
  // The other sights are pictures of what somebody else sees: to this reader a figure on them might not be readable.
  const text = figure && sight === "normal" ? sayChange(percent) : "";
  return html`<span class=${figure ? "figure" : ""} style=${styleMap(tint)}>${text}</span>`;
}
