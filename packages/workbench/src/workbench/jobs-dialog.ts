import { html, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { helpOn } from "../leaves/help-on.ts";
import { PageDialog } from "../leaves/page-dialog.ts";
import { renameJob } from "../store/commands.ts";
import type { Desk } from "../store/desk.ts";
import { DeskController } from "../store/desk-controller.ts";
import type { KeptJob } from "../store/keeping.ts";
import type { Keeping } from "./keep-the-job.ts";

const when = (time: string) => new Date(time).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });

/** The jobs on this machine, files, the name of the open job, and its earlier versions. */
@customElement("fw-jobs-dialog")
export class JobsDialog extends PageDialog {
  protected override heading = "Jobs and files";
  @property({ attribute: false }) override desk!: Desk;
  @property({ attribute: false }) keeping!: Keeping;
  @state() private jobs: readonly KeptJob[] = [];
  @state() private removing: string | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override firstUpdated() {
    super.firstUpdated();
    void this.readJobs();
  }

  private async readJobs() {
    this.jobs = await this.keeping.list();
  }

  protected override content() {
    const { job } = this.desk;
    return html`
      <div class="do">
        <button @click=${() => this.closeAfter(this.keeping.openFile())}>Open a job file</button>
        <button @click=${() => this.refreshAfter(this.keeping.save())}>Save the job to a file</button>
        <button @click=${() => this.closeAfter(this.keeping.newJob())}>New empty job</button>
        <button @click=${() => this.closeAfter(this.keeping.saveCopy())}>Copy the open job</button>
      </div>
      <h3>The open job</h3>
      <div class="row"><span class="named">Name ${helpOn("job-name", "Name")}</span><input aria-label="Name" .value=${job.name} maxlength="200" size="40"
        @change=${(event: Event) => this.rename(event, job.about)} /></div>
      <p class="named">What it is about ${helpOn("job-about", "What it is about")}</p>
      <textarea aria-label="What it is about" rows="2" maxlength="2000" .value=${job.about} @change=${(event: Event) => this.describe(event)}></textarea>
      <h3>On this machine</h3>
      ${this.jobs.length === 0 ? html`<p class="quiet">Nothing is kept here yet.</p>` : nothing}
      ${this.jobs.map(
        (
          kept,
        ) => html`<div class="row"><span>${kept.name}<br /><span class="quiet">${when(kept.changed)}, ${kept.entries === 1 ? "1 state" : `${kept.entries} states`}</span></span>
          <span>${
            kept.id === job.id
              ? html`<span class="quiet">open</span> `
              : html`<button @click=${() => this.closeAfter(this.keeping.open(kept.id))} aria-label="Open ${kept.name}">Open</button> `
          }${
            this.removing === kept.id
              ? html`<button @click=${() => this.refreshAfter(this.keeping.remove(kept.id))}>Yes, delete for good</button>
                  <button @click=${() => (this.removing = null)}>Keep it</button>`
              : html`<button @click=${() => (this.removing = kept.id)} aria-label="Delete ${kept.name}">Delete</button>`
          }</span></div>`,
      )}
      <h3>Versions of the open job</h3>
      <p class="quiet">Every state since it was made, the latest first. Bringing one back can be undone.</p>
      ${this.versions()}
    `;
  }

  private versions() {
    const { history } = this.desk.bench;
    return html`<div style="max-height: 220px; overflow: auto" tabindex="0" role="group" aria-label="Versions">
      ${history.entries.toReversed().map(
        ({
          seq,
          label,
          time,
        }) => html`<div class="row"><span>${seq + 1}. ${label}<br /><span class="quiet">${when(time)}</span></span>
          ${
            seq === history.at
              ? html`<span class="quiet">now</span>`
              : html`<button @click=${() => this.desk.attempt(() => this.desk.bench.restoreVersion(seq))}
                  aria-label="Bring back version ${seq + 1}">Bring back</button>`
          }</div>`,
      )}
    </div>`;
  }

  private rename(event: Event, about: string) {
    const name = (event.target as HTMLInputElement).value;
    if (name.trim()) this.desk.perform(renameJob(name, about));
    this.refreshAfter(this.desk.keepNow());
  }

  private describe(event: Event) {
    this.desk.perform(renameJob(this.desk.job.name, (event.target as HTMLTextAreaElement).value));
  }

  /** Another job is looked at, not at the list it was chosen from; the list stays where none was opened. */
  private closeAfter(work: Promise<unknown>) {
    const { history } = this.desk.bench;
    void work.then(() => (this.desk.bench.history === history ? this.readJobs() : this.close()));
  }

  private refreshAfter(work: Promise<unknown>) {
    void work.then(() => this.readJobs());
  }
}
