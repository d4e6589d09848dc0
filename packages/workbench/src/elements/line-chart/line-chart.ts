import {
  type AxisScale,
  type Chart,
  type ChartAxis,
  type ChartField,
  type ChartMark,
  type ChartRange,
  type ChartRule,
  type ChartSeries,
  chartScales,
  drawChart,
  type Inks,
  type PictureNode,
  sayChart,
  strokeSample,
  tablePlaces,
  valueAt,
} from "@fuelwright/table-core";
import { html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { drawNodes } from "../draw-nodes.ts";
import { elementInks } from "../element-inks.ts";
import { elementTokens } from "../tokens.ts";
import { lineChartStyles } from "./line-chart.styles.ts";

export type { ChartAxis, ChartMark, ChartRange, ChartRule, ChartSeries, SeriesLook } from "@fuelwright/table-core";

/** Around the plot, in px: figures stand left of it and below. */
const MARGIN = { top: 10, right: 14, bottom: 20 };

const inks: Inks = { ...elementInks, paper: "var(--fw-chart-ground, var(--sheet))" };

/** Tells which value of the x axis was pointed at. */
export class ChartChooseEvent extends Event {
  constructor(
    /** In the axis' unit. */
    readonly x: number,
  ) {
    super("fw-chart-choose", { bubbles: true, composed: true });
  }
}

/**
 * Lines over an axis, told apart by their strokes, with a marked point, hatched ranges and rules.
 *
 * The same as a sentence to a screen reader, and as a table that opens under it. Charts of one `gutter` and width, one above
 * the other, lie in line.
 *
 * @example html`<fw-line-chart label="Duty" .x=${{ label: "Engine speed", unit: "rpm" }} .y=${{ label: "Duty", unit: "%" }}
 *   .series=${[{ name: "now", points: [[1000, 12], [6000, 81]] }]} .mark=${{ x: 3500 }}></fw-line-chart>`
 * @event {ChartChooseEvent} fw-chart-choose - With `choosable`: pressed or dragged at `x`, in the axis' own unit.
 * @cssproperty --fw-chart-height - Height of the plot with its axis.
 * @cssproperty --fw-chart-ground - What the chart stands on, for the rim around words and dots; the sheet if not said.
 * @csspart plot - The plot.
 */
@customElement("fw-line-chart")
export class LineChart extends LitElement {
  static override styles = [elementTokens, lineChartStyles];

  /** What the chart shows; stands over it and begins its sentence. */
  @property() label = "";
  /** The lines, in the order of their looks: solid, dashed, dotted, thin. */
  @property({ attribute: false }) series: readonly ChartSeries[] = [];
  /** The axis across. */
  @property({ attribute: false }) x: ChartAxis = { label: "" };
  /** The axis upward. */
  @property({ attribute: false }) y: ChartAxis = { label: "" };
  /** The chosen point; null: none. */
  @property({ attribute: false }) mark: ChartMark | null = null;
  /** Stretches that are hatched. */
  @property({ attribute: false }) ranges: readonly ChartRange[] = [];
  /** Thin lines across. */
  @property({ attribute: false }) rules: readonly ChartRule[] = [];
  /** Pressing or dragging on the plot chooses a value. The page gives keyboards the same by a slider or a field. */
  @property({ type: Boolean }) choosable = false;
  /** Room left of the plot for the figures of the y axis, in px. */
  @property({ type: Number }) gutter = 46;
  /** Leaves out the table under the chart, where the page shows the figures otherwise. */
  @property({ type: Boolean, attribute: "no-table" }) noTable = false;
  /** Leaves out the figures of the x axis, where another chart stands right under this one. */
  @property({ type: Boolean, attribute: "no-x-figures" }) noXFigures = false;

  @state() private size = { width: 0, height: 0 };
  @state() private tableOpen = false;
  @query(".plot") private plot!: HTMLElement;
  private readonly resizing = new ResizeObserver(([entry]) => {
    const { width, height } = entry!.contentRect;
    if (width !== this.size.width || height !== this.size.height) this.size = { width, height };
  });
  private scale: AxisScale | null = null;
  /** What is drawn once the element's own markup is there. */
  private nodes: readonly PictureNode[] = [];

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.resizing.observe(this.plot);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resizing.disconnect();
  }

  protected override firstUpdated(): void {
    this.resizing.observe(this.plot);
  }

  protected override render() {
    const { label, series, size } = this;
    const chart = this.chart();
    const field = this.field();
    const scales = chartScales(chart, field);
    this.scale = scales.x;
    this.nodes = drawChart(chart, scales, field, inks);
    const unit = this.y.unit ? `, ${this.y.unit}` : "";
    return html`<figure>
      <figcaption>
        <span class="name">${label}${label === this.y.label || !this.y.label ? html`<span>${unit}</span>` : html` <span>${this.y.label}${unit}</span>`}</span>
        ${series.length > 1 ? series.map((line) => html`<span class="key"><svg viewBox="0 0 22 8" aria-hidden="true"></svg>${line.name}</span>`) : nothing}
      </figcaption>
      <div class="plot ${this.choosable ? "choosable" : ""}" part="plot"
        @pointerdown=${this.press} @pointermove=${this.drag}>
        ${size.width > 0 ? html`<svg role="img" aria-label=${sayChart(chart, scales)}></svg>` : nothing}
      </div>
      ${this.noTable ? nothing : this.figures(scales.x, scales.y)}
    </figure>`;
  }

  protected override updated(): void {
    const svg = this.plot.querySelector("svg");
    if (svg) drawNodes(svg, this.nodes);
    this.renderRoot.querySelectorAll(".key svg").forEach((key, at) => {
      drawNodes(key, strokeSample(this.series[at]!, at, inks)(0, 4));
    });
  }

  private chart(): Chart {
    const { label, x, y, series, mark, ranges, rules } = this;
    return { label, x, y, series, mark, ranges, rules };
  }

  private field(): ChartField {
    const { size, gutter, noXFigures } = this;
    return {
      left: gutter,
      right: Math.max(gutter + 10, size.width - MARGIN.right),
      top: MARGIN.top,
      bottom: Math.max(MARGIN.top + 10, size.height - (noXFigures ? 6 : MARGIN.bottom)),
      xFigures: !noXFigures,
    };
  }

  /** What is drawn, as a table; made when it is opened. */
  private figures(x: AxisScale, y: AxisScale): TemplateResult {
    const head = (axis: ChartAxis) => [axis.label, axis.unit].filter(Boolean).join(", ");
    return html`<details @toggle=${(event: Event) => {
      this.tableOpen = (event.target as HTMLDetailsElement).open;
    }}><summary>As a table</summary>
      ${
        this.tableOpen
          ? html`<div class="scroll" tabindex="0" role="region" aria-label="${this.label || this.y.label}, figures"><table>
              <thead><tr><th scope="col">${head(this.x)}</th>${this.series.map(
                ({ name }) =>
                  html`<th scope="col">${this.series.length > 1 ? `${name}${this.y.unit ? `, ${this.y.unit}` : ""}` : head(this.y)}</th>`,
              )}</tr></thead>
              <tbody>${tablePlaces(x, this.series, this.mark).map(
                (place) => html`<tr aria-current=${place === this.mark?.x ? "true" : nothing}>
                  <td>${x.sayFinely(place)}</td>
                  ${this.series.map((line) => {
                    const value = valueAt(line, place);
                    return html`<td>${Number.isFinite(value) ? y.sayFinely(value) : "–"}</td>`;
                  })}</tr>`,
              )}</tbody></table></div>`
          : nothing
      }</details>`;
  }

  private press(event: PointerEvent): void {
    if (!this.choosable || event.button !== 0) return;
    this.plot.setPointerCapture(event.pointerId);
    this.choose(event);
  }

  private drag(event: PointerEvent): void {
    if (this.choosable && this.plot.hasPointerCapture(event.pointerId)) this.choose(event);
  }

  private choose(event: PointerEvent): void {
    if (!this.scale) return;
    const [left, right] = this.scale.range;
    const px = Math.min(right, Math.max(left, event.clientX - this.plot.getBoundingClientRect().left));
    this.dispatchEvent(new ChartChooseEvent(this.scale.valueAt(px)));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-line-chart": LineChart;
  }
  interface HTMLElementEventMap {
    "fw-chart-choose": ChartChooseEvent;
  }
}
