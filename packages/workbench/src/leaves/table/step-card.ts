import { checkStep, type Region, type Step, type StepKind } from "@fuelwright/table-core";
import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import {
  addStep,
  annotateStep,
  type Command,
  changeStep,
  deleteStep,
  forgetNamedState,
  moveStep,
  nameState,
  switchStep,
  takeOutTable,
} from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { sayStep } from "../../store/say-step.ts";
import { pageStyles } from "../page-styles.ts";
import { beginStep } from "./begin-step.ts";
import "./find-cells.ts";
import "./look-over.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { regionFields } from "./forms/fields.ts";
import { formOf, forms, groups } from "./forms/index.ts";
import type { FormContext, StepForm } from "./forms/step-form.ts";

/**
 * The card beside the grid: what can be done, or the step being made or reopened, in plain words.
 *
 * While a step is open the grid shows what it would do; nothing is kept until it is kept here.
 *
 * @event fw-bring-in - A table is to be brought in.
 * @event fw-compare - The table at hand is to be compared with another.
 * @event fw-step-done - The open step was kept, discarded or closed.
 * @event fw-branch - A job of its own is wanted from the state after `detail.after`.
 */
@customElement("fw-step-card")
export class StepCard extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      .offers {
        display: grid;
        grid-template-columns: 1fr 1fr;
        gap: 2px 12px;
      }
      details {
        margin-top: var(--space-3);
        font-size: 13px;
      }
      summary {
        cursor: pointer;
        min-height: 24px;
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  /** The step looked at on the strip, where none is being made. */
  @state() private naming = "";

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const { draft } = this.desk.bench;
    return html`<section class="sheet" aria-label="Step" @keydown=${this.onKey}>${draft ? this.open(draft.step) : this.offers()}</section>`;
  }

  private offers() {
    const { desk } = this;
    const { table } = desk;
    return html`<h2>What to do</h2>
      <p class="quiet">The grid previews a step before it is kept.</p>
      ${groups.map(([group, words]) => {
        const list = forms.filter((form) => form.group === group);
        return list.length
          ? html`<h3>${words}</h3><div class="offers">${list.map(
              (form) =>
                html`<button class="word" ?disabled=${desk.readOnly !== null} @click=${() => this.begin(form)}>${form.title}</button>`,
            )}</div>`
          : nothing;
      })}
      ${table ? html`<fw-find-cells .desk=${desk}></fw-find-cells><fw-look-over .desk=${desk}></fw-look-over>` : nothing}
      <h3>Tables</h3>
      <div class="offers">
        <button class="word" ?disabled=${desk.readOnly !== null}
          @click=${() => this.dispatchEvent(new CustomEvent("fw-bring-in", { bubbles: true, composed: true }))}>Bring in a table</button>
        ${
          table
            ? html`<button class="word" ?disabled=${desk.readOnly !== null || !desk.job.tables.some(({ id }) => id === table.id)}
                @click=${() => desk.perform(takeOutTable(table.id, table.name))}>Take this one out</button>
                <button class="word" @click=${() => this.dispatchEvent(new CustomEvent("fw-compare", { bubbles: true, composed: true }))}>Compare with another</button>`
            : nothing
        }
      </div>`;
  }

  /** Starts a step of that kind, as a key of the grid asks for it. */
  beginKind(kind: StepKind): void {
    const form = formOf(kind);
    if (form) void this.begin(form);
  }

  /** Starts a step of that form, if it can be started here. */
  async begin(form: StepForm): Promise<void> {
    if (!(await beginStep(this.desk, form))) return;
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>("h2")?.focus();
  }

  private open(step: Step) {
    const { desk } = this;
    const draft = desk.bench.draft!;
    const form = formOf(step.kind);
    const { title, detail } = sayStep(step, desk.job, desk.preferences);
    const reopened = draft.kind === "reopened";
    const number = reopened ? desk.job.steps.findIndex(({ id }) => id === step.id) + 1 : desk.job.steps.length + 1;
    const { status, reason, report } = draft.outcome;
    const context = {
      desk,
      step,
      settings: step.settings,
      change: (settings: Step["settings"]) => this.change(step, settings),
      report,
    } as unknown as FormContext<StepKind>;
    const region = (step.settings as { region?: Region }).region;
    return html`<h2 tabindex="-1">${reopened ? `${number} ` : ""}${form?.title ?? title}</h2>
      <p class="quiet">${form?.about ?? detail}</p>
      ${
        form?.hasRegion
          ? regionFields(desk, region, (wanted) => {
              const { region: _, ...rest } = step.settings as { region?: Region };
              this.change(step, (wanted ? { ...rest, region: wanted } : rest) as Step["settings"]);
            })
          : nothing
      }
      ${form?.fields(context)}
      ${
        status === "passed-over"
          ? html`<div class="warns" role="alert">${reason && plainRefusal(reason.message)}</div>`
          : (form?.outcome?.(context) ?? nothing)
      }
      <div class="do">
        <button class="main" ?disabled=${status === "passed-over"} @click=${() => this.keep(step, reopened)}>
          ${reopened ? "Keep the change" : `Keep as step ${number}`}</button>
        <button @click=${() => this.close()}>${reopened ? "Close" : "Discard"}</button>
      </div>
      ${reopened ? this.more(step, number, title) : nothing}`;
  }

  private change(step: Step, settings: Step["settings"]) {
    const { desk } = this;
    desk.attempt(() => {
      desk.bench.preview(checkStep({ ...step, settings }));
    });
  }

  private keep(step: Step, reopened: boolean) {
    const { desk } = this;
    const { title } = sayStep(step, desk.job);
    if (desk.perform(reopened ? changeStep(step, `Change ${title}`) : addStep(step, title))) this.tellDone();
  }

  private close() {
    this.desk.bench.closeDraft();
    this.tellDone();
  }

  /** The fields are gone: whoever holds the card says where the focus goes. */
  private tellDone() {
    this.dispatchEvent(new Event("fw-step-done", { bubbles: true, composed: true }));
  }

  /** Changes something about the open step that is not its settings; it stays open. */
  private amend(id: string, command: Command) {
    const { desk } = this;
    if (!desk.perform(command)) return;
    const step = desk.job.steps.find((other) => other.id === id);
    if (step) desk.attempt(() => desk.bench.preview(step));
  }

  private onKey = (event: KeyboardEvent) => {
    if (event.key === "Escape" && !event.defaultPrevented && this.desk.bench.draft) this.close();
  };

  private more(step: Step, number: number, title: string) {
    const { desk } = this;
    const name = `step ${number}, ${title}`;
    const named = desk.job.named.find(({ after }) => after === step.id);
    return html`<details><summary>Note, order, name, branch</summary>
      <label>Why<textarea rows="2" maxlength="2000" .value=${step.note}
        @change=${(event: Event) => this.amend(step.id, annotateStep(step.id, (event.target as HTMLTextAreaElement).value, name))}></textarea></label>
      <div class="do">
        <button @click=${() => this.amend(step.id, switchStep(step.id, !step.on, name))}>${step.on ? "Switch off" : "Switch on"}</button>
        <button ?disabled=${number === 1} @click=${() => this.amend(step.id, moveStep(step.id, number - 2, name))}>Earlier</button>
        <button ?disabled=${number === desk.job.steps.length} @click=${() => this.amend(step.id, moveStep(step.id, number, name))}>Later</button>
        <button @click=${() => {
          if (desk.perform(deleteStep(step.id, name))) this.tellDone();
        }}>Delete</button>
        <button @click=${() => this.dispatchEvent(new CustomEvent("fw-branch", { bubbles: true, composed: true, detail: { after: step.id } }))}>Branch from here</button>
      </div>
      ${
        named
          ? html`<div class="row">The state after it is named ${named.name}
              <button @click=${() => this.amend(step.id, forgetNamedState(named.name))}>Forget the name</button></div>`
          : html`<div class="row"><label>Name this state <input size="14" maxlength="60" .value=${this.naming}
              @input=${(event: Event) => (this.naming = (event.target as HTMLInputElement).value)} /></label>
              <button ?disabled=${!this.naming.trim()} @click=${() => {
                this.amend(step.id, nameState(this.naming.trim(), step.id));
                this.naming = "";
              }}>Name</button></div>`
      }</details>`;
  }
}
