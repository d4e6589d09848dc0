import { css, html, LitElement, nothing } from "lit";
import { customElement, property } from "lit/decorators.js";
import { styleMap } from "lit/directives/style-map.js";
import type { ChangeColours } from "../../colour/change-colours.ts";
import { rampGradient } from "../../colour/ramp-gradient.ts";
import { saySize, saySpan } from "../../colour/say-percent.ts";
import { elementTokens } from "../tokens.ts";

/**
 * Says what the tints of a table mean: `less fuel ▭▭▭ more fuel ±30 %`.
 *
 * Shows nothing until it has colours.
 *
 * @csspart bar - The ramp.
 * @cssproperty --fw-legend-bar - Width of the ramp.
 */
@customElement("fw-change-legend")
export class ChangeLegend extends LitElement {
  static override styles = [
    elementTokens,
    css`
      :host {
        display: inline-block;
        font-size: var(--text-small);
        font-variant-numeric: tabular-nums;
        color: var(--ink-2);
      }
      :host([hidden]) {
        display: none;
      }
      div {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 2px var(--space-2);
      }
      i {
        flex: 0 1 auto;
        width: var(--fw-legend-bar, 150px);
        min-width: 60px;
        height: 10px;
        border: var(--line) solid var(--rule);
        forced-color-adjust: none;
      }
    `,
  ];

  /** As `changeColours` gives them: the same as the grid's. */
  @property({ attribute: false }) colours: ChangeColours | null = null;
  /** What a fall means; for a lambda table "richer", say. */
  @property({ attribute: "less-words" }) lessWords = "less fuel";
  /** What a rise means. */
  @property({ attribute: "more-words" }) moreWords = "more fuel";

  protected override render() {
    if (this.colours === null) return nothing;
    const { span } = this.colours;
    const words =
      `Tints show change: ${this.lessWords}, full colour at ${saySize(span.less)} %; ` +
      `${this.moreWords}, full colour at ${saySize(span.more)} %`;
    return html`<div role="img" aria-label=${words}>
      <span>${this.lessWords}</span>
      <i part="bar" style=${styleMap({ backgroundImage: rampGradient(this.colours) })}></i>
      <span>${this.moreWords}</span>
      <span>${saySpan(span)}</span>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-change-legend": ChangeLegend;
  }
}
