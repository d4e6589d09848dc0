import { html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { pageStyles } from "../page-styles.ts";
import { applyCard } from "./apply-card.ts";
import { checkSection } from "./check-section.ts";
import { tableOfFit } from "./correctable.ts";
import { dynamicsSection } from "./dynamics-section.ts";
import { type EvidenceBench, evidenceBench } from "./evidence-bench.ts";
import { evidenceLeafStyles } from "./evidence-leaf.styles.ts";
import "./evidence-result.ts";
import { gatesCard } from "./gates-card.ts";
import { logsSection } from "./logs-section.ts";
import { rideSection } from "./ride-section.ts";
import { traceSection } from "./trace-section.ts";
import { counted } from "./words.ts";
import { WouldApplyOf } from "./would-apply.ts";

/** The place for logs and what they say of the table. */
@customElement("fw-evidence-leaf")
export class EvidenceLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles, evidenceLeafStyles];
  @property({ attribute: false }) desk!: Desk;
  @state() private over = false;
  @state() private traced: number | null = null;
  private readonly would = new WouldApplyOf();
  private stopListening = () => {};

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  private get bench(): EvidenceBench {
    return evidenceBench(this.desk);
  }

  override connectedCallback() {
    super.connectedCallback();
    this.stopListening = this.bench.listen(() => this.requestUpdate());
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    this.stopListening();
  }

  protected override render() {
    const { bench } = this;
    const { result } = bench.fit.correct;
    const fitted = result?.fits[bench.shown];
    const hasLogs = bench.logs.length > 0;
    return html`<div class="leaf ${this.over ? "over" : ""}"
      @dragover=${(event: DragEvent) => {
        event.preventDefault();
        this.over = true;
      }}
      @dragleave=${() => (this.over = false)} @drop=${this.onDrop}>
      <section class="board">
        ${logsSection(bench)}
        ${traceSection(bench, this.traced, (id) => (this.traced = id))}
        ${hasLogs ? this.work() : nothing}
        ${checkSection(bench)}
        ${this.second()}
        ${
          result && fitted
            ? html`${this.choice(result.fits.length)}
              <fw-evidence-result class="sheet" .bench=${bench} .table=${tableOfFit(this.desk, result.table, fitted.summary)} .fitted=${fitted}
                .key=${bench.manners}></fw-evidence-result>
              ${dynamicsSection(bench, fitted)}
              ${rideSection(fitted, () => this.print())}`
            : nothing
        }
      </section>
      <aside>
        ${fitted?.fit.report.warnings.map(({ code, text }) => (code === "simulated" ? nothing : html`<div class="warns">${text}</div>`)) ?? nothing}
        ${fitted?.fit.report.simulated ? html`<div class="warns"><strong>Simulated.</strong> The ride and its errors are made up: nothing here is of an engine.</div>` : nothing}
        ${applyCard(bench, this.would)}
        ${gatesCard(bench)}
      </aside>
    </div>`;
  }

  /** The second log in the same grid as the first. */
  private second() {
    const { bench } = this;
    const { result } = bench.fit.check;
    const after = result?.fits[0];
    if (!result || !after) return nothing;
    const table = tableOfFit(this.desk, result.table, after.summary);
    return html`<fw-evidence-result class="sheet" second .bench=${bench} .table=${table} .fitted=${after}
      .key=${bench.manners}></fw-evidence-result>`;
  }

  /** The fit under way, or why there is none. */
  private work() {
    const { running, progress, problem, result } = this.bench.fit.correct;
    if (running) {
      const words =
        progress?.of === "fit"
          ? {
              reading: `reading, ${counted(progress.done, "row")}`,
              searching: `looking for delay, lag and film, pass ${progress.done}`,
              fitting: `fitting the cells, pass ${progress.done}`,
            }[progress.phase]
          : "reading";
      return html`<div class="work" role="status"><progress aria-label="Fitting"></progress>
        <span class="quiet">${words}</span><button @click=${() => this.bench.cancel()}>Cancel</button></div>`;
    }
    if (problem)
      return html`<div class="warns" role="alert">${problem}
        <button class="word" @click=${() => this.bench.refit("correct")}>Fit again</button></div>`;
    const report = result?.fits[this.bench.shown]?.fit.report;
    return report
      ? html`<p class="quiet" role="status">Fitted from ${figure(report.used, 0)} of ${counted(report.readings, "reading")}.</p>`
      : nothing;
  }

  /** Which sensor's fit is shown, and whether each has one. */
  private choice(fits: number) {
    const { bench } = this;
    const sensors = Math.max(...bench.of("correct").map(({ reading }) => reading?.sensors.length ?? 0));
    if (sensors < 2) return nothing;
    return html`<div class="work">
      <label class="check"><input type="checkbox" .checked=${live(bench.apart)}
        @change=${(event: Event) => bench.setFit({ apart: (event.target as HTMLInputElement).checked })} />fit each of the ${sensors} sensors by itself</label>
      ${
        fits > 1
          ? html`<label>sensor <select @change=${(event: Event) => bench.put({ shown: (event.target as HTMLSelectElement).selectedIndex })}>
              ${Array.from({ length: fits }, (_, at) => html`<option .selected=${live(at === bench.shown)}>${bench.fit.correct.result!.fits[at]!.fit.report.sensors[0]}</option>`)}
            </select></label>`
          : nothing
      }</div>`;
  }

  private onDrop = (event: DragEvent) => {
    event.preventDefault();
    this.over = false;
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length) this.bench.addFiles(files, "correct");
  };

  /** The list alone goes to the printer. */
  private print() {
    this.setAttribute("printing", "ride");
    window.print();
    this.removeAttribute("printing");
  }
}
