import { html, LitElement } from "lit";
import { customElement, property } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { pageStyles } from "../page-styles.ts";

/** The place for trying out what enrichment does. */
@customElement("fw-what-if-leaf")
export class WhatIfLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles];
  @property({ attribute: false }) desk!: Desk;

  protected override render() {
    return html`<section class="sheet" style="max-width: 62ch"><h2>What if</h2>
      <p>Playing with enrichment has its place here. This version has no models on this leaf yet; on the Table leaf any
        change can be previewed and dropped again, and the line under the grid says fuel and duty of each cell.</p>
    </section>`;
  }
}
