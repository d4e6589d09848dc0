import { type Finding, inspectTable, type Region } from "@fuelwright/table-core";
import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import { makeStep } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { pageStyles } from "../page-styles.ts";

const MOST = 12;

const remedies = { "fill-cells": "Fill from around", "smooth-cells": "Smooth there" } as const;

/**
 * Looks the table over for cells that seem unintended, says why, and offers the one step that would mend each.
 *
 * @event fw-show-region - The cells of a finding, to be shown as the selection.
 */
@customElement("fw-look-over")
export class LookOver extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      ul {
        list-style: none;
        margin: 0;
        padding: 0;
        font-size: 12.5px;
      }
      li {
        border-top: 1px solid var(--rule);
        padding: 6px 0;
      }
      li button + button {
        margin-left: 14px;
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  @state() private open = false;

  protected override render() {
    const { table } = this.desk;
    if (!table) return nothing;
    return html`<h3>Look the table over</h3>
      <button class="word" aria-expanded=${this.open} @click=${() => (this.open = !this.open)}>
        ${this.open ? "Close the list" : "Find cells out of line, jumps, flats"}</button>
      ${this.open ? this.list(inspectTable(table)) : nothing}`;
  }

  private list(findings: readonly Finding[]) {
    if (findings.length === 0) return html`<p class="quiet" role="status">Nothing looks out of line.</p>`;
    const shown = findings.slice(0, MOST);
    return html`<p class="quiet" role="status">${findings.length === 1 ? "1 place" : `${findings.length} places`} to look at${findings.length > MOST ? `; the first ${MOST}` : ""}.
        They are judged by their neighbours, not by the engine.</p>
      <ul>${shown.map(
        (finding) => html`<li>${finding.reason}<br />
          <button class="word" @click=${() => this.show(finding.region)}>Show</button>
          <button class="word" ?disabled=${this.desk.readOnly !== null} @click=${() => this.mend(finding)}>${remedies[finding.remedy.kind]}</button></li>`,
      )}</ul>`;
  }

  private show(region: Region) {
    this.desk.look({ region });
    this.dispatchEvent(new CustomEvent("fw-show-region", { bubbles: true, composed: true, detail: region }));
  }

  /** Opens the remedy as a step to look at; nothing is kept yet. */
  private mend({ remedy, region }: Finding) {
    const { desk } = this;
    this.show(region);
    desk.attempt(() => {
      const table = desk.view.table ?? undefined;
      desk.bench.preview(
        remedy.kind === "fill-cells"
          ? makeStep(desk.job, "fill-cells", table, remedy.settings)
          : makeStep(desk.job, "smooth-cells", table, remedy.settings),
      );
    });
  }
}
