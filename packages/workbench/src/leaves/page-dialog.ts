import { type CSSResultGroup, css, html, LitElement, type TemplateResult } from "lit";
import { query } from "lit/decorators.js";
import { elementTokens } from "../elements/tokens.ts";
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
  @query("dialog") private dialog!: HTMLDialogElement;

  protected override firstUpdated() {
    this.dialog.showModal();
  }

  protected override render() {
    return html`<dialog aria-label=${this.heading} @close=${() => this.dispatchEvent(new Event("close"))}>
      <div class="head"><h2>${this.heading}</h2><button @click=${() => this.close()}>Close</button></div>
      ${this.content()}
    </dialog>`;
  }

  protected abstract content(): TemplateResult;

  close() {
    this.dialog.close();
  }
}
