import type { EvidenceFit, FuelTable } from "@fuelwright/table-core";
import { css, html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import "../../elements/change-legend/change-legend.ts";
import "../../elements/fuel-grid/fuel-grid.ts";
import { placeWords } from "../../elements/fuel-grid/cell-words.ts";
import type { CellHoverEvent, SelectionChangeEvent } from "../../elements/fuel-grid/grid-events.ts";
import { type GridSelection, oneCell } from "../../elements/fuel-grid/grid-selection.ts";
import { elementTokens } from "../../elements/tokens.ts";
import { axesDisplay } from "../../store/display.ts";
import type { FittedEvidence } from "../../workers/evidence-tasks.ts";
import { pageStyles } from "../page-styles.ts";
import { ColoursOf } from "../table/colours-of.ts";
import type { EvidenceBench } from "./evidence-bench.ts";
import {
  LEAST_READINGS,
  type ResultGrid,
  type ResultView,
  resultGrid,
  resultViews,
  supportMarks,
} from "./result-views.ts";
import { duration, percent, signed } from "./words.ts";
import { WouldApplyOf } from "./would-apply.ts";

/** What a fit says of each cell, in the grid and colours of every other table, with its deviation as a thin bar. */
@customElement("fw-evidence-result")
export class EvidenceResult extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      .line,
      .read {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 20px;
        align-items: baseline;
        margin-bottom: 10px;
        font-size: 13px;
      }
      h2 {
        font-size: 15px;
      }
      fw-change-legend {
        margin-left: auto;
        --fw-legend-bar: 110px;
      }
      .read {
        margin: 10px 0 0;
        gap: 4px 26px;
        min-height: 22px;
      }
      .read span {
        color: var(--ink-2);
      }
      .read b {
        font-weight: 600;
      }
    `,
  ];

  @property({ attribute: false }) bench!: EvidenceBench;
  @property({ attribute: false }) table!: FuelTable;
  @property({ attribute: false }) fitted!: FittedEvidence;
  /** Whether it is of the log that checks a correction. */
  @property({ type: Boolean }) second = false;
  @state() private view: ResultView = "correction";
  @state() private cell = 0;
  @state() private selection: GridSelection = oneCell({ row: 0, column: 0 });
  @state() private hovered: number | null = null;
  private readonly colours = new ColoursOf();
  private readonly would = new WouldApplyOf();
  private last: { key: readonly unknown[]; grid: ResultGrid } | null = null;

  /** A new fit is looked at where it knows most. */
  protected override willUpdate(changed: PropertyValues<this>) {
    if (!changed.has("fitted")) return;
    const { samples } = this.fitted.fit.coverage;
    this.cell = samples.indexOf(Math.max(...samples));
    const columns = this.table.rpm.breakpoints.length;
    this.selection = oneCell({ row: Math.floor(this.cell / columns), column: this.cell % columns });
  }

  protected override render() {
    const { bench, table, fitted } = this;
    const { desk } = bench;
    const { preferences } = desk;
    const { fit } = fitted;
    const grid = this.grid();
    const colours = this.colours.of(desk.job.scheme, grid.change);
    return html`
      <div class="line">
        <h2>What the ${this.second ? "second log" : "log"} says of ${table.name}</h2>
        <label class="quiet">showing <select @change=${(event: Event) => {
          this.view = resultViews[(event.target as HTMLSelectElement).selectedIndex]![0];
        }}>${resultViews.map(([view, words]) => html`<option .selected=${live(view === this.view)}>${words}</option>`)}</select></label>
        ${this.view === "readings" ? nothing : html`<fw-change-legend .colours=${colours} lessWords="less fuel" moreWords="more fuel"></fw-change-legend>`}
      </div>
      <fw-fuel-grid
        readonly
        .table=${grid.table}
        .change=${grid.change}
        .colours=${colours}
        .shading=${this.view === "readings" ? "value" : "change"}
        .marks=${supportMarks(fit)}
        .deviation=${grid.deviation}
        .display=${grid.display}
        .axes=${axesDisplay(table, preferences)}
        .selection=${this.selection}
        .flipRpm=${preferences.flipRpm}
        .flipLoad=${preferences.flipLoad}
        .density=${preferences.density}
        .zoom=${preferences.zoom}
        label=${`${grid.words}, ${table.name}${this.second ? ", second log" : ""}`}
        @fw-selection-change=${(event: SelectionChangeEvent) => {
          this.cell = event.focused;
          this.selection = event.selection;
        }}
        @fw-cell-hover=${(event: CellHoverEvent) => (this.hovered = event.at)}
      ></fw-fuel-grid>
      ${this.read(fit, this.hovered ?? this.cell)}
      <p class="quiet">A dot in the corner: the log speaks for the cell. A point instead of a figure: fewer than ${LEAST_READINGS} readings, the cell stays as it is. The bar
        along a cell's foot is its standard deviation, the longer the less sure.</p>`;
  }

  private grid(): ResultGrid {
    const { bench, table, fitted, view } = this;
    const report = view === "applied" ? this.would.of(bench.desk, table, fitted.summary, bench.manners).report : null;
    const key = [fitted, view, report];
    if (!this.last || key.some((part, at) => part !== this.last!.key[at]))
      this.last = { key, grid: resultGrid(fitted.fit, view, report) };
    return this.last.grid;
  }

  /** Everything about the cell at hand in one line. */
  private read({ corrections: { rpm, load, cells }, deviation, coverage }: EvidenceFit, at: number) {
    if (!(at >= 0 && at < cells.length)) return nothing;
    const place = placeWords(
      { table: { rpm, load }, axes: axesDisplay({ rpm, load }, this.bench.desk.preferences) },
      at,
    );
    const samples = coverage.samples[at]!;
    return html`<div class="read" aria-label="Cell at hand">
      <div><span>cell</span> <b>${place}</b></div>
      <div><span>readings</span> <b>${Math.round(samples).toLocaleString("en")}</b>, ${duration(coverage.seconds[at]!)}</div>
      ${
        samples >= LEAST_READINGS
          ? html`<div><span>fuel</span> <b>${signed(cells[at]! - 1)}</b> ± ${percent(deviation[at]!, deviation[at]! < 0.001 ? 2 : 1)}</div>
              <div><span>left after it</span> <b>${signed(coverage.residual[at]!)}</b>, scatter ${percent(coverage.spread[at]!)}</div>`
          : html`<div>too few readings to say anything</div>`
      }
    </div>`;
  }
}
