import { type CSSResultGroup, css, html, LitElement, nothing, type TemplateResult } from "lit";
import { property, query } from "lit/decorators.js";
import { elementTokens } from "../elements/tokens.ts";
import type { Desk, Message } from "../store/desk.ts";
import { pageStyles } from "./page-styles.ts";

/**
 * A dialog over the page: opens when it is put in, closes with Escape or its button, and then tells by `close`.
 *
 * @event close - It was closed.
 */
export abstract class PageDialog extends LitElement {
  static override styles: CSSResultGroup = [
    elementTokens,
    pageStyles,
    css`
      .head {
        display: flex;
        justify-content: space-between;
        align-items: baseline;
        gap: 24px;
        margin-bottom: 12px;
      }
      h2 {
        font-size: var(--text-large);
      }
      dl.keys {
        display: grid;
        grid-template-columns: minmax(150px, auto) 1fr;
        gap: 4px 16px;
        font-size: 13px;
        margin: 0;
      }
      dl.keys dt {
        font-weight: 600;
      }
      dl.keys dd {
        margin: 0;
        color: var(--ink-2);
      }
    `,
  ];

  protected abstract heading: string;
  /** Whose refusals are shown here: the page behind the dialog can't be read meanwhile. */
  @property({ attribute: false }) desk: Desk | null = null;
  private heard: Message | null = null;
  @query("dialog") private dialog!: HTMLDialogElement;

  protected override firstUpdated() {
    this.heard = this.desk?.message ?? null;
    this.dialog.showModal();
  }

  protected override render() {
    return html`<dialog aria-label=${this.heading} @close=${() => this.dispatchEvent(new Event("close"))}>
      <div class="head"><h2>${this.heading}</h2><button @click=${() => this.close()}>Close</button></div>
      ${this.refusal()}${this.content()}
    </dialog>`;
  }

  private refusal() {
    const message = this.desk?.message ?? null;
    const fresh = this.hasUpdated && message !== this.heard && message?.tone === "refused";
    return fresh ? html`<p class="warns" role="alert">${message.text}</p>` : nothing;
  }

  protected abstract content(): TemplateResult;

  close() {
    this.dialog.close();
  }
}
