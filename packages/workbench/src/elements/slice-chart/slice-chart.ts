import {
  drawSliceStrip,
  type FuelTable,
  figureText,
  type PictureNode,
  sameAxis,
  sayCut,
  saySlice,
  sliceCells,
} from "@fuelwright/table-core";
import { html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { drawNodes } from "../draw-nodes.ts";
import { type AxesDisplay, type CellDisplay, ownDisplay } from "../fuel-grid/cell-display.ts";
import { elementTokens } from "../tokens.ts";
import { sliceChartStyles } from "./slice-chart.styles.ts";

const inks = { axis: "var(--rule-2)", before: "var(--ink-2)", after: "var(--ink)", paper: "var(--sheet)" };

/**
 * One row or column of a table through the chosen cell: now as a line, earlier as a dashed one, the cell as a dot.
 *
 * It divides its own length evenly among the cells, so that in the slots of `fw-fuel-grid` (`along="rpm"` in `under`,
 * `along="load"` in `beside`) each point lies in line with its column or row. To be read, not worked with.
 */
@customElement("fw-slice-chart")
export class SliceChart extends LitElement {
  static override styles = [elementTokens, sliceChartStyles];

  /** The table that is cut; null: nothing is drawn. */
  @property({ attribute: false }) table: FuelTable | null = null;
  /** What it was, for the dashed line; left out with other axes. */
  @property({ attribute: false }) earlier: FuelTable | null = null;
  /** `rpm`: along the chosen row, to lie under a grid. `load`: along the chosen column, to stand beside it. */
  @property({ reflect: true }) along: "rpm" | "load" = "rpm";
  /** The chosen cell, row-major [load][rpm]. */
  @property({ type: Number }) cell = 0;
  /** How values are shown; null: in the table's own unit. */
  @property({ attribute: false }) display: CellDisplay | null = null;
  /** How breakpoints are shown; null: in the axes' own units. */
  @property({ attribute: false }) axes: AxesDisplay | null = null;
  /** Runs the other way: rpm from the right, or load from the top. */
  @property({ type: Boolean, reflect: true }) flip = false;
  /** Middle of each cell along the chart in px from its start on the screen; null: evenly divided. */
  @property({ attribute: false }) positions: readonly number[] | null = null;

  /** What is drawn once the element's own markup is there. */
  private strip: readonly PictureNode[] | null = null;
  @state() private size = { width: 0, height: 0 };
  private readonly resizing = new ResizeObserver(([entry]) => {
    const { width, height } = entry!.contentRect;
    if (width !== this.size.width || height !== this.size.height) this.size = { width, height };
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.resizing.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resizing.disconnect();
  }

  protected override render() {
    this.strip = null;
    const { table, size } = this;
    if (!table || !(this.cell >= 0 && this.cell < table.cells.length)) return nothing;
    const { along, cell, axes } = this;
    const display = this.display ?? ownDisplay(table.quantity);
    const { earlier } = this;
    const kept = earlier && sameAxis(earlier.rpm, table.rpm) && sameAxis(earlier.load, table.load) ? earlier : null;
    const cells = sliceCells(table, along, cell);
    const valuesOf = (from: FuelTable) => cells.map((at) => from.cells[at]!);
    const now = valuesOf(table);
    const was = kept && valuesOf(kept);
    const shownNow = now.map(display.show);
    const shownWas = was?.map(display.show) ?? null;
    const changed = shownWas?.some((value, at) => value !== shownNow[at]) ?? false;
    const { nodes, scale } = drawSliceStrip(
      {
        now: shownNow,
        was: shownWas,
        chosen: cells.indexOf(cell),
        along,
        middles: this.middles(cells.length),
        ...size,
      },
      inks,
    );
    this.strip = nodes;
    // The scale is in the shown unit already.
    const say = (value: number) => figureText(value, { ...display, show: (shown) => shown });
    const said = { table, along, cell, now, was: changed ? was : null, shown: display, axes: axes ?? {} };
    return html`
      <div class="frame"><span class="words" aria-hidden="true">${sayCut(said)}${along === "load" ? html`<br />` : ", "}${say(scale.low)} to ${say(scale.high)}</span></div>
      ${size.width > 0 ? html`<svg role="img" aria-label=${saySlice(said)}></svg>` : nothing}
    `;
  }

  protected override updated(): void {
    const svg = this.renderRoot.querySelector("svg");
    if (svg && this.strip) drawNodes(svg, this.strip);
  }

  /** Where the cells' middles lie along the chart, in order of the slice's axis. */
  private middles(count: number): number[] {
    // Load runs upward, so the first value of a column is the last on the screen.
    const forward = (this.along === "rpm") !== this.flip;
    const length = this.along === "rpm" ? this.size.width : this.size.height;
    return Array.from({ length: count }, (_, at) => {
      const place = forward ? at : count - 1 - at;
      if (this.positions) return this.positions[place] ?? Number.NaN;
      return ((place + 0.5) / count) * length;
    });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-slice-chart": SliceChart;
  }
}
