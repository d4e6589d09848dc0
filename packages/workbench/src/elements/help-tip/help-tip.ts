import { html, LitElement, nothing } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { elementTokens } from "../tokens.ts";
import { helpTipStyles } from "./help-tip.styles.ts";

/** Width of the tip where the page is wide enough, and its distance from the edge of the page, in px. */
const WIDTH = 300;
const EDGE = 8;
/** Room that a few lines take; with less below the button the tip opens above it. */
const ROOM = 140;

/** The explanation of a word is wanted. */
export class TermEvent extends Event {
  static readonly type = "fw-term";
  constructor(
    /** The word's id. */
    readonly term: string,
  ) {
    super(TermEvent.type, { bubbles: true, composed: true });
  }
}

/**
 * A question mark beside a field that opens one sentence of help, with the source of its figure.
 *
 * Reached by Tab, opened by Enter, Space or a click, closed by Escape or a click elsewhere. A screen reader hears the
 * sentence on reaching it, without opening it.
 *
 * @event {TermEvent} fw-term - The explanation of `term` is wanted.
 * @csspart button - The question mark.
 * @csspart tip - What it opens.
 */
@customElement("fw-help")
export class HelpTip extends LitElement {
  static override readonly shadowRootOptions = { ...LitElement.shadowRootOptions, delegatesFocus: true };
  static override styles = [elementTokens, helpTipStyles];

  /** What the help is about: the label of the field beside it. */
  @property() about = "";
  /** The help, one sentence. */
  @property() text = "";
  /** Where its figure comes from, "common practice" among them; empty where there is none. */
  @property() source = "";
  /** The id of a word that is explained elsewhere; empty: no link to it is shown. */
  @property() term = "";

  @state() private open = false;
  @query("button") private button!: HTMLButtonElement;
  @query("[popover]") private tip!: HTMLElement;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.stopFollowing();
  }

  protected override render() {
    return html`<button
        type="button"
        part="button"
        popovertarget="tip"
        aria-label=${this.about ? `Help on ${this.about}` : "Help"}
        aria-expanded=${this.open}
        aria-describedby="words"
        @keydown=${this.onKeyDown}
      >?</button>
      <div popover id="tip" part="tip" @beforetoggle=${this.beforeToggle} @toggle=${this.onToggle}>
        <div id="words"><p>${this.text}</p>
          ${this.source ? html`<p class="source">Source: ${this.source}</p>` : nothing}</div>
        ${this.term ? html`<button type="button" class="term" @click=${this.askForTerm}>In the glossary</button>` : nothing}
      </div>`;
  }

  /** Puts the tip under the button, or above it at the foot of the page, inside the page in any case. */
  private beforeToggle(event: ToggleEvent) {
    if (event.newState !== "open") return;
    const { left, top, bottom } = this.button.getBoundingClientRect();
    const { clientWidth, clientHeight } = document.documentElement;
    const width = Math.min(WIDTH, clientWidth - 2 * EDGE);
    const above = clientHeight - bottom < ROOM && top > clientHeight - bottom;
    Object.assign(this.tip.style, {
      width: `${width}px`,
      left: `${Math.max(EDGE, Math.min(left, clientWidth - width - EDGE))}px`,
      top: above ? "auto" : `${bottom + 2}px`,
      bottom: above ? `${window.innerHeight - top + 2}px` : "auto",
    });
  }

  private askForTerm() {
    this.close();
    // What is opened over this gives the focus back to where it was.
    this.button.focus();
    this.dispatchEvent(new TermEvent(this.term));
  }

  private onToggle(event: ToggleEvent) {
    this.open = event.newState === "open";
    this.stopFollowing();
    // It hangs on the button, which moves away under it.
    if (this.open) for (const type of ["scroll", "resize"]) window.addEventListener(type, this.close, true);
  }

  private stopFollowing() {
    for (const type of ["scroll", "resize"]) window.removeEventListener(type, this.close, true);
  }

  private readonly close = () => this.tip.hidePopover();

  private onKeyDown(event: KeyboardEvent) {
    if (event.key !== "Escape" || !this.open) return;
    // This Escape is the tip's: what stands around it keeps its state.
    event.preventDefault();
    event.stopPropagation();
    this.close();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-help": HelpTip;
  }
  interface HTMLElementEventMap {
    "fw-term": TermEvent;
  }
}
