import { css, html, nothing, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { PageDialog } from "../../leaves/page-dialog.ts";
import { findTerms, type Term, terms } from "./terms.ts";

/** The words of the trade as this tool uses them, to look up and to read on in. */
@customElement("fw-glossary-dialog")
export class GlossaryDialog extends PageDialog {
  static override styles = [
    PageDialog.styles,
    css`
      dialog {
        width: min(680px, 92vw);
      }
      .sought {
        position: sticky;
        top: calc(-1 * var(--space-5));
        padding: var(--space-2) 0;
        background: var(--sheet);
      }
      dl {
        margin: 0;
        font-size: 13px;
      }
      dt {
        font-weight: 650;
        margin-top: var(--space-3);
        /* Below the field that stays at the top. */
        scroll-margin-top: 60px;
      }
      dt:focus {
        outline: none;
        text-decoration: underline;
        text-underline-offset: 4px;
      }
      dt small {
        font-weight: 400;
        font-size: 12px;
        color: var(--ink-2);
      }
      dd {
        margin: 2px 0 0;
        max-width: 72ch;
      }
    `,
  ];

  protected override heading = "Glossary";
  /** The id of the term to begin with; empty: the first. */
  @property() term = "";
  @state() private sought = "";

  protected override updated(changed: PropertyValues<this>) {
    if (changed.has("term") && this.term) this.goTo(this.term);
  }

  protected override content() {
    const found = findTerms(this.sought);
    return html`
      <label class="row sought">Look for <input type="search" size="24" .value=${this.sought}
        @input=${(event: Event) => (this.sought = (event.target as HTMLInputElement).value)} /></label>
      <p class="quiet" role="status">${
        this.sought.trim() === ""
          ? nothing
          : found.length === 0
            ? "No term holds these words."
            : found.length === 1
              ? "1 term."
              : `${found.length} terms.`
      }</p>
      <dl>${found.map((term) => this.entry(term))}</dl>`;
  }

  private entry({ id, term, words, see, own }: Term) {
    return html`<dt id=${id} tabindex="-1">${term}${own ? html` <small>a word of this tool</small>` : nothing}</dt>
      <dd>${words}${
        see
          ? html` <span class="quiet">See ${see.map(
              (other, at) =>
                html`${at ? ", " : ""}<button class="word" @click=${() => this.goTo(other)}>${nameOf(other)}</button>`,
            )}.</span>`
          : nothing
      }</dd>`;
  }

  private async goTo(id: string) {
    this.sought = "";
    await this.updateComplete;
    const entry = this.renderRoot.querySelector<HTMLElement>(`#${CSS.escape(id)}`);
    entry?.scrollIntoView({ block: "start" });
    entry?.focus({ preventScroll: true });
  }
}

const nameOf = (id: string) => terms.find((term) => term.id === id)?.term ?? id;
