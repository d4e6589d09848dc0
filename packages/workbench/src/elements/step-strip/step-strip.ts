import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import { elementTokens } from "../tokens.ts";
import { stepStripStyles } from "./step-strip.styles.ts";

/** One step as the strip shows it: a sentence, and how it stands. */
export interface StepItem {
  readonly id: string;
  readonly title: string;
  readonly detail: string;
  readonly on: boolean;
  /** Why it was passed over, where it was. */
  readonly passedOver?: string;
  readonly note?: string;
  /** The name of the state after it, where it has one. */
  readonly stateName?: string;
  /** A first guess that only evidence can replace. */
  readonly estimate?: boolean;
}

export type StripAction =
  | { readonly kind: "open"; readonly id: string }
  | { readonly kind: "switch"; readonly id: string; readonly on: boolean }
  | { readonly kind: "delete"; readonly id: string }
  | { readonly kind: "move"; readonly id: string; readonly to: number };

/** Something was asked of a step; the strip itself changes nothing. */
export class StripActionEvent extends CustomEvent<StripAction> {
  constructor(action: StripAction) {
    super("fw-strip-action", { bubbles: true, composed: true, detail: action });
  }
}

/**
 * The job's history as a strip of steps in order.
 *
 * One tab stop: left and right arrows go along it, Enter opens, Space switches on or off, Delete deletes, Alt with an
 * arrow moves the step.
 *
 * @event {StripActionEvent} fw-strip-action - What was asked, of which step.
 * @csspart step - Each step, and what stands before them all.
 * @csspart open - The step that is open or looked at.
 * @csspart off - A step that is switched off.
 * @csspart passed-over - A step that could not be done.
 * @csspart draft - The step being made.
 */
@customElement("fw-step-strip")
export class StepStrip extends LitElement {
  static override styles = [elementTokens, stepStripStyles];

  /** The steps in order. */
  @property({ attribute: false }) steps: readonly StepItem[] = [];
  /** The step that is open or looked at. */
  @property() current: string | null = null;
  /** A step being made, shown behind the others; null: none. */
  @property({ attribute: false }) draft: { readonly title: string; readonly detail: string } | null = null;
  /** What stands before all steps, in a few words. */
  @property({ attribute: "source-text" }) sourceText = "as brought in";
  /** Steps can be opened and looked at only. */
  @property({ type: Boolean, attribute: "readonly" }) readOnly = false;

  @state() private focused = 0;

  protected override render() {
    const last = this.steps.length;
    const focused = Math.min(this.focused, last);
    return html`<ol aria-label="Steps, in order" @keydown=${this.onKey}>
      ${this.item({ id: "source", title: "Brought in", detail: this.sourceText, on: true }, 0, focused)}
      ${repeat(
        this.steps,
        ({ id }) => id,
        (step, at) => this.item(step, at + 1, focused),
      )}
      ${
        this.draft
          ? html`<li part="step draft" class="open"><div class="step">
              <b>${last + 1} ${this.draft.title}</b><span>${this.draft.detail} · preview</span></div></li>`
          : nothing
      }
    </ol>`;
  }

  /** A step that is being made or opened is brought into view: along the strip, not up or down the page. */
  protected override updated(changed: PropertyValues<this>) {
    const made = changed.has("draft") && this.draft !== null && changed.get("draft") == null;
    if (!made && !(changed.has("current") && this.current !== null)) return;
    const list = this.renderRoot.querySelector("ol")!;
    const item = list.querySelector<HTMLElement>(made ? "li:last-child" : "li.open");
    if (!item) return;
    const [frame, box] = [list.getBoundingClientRect(), item.getBoundingClientRect()];
    if (box.right > frame.right) list.scrollLeft += Math.min(box.right - frame.right, box.left - frame.left);
    else if (box.left < frame.left) list.scrollLeft += box.left - frame.left;
  }

  private item(step: StepItem, at: number, focused: number) {
    const source = step.id === "source";
    const status = !step.on ? "off" : step.passedOver ? "passed over" : "";
    const open = this.current === step.id;
    const parts = ["step", open && "open", status === "off" && "off", status === "passed over" && "passed-over"];
    return html`<li part=${parts.filter(Boolean).join(" ")} class="${open ? "open" : ""} ${status === "off" ? "off" : ""}">
      <button class="step" data-at=${at} tabindex=${at === focused ? 0 : -1}
        aria-current=${open ? "step" : nothing}
        aria-keyshortcuts=${source ? nothing : "Space Delete Alt+ArrowLeft Alt+ArrowRight"}
        @focus=${() => (this.focused = at)}
        @click=${() => this.ask({ kind: "open", id: step.id })}>
        <b>${source ? step.title : `${at} ${step.title}`}</b>
        <span>${status ? html`<em>${status}</em>: ` : nothing}${step.passedOver && step.on ? step.passedOver : step.detail}</span>
        ${step.estimate ? html`<span class="guess">first guess, until evidence</span>` : nothing}
        ${step.note ? html`<span class="note">“${step.note}”</span>` : nothing}
        ${step.stateName ? html`<span class="name">named ${step.stateName}</span>` : nothing}
      </button>
      ${
        source
          ? nothing
          : html`<label class="switch"><input type="checkbox" tabindex="-1" .checked=${step.on} ?disabled=${this.readOnly}
              aria-label="Step ${at}, ${step.title}: on"
              @change=${(event: Event) => this.switchStep(step.id, event)} /></label>`
      }
    </li>`;
  }

  private switchStep(id: string, event: Event) {
    this.ask({ kind: "switch", id, on: (event.target as HTMLInputElement).checked });
  }

  private ask(action: StripAction) {
    this.dispatchEvent(new StripActionEvent(action));
  }

  private onKey = (event: KeyboardEvent) => {
    const button = (event.target as Element).closest<HTMLButtonElement>("button.step");
    if (!button) return;
    const at = Number(button.dataset.at);
    const step = this.steps[at - 1];
    const along = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (along !== 0 && event.altKey && step) {
      const to = at - 1 + along;
      if (!this.readOnly && to >= 0 && to < this.steps.length) {
        this.ask({ kind: "move", id: step.id, to });
        void this.focusStep(to + 1);
      }
    } else if (along !== 0) void this.focusStep(at + along);
    else if (event.key === "Home") void this.focusStep(0);
    else if (event.key === "End") void this.focusStep(this.steps.length);
    else if (event.key === " " && step && !this.readOnly) this.ask({ kind: "switch", id: step.id, on: !step.on });
    else if (event.key === "Delete" && step && !this.readOnly) {
      this.ask({ kind: "delete", id: step.id });
      void this.focusStep(at - 1);
    } else return;
    event.preventDefault();
  };

  private async focusStep(at: number) {
    this.focused = Math.max(0, Math.min(this.steps.length, at));
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLButtonElement>(`button[data-at="${this.focused}"]`)?.focus();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-step-strip": StepStrip;
  }
  interface HTMLElementEventMap {
    "fw-strip-action": StripActionEvent;
  }
}
