import { html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import { STARTING_INJECTORS } from "../../store/demo-job.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { pageStyles } from "../page-styles.ts";
import { Asking } from "./asked.ts";
import { askedChoices } from "./asked-choices.ts";
import { BuildEditor } from "./build-editor.ts";
import { leafStyles } from "./build-leaf.styles.ts";
import { buildStyles } from "./build-tools.styles.ts";
import type { BuildContext } from "./context.ts";
import { demandCharts } from "./demand-charts.ts";
import { intakeCompare } from "./intake-compare.ts";
import { leanWarning } from "./lean-warning.ts";
import { onDemand } from "./on-demand.ts";
import { OpenParts } from "./open-parts.ts";
import { partRow } from "./part-row.ts";
import { partRows } from "./part-rows.ts";
import { stageTable } from "./stage-table.ts";
import { stagesSheet } from "./stages.ts";
import "./dyno-correction.ts";
import "./place-compare.ts";
import "./wish.ts";

/** The parts list with the verdict beside each part, and what helps to choose parts: charts, sizes, stages, places. */
@customElement("fw-build-leaf")
export class BuildLeaf extends LitElement {
  static override styles = [elementTokens, pageStyles, buildStyles, leafStyles];

  @property({ attribute: false }) desk!: Desk;
  /** Which set of parts the intake is compared with. */
  @state() private candidate = 0;
  /** The stage whose fields are shown. */
  @state() private stage: number | null = null;
  private readonly asking = new Asking();
  private readonly editor = new BuildEditor(this, () => this.desk);

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const { desk, editor, asking } = this;
    editor.begin();
    const context: BuildContext = { desk, editor, asked: asking.at(desk) };
    const opened = OpenParts.of(desk);
    const redraw = () => this.requestUpdate();
    return html`
      ${leanWarning(context)}
      <div class="top">
        <div class="sheet">
          ${
            editor.build.injectors.name === STARTING_INJECTORS
              ? html`<div class="warns">These figures are a starting point, not your engine's. Go through each of them before you trust a table.</div>`
              : nothing
          }
          ${askedChoices(context, asking, redraw)}
          ${partRows(context).map((row) =>
            partRow(row, opened.has(row.id), () => {
              opened.toggle(row.id);
              redraw();
            }),
          )}
        </div>
        ${demandCharts(context)}
      </div>
      ${stagesSheet(
        context,
        this.stage,
        (at) => (this.stage = at),
        () => onDemand(context.asked, "stages", redraw, () => stageTable(context)),
      )}
      <div class="tools">
        <section class="sheet" aria-label="Throttle body against manifold"><h2>Throttle body against manifold</h2>
          ${intakeCompare(context, this.candidate, (at) => (this.candidate = at))}</section>
        <section class="sheet" aria-label="What would it take"><h2>What would it take</h2>
          <fw-wish .desk=${desk} .asked=${context.asked}></fw-wish></section>
        <section class="sheet" aria-label="Altitude and weather"><h2>Altitude and weather</h2>
          <p class="quiet">The same job elsewhere: on a pass, on a hot day.</p>
          ${onDemand(context.asked, "places", redraw, () => html`<fw-place-compare .desk=${desk} .asked=${context.asked}></fw-place-compare>`)}</section>
        <section class="sheet" aria-label="Dyno power corrected"><h2>Dyno power corrected</h2>
          <fw-dyno-correction .desk=${desk}></fw-dyno-correction></section>
      </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-build-leaf": BuildLeaf;
  }
}
