import { html, LitElement } from "lit";
import { customElement, property } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { pageStyles } from "../page-styles.ts";

/** The place for logs and what they say of the table. */
@customElement("fw-evidence-leaf")
export class EvidenceLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles];
  @property({ attribute: false }) desk!: Desk;

  protected override render() {
    return html`<section class="sheet" style="max-width: 62ch"><h2>Evidence</h2>
      <p>Logs from a wideband sensor will be read and weighed here. This version does not read them yet; until it does,
        check the carried-over table with your own log and correct it by hand on the Table leaf.</p>
      <p class="quiet">A log is recorded by a passenger, on a dyno, or by a logger that needs no eyes: never by the rider's.</p>
    </section>`;
  }
}
