import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import { pageStyles } from "../../leaves/page-styles.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { stops } from "./stops.ts";

/**
 * A first job over the demo: a few stops, each with what to do, that know by the job when they are done.
 *
 * It stands beside the work and stops none of it; it can be left at any moment and goes on where it was.
 *
 * @event fw-leave - It was left, or is finished.
 * @event fw-open-demo - The demo job is wanted, as another one is open.
 */
@customElement("fw-first-job")
export class FirstJob extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      aside {
        border: 1px solid var(--rule-2);
        background: var(--sheet);
        padding: 10px 16px 12px;
        margin-bottom: var(--space-4);
      }
      .head {
        display: flex;
        gap: var(--space-4);
        justify-content: space-between;
        align-items: baseline;
      }
      h2 small {
        font-weight: 400;
        color: var(--ink-2);
      }
      p {
        max-width: 90ch;
        margin: 2px 0 0;
      }
      ol {
        display: flex;
        flex-wrap: wrap;
        gap: 0 18px;
        margin: var(--space-2) 0 0;
        padding: 0;
        list-style: none;
        font-size: 12.5px;
      }
      li button.word {
        font-size: 12.5px;
        color: var(--ink-2);
      }
      li button.word[aria-current] {
        color: var(--ink);
        font-weight: 600;
      }
      .do {
        margin-top: var(--space-2);
        align-items: baseline;
      }
      [role="status"] {
        font-size: 13px;
        font-weight: 600;
        min-height: 0;
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  /** The stop that was chosen by hand; null: the first that is not done. */
  @state() private chosen: number | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  private get done(): readonly string[] {
    return this.desk.preferences.guide.done;
  }

  /** Goes to what the strip says first, for those who read with the keyboard. */
  override focus(): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>("h2")?.focus());
  }

  protected override willUpdate() {
    // While it is on the way, the stop at hand stays, so that its end can be read.
    this.chosen ??= Math.max(
      0,
      stops.findIndex(({ id }) => !this.done.includes(id)),
    );
  }

  protected override updated() {
    const { desk, done } = this;
    if (!desk.job.invented) return;
    const fresh = stops.filter((stop) => !done.includes(stop.id) && stop.done(desk)).map(({ id }) => id);
    if (fresh.length > 0) desk.prefer({ guide: { state: "on", done: [...done, ...fresh] } });
  }

  protected override render() {
    const { desk, done } = this;
    if (!desk.job.invented) return this.elsewhere();
    const at = this.chosen!;
    const stop = stops[at]!;
    const isDone = done.includes(stop.id);
    const all = stops.every(({ id }) => done.includes(id));
    const next = stops.findIndex(({ id }, other) => other > at && !done.includes(id));
    const after = next >= 0 ? next : stops.findIndex(({ id }) => !done.includes(id) && id !== stop.id);
    return html`<aside aria-label="First job">
      <div class="head"><h2 tabindex="-1">${stop.title} <small>first job, stop ${at + 1} of ${stops.length}</small></h2>
        <button class="word" @click=${this.leave}>${all ? "Finish" : "Leave it"}</button></div>
      <p>${stop.words}</p>
      <p role="status">${
        all
          ? "Done, all of it. Clear the demo to begin a job of your own."
          : isDone
            ? `Done.${after >= 0 ? ` Next: ${stops[after]!.title}.` : ""}`
            : ""
      }</p>
      <div class="do">
        ${
          desk.view.leaf !== stop.leaf && !isDone
            ? html`<button class="main" @click=${() => (location.hash = stop.leaf)}>Go there</button>`
            : nothing
        }
        ${
          after >= 0
            ? html`<button class=${isDone ? "main" : ""} @click=${() => this.goTo(after)}>${isDone ? "Next stop" : "Skip this one"}</button>`
            : nothing
        }
      </div>
      <ol aria-label="Stops">${stops.map(
        ({ id, title }, other) =>
          html`<li><button class="word" aria-current=${other === at ? "step" : nothing} @click=${() => this.goTo(other)}>${
            other + 1
          } ${title}</button>${done.includes(id) ? " done" : ""}</li>`,
      )}</ol>
    </aside>`;
  }

  private elsewhere() {
    return html`<aside aria-label="First job">
      <div class="head"><h2 tabindex="-1">First job</h2><button class="word" @click=${this.leave}>Leave it</button></div>
      <p>It goes over the demo job, and another one is open.</p>
      <div class="do"><button @click=${() => this.dispatchEvent(new Event("fw-open-demo"))}>Open the demo</button></div>
    </aside>`;
  }

  /** To the stop and its leaf, with the focus on what it says. */
  private goTo(at: number) {
    this.chosen = at;
    location.hash = stops[at]!.leaf;
    this.focus();
  }

  private leave = () => {
    this.dispatchEvent(new Event("fw-leave"));
  };
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-first-job": FirstJob;
  }
}
