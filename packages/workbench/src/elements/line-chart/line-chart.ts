import { html, LitElement, nothing, svg, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { elementTokens } from "../tokens.ts";
import { chartPath } from "./chart-path.ts";
import { type AxisScale, axisScale } from "./chart-scale.ts";
import {
  type ChartAxis,
  type ChartMark,
  type ChartRange,
  type ChartRule,
  type ChartSeries,
  coordinates,
  lookOf,
  valueAt,
} from "./chart-series.ts";
import { chartSentence, tablePlaces } from "./chart-words.ts";
import { lineChartStyles } from "./line-chart.styles.ts";

export type { ChartAxis, ChartMark, ChartRange, ChartRule, ChartSeries, SeriesLook } from "./chart-series.ts";

/** Around the plot, in px: figures stand left of it and below. */
const MARGIN = { top: 10, right: 14, bottom: 20 };

/** Width of one figure, in px. */
const FIGURE = 6.2;

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
    const { label, series, mark } = this;
    const { x, y } = this.scales();
    this.scale = x;
    const unit = this.y.unit ? `, ${this.y.unit}` : "";
    return html`<figure>
      <figcaption>
        <span class="name">${label}${label === this.y.label || !this.y.label ? html`<span>${unit}</span>` : html` <span>${this.y.label}${unit}</span>`}</span>
        ${series.length > 1 ? series.map((line, at) => this.key(line, at)) : nothing}
      </figcaption>
      <div class="plot ${this.choosable ? "choosable" : ""}" part="plot"
        @pointerdown=${this.press} @pointermove=${this.drag}>
        ${
          this.size.width > 0
            ? html`<svg role="img" aria-label=${chartSentence(label, { x: this.x, y: this.y }, { x, y }, series, mark)}>
                ${this.hatches(x, y)} ${this.axes(x, y)}
                ${series.map((line, at) => this.line(line, at, x, y))}
                ${this.marking(x, y)}
              </svg>`
            : nothing
        }
      </div>
      ${this.noTable ? nothing : this.figures(x, y)}
    </figure>`;
  }

  private scales() {
    const { size, gutter, series, mark } = this;
    const bottom = this.noXFigures ? 6 : MARGIN.bottom;
    const right = Math.max(gutter + 10, size.width - MARGIN.right);
    const floor = Math.max(MARGIN.top + 10, size.height - bottom);
    const along = function* (side: "x" | "y", extra: readonly number[]) {
      for (const line of series) {
        const values = coordinates(line)[side];
        for (let at = 0; at < values.length; at++) yield values[at]!;
      }
      yield* extra;
    };
    const rulesOf = (side: "x" | "y") => this.rules.filter(({ axis }) => axis === side).map(({ at }) => at);
    return {
      x: axisScale(this.x, along("x", [...rulesOf("x"), ...(mark ? [mark.x] : [])]), [gutter, right], "x"),
      y: axisScale(this.y, along("y", rulesOf("y")), [floor, MARGIN.top], "y"),
    };
  }

  private key(line: ChartSeries, at: number) {
    const look = lookOf(line, at);
    return html`<span class="key"><svg viewBox="0 0 22 8" aria-hidden="true">
        ${look === "dots" ? svg`<path class="look dots ${line.tint ?? ""}" d="M4,4h0M11,4h0M18,4h0" />` : svg`<path class="look ${look} ${line.tint ?? ""}" d="M1,4H21" />`}
      </svg>${line.name}</span>`;
  }

  private axes(x: AxisScale, y: AxisScale) {
    const [left, right] = x.place.range() as [number, number];
    const [floor] = y.place.range() as [number, number];
    const unit = [this.x.label, this.x.unit].filter(Boolean).join(", ");
    // The axis' name stands at the end of its figures; those that would touch it are left out.
    const free = right - (unit ? FIGURE * unit.length + 8 : -MARGIN.right);
    const figures = this.noXFigures
      ? []
      : x.ticks.filter((tick) => x.place(tick) + (FIGURE / 2) * x.say(tick).length < free);
    return svg`
      ${y.ticks.map(
        (tick) => svg`<line class="grid" x1=${left} x2=${right} y1=${y.place(tick)} y2=${y.place(tick)} />
        <text x=${left - 7} y=${y.place(tick)} dy="0.34em" text-anchor="end">${y.say(tick)}</text>`,
      )}
      <line class="axis" x1=${left} x2=${right} y1=${floor} y2=${floor} />
      ${x.ticks.map((tick) => svg`<line class="axis" x1=${x.place(tick)} x2=${x.place(tick)} y1=${floor} y2=${floor + 4} />`)}
      ${figures.map((tick) => svg`<text x=${x.place(tick)} y=${floor + 15} text-anchor="middle">${x.say(tick)}</text>`)}
      ${this.noXFigures ? nothing : svg`<text x=${right} y=${floor + 15} text-anchor="end">${unit}</text>`}
      ${this.rules.map(({ axis, at, label }) => {
        const px = (axis === "x" ? x : y).place(at);
        return axis === "x"
          ? svg`<line class="rule" x1=${px} x2=${px} y1=${MARGIN.top} y2=${floor} /><text class="say" x=${px + 4} y=${MARGIN.top + 8}>${label}</text>`
          : svg`<line class="rule" x1=${left} x2=${right} y1=${px} y2=${px} /><text class="say" x=${left + 4} y=${px - 4}>${label}</text>`;
      })}`;
  }

  private hatches(x: AxisScale, y: AxisScale) {
    if (this.ranges.length === 0) return nothing;
    const inside = (scale: AxisScale, value: number) => {
      const [a, b] = scale.place.range() as [number, number];
      return Math.min(Math.max(a, b), Math.max(Math.min(a, b), scale.place(value)));
    };
    const [left, right] = x.place.range() as [number, number];
    const [floor, top] = y.place.range() as [number, number];
    return svg`<defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="hatch" y2="6" /></pattern></defs>
      ${this.ranges.map(({ axis, from, to, label }) => {
        const scale = axis === "x" ? x : y;
        const ends = [inside(scale, from), inside(scale, to)].sort((a, b) => a - b) as [number, number];
        if (ends[1] - ends[0] < 0.5) return nothing;
        const [x1, x2, y1, y2] = axis === "x" ? [...ends, top, floor] : [left, right, ...ends];
        return svg`<rect fill="url(#hatch)" x=${x1} width=${x2 - x1} y=${y1} height=${y2 - y1} />
          <text class="say" x=${x2 - 4} y=${y1 + 12} text-anchor="end">${label}</text>`;
      })}`;
  }

  private line(line: ChartSeries, at: number, x: AxisScale, y: AxisScale) {
    const points = coordinates(line);
    const look = lookOf(line, at);
    const px = (i: number) => x.place(points.x[i]!);
    const py = (i: number) => y.place(points.y[i]!);
    let path: string;
    if (look === "dots") {
      path = "";
      for (let i = 0; i < points.x.length; i++)
        if (Number.isFinite(px(i) + py(i))) path += `M${px(i).toFixed(1)},${py(i).toFixed(1)}h0`;
    } else path = chartPath(points.x.length, px, py, line.steps);
    return svg`<path class="look ${look} ${line.tint ?? ""}" d=${path} />`;
  }

  private marking(x: AxisScale, y: AxisScale) {
    const { mark } = this;
    if (!mark || !Number.isFinite(x.place(mark.x))) return nothing;
    const [left, right] = x.place.range() as [number, number];
    const [floor] = y.place.range() as [number, number];
    const px = x.place(mark.x);
    if (px < left - 0.5 || px > right + 0.5) return nothing;
    const after = px < (left + right) / 2;
    return svg`<line class="mark" x1=${px} x2=${px} y1=${MARGIN.top - 4} y2=${floor} />
      ${this.series.map((line) => {
        const py = y.place(valueAt(line, mark.x));
        return Number.isFinite(py) ? svg`<circle class="dot" cx=${px} cy=${py} r="4" />` : nothing;
      })}
      ${mark.text ? svg`<text class="say" x=${px + (after ? 6 : -6)} y=${MARGIN.top + 4} text-anchor=${after ? "start" : "end"}>${mark.text}</text>` : nothing}`;
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
    const { place } = this.scale;
    const [left, right] = place.range() as [number, number];
    const px = Math.min(right, Math.max(left, event.clientX - this.plot.getBoundingClientRect().left));
    this.dispatchEvent(new ChartChooseEvent(place.invert(px)));
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
