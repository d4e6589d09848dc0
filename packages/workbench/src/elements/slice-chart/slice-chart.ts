import { axisQuantities, cellQuantities, type FuelTable, sameAxis } from "@fuelwright/table-core";
import { html, LitElement, nothing, svg } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import {
  type AxesDisplay,
  breakpointWords,
  type CellDisplay,
  figureOf,
  ownDisplay,
} from "../fuel-grid/cell-display.ts";
import { elementTokens } from "../tokens.ts";
import { sliceChartStyles } from "./slice-chart.styles.ts";
import { slicePath, sliceScale } from "./slice-path.ts";

/** Between the plot and the sides across it, in px; the far side holds the words. */
const MARGIN = { base: 7.5, far: 20 };

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
    const { table, size } = this;
    if (!table || !(this.cell >= 0 && this.cell < table.cells.length)) return nothing;
    const display = this.display ?? ownDisplay(table.quantity);
    const { earlier } = this;
    const kept = earlier && sameAxis(earlier.rpm, table.rpm) && sameAxis(earlier.load, table.load) ? earlier : null;
    const now = this.slice(table, display);
    const was = kept && this.slice(kept, display);
    const changed = was?.some((value, at) => value !== now[at]) ?? false;
    const scale = sliceScale(was ? [...now, ...was] : now);
    const upright = this.along === "load";
    const far = upright ? 10 : MARGIN.far;
    const place = (value: number, at: number): [number, number] => {
      const across = scale.share(value);
      const along = this.middle(at, now.length);
      return upright
        ? [MARGIN.base + 3 + across * (size.width - MARGIN.base - 3 - far), along]
        : [along, size.height - MARGIN.base - 3 - across * (size.height - MARGIN.base - 3 - far)];
    };
    const chosen = this.chosen(table);
    const [x, y] = place(now[chosen]!, chosen);
    const range = `${figureOf(ownFigures(display), scale.low)} to ${figureOf(ownFigures(display), scale.high)}`;
    return html`
      <div class="frame"><span class="words" aria-hidden="true">${this.where(table)}${upright ? html`<br />` : ", "}${range}</span></div>
      ${
        size.width > 0
          ? html`<svg role="img" aria-label=${this.sentence(table, display, now, was, changed)}>
              ${
                upright
                  ? svg`<line class="axis" x1=${MARGIN.base} x2=${MARGIN.base} y1="0" y2=${size.height} />`
                  : svg`<line class="axis" x1="0" x2=${size.width} y1=${size.height - MARGIN.base} y2=${size.height - MARGIN.base} />`
              }
              ${changed ? svg`<path class="was" d=${slicePath(was!.map(place))} />` : nothing}
              <path class="now" d=${slicePath(now.map(place))} />
              ${Number.isFinite(x + y) ? svg`<circle class="dot" cx=${x} cy=${y} r="3.5" />` : nothing}
            </svg>`
          : nothing
      }
    `;
  }

  /** The shown values of the chosen row, or of the chosen column. */
  private slice(table: FuelTable, display: CellDisplay): number[] {
    const columns = table.rpm.breakpoints.length;
    if (this.along === "rpm") {
      const from = Math.floor(this.cell / columns) * columns;
      return Array.from(table.cells.subarray(from, from + columns), display.show);
    }
    return table.load.breakpoints.map((_, row) => display.show(table.cells[row * columns + (this.cell % columns)]!));
  }

  /** The chosen cell's index in its slice. */
  private chosen(table: FuelTable): number {
    const columns = table.rpm.breakpoints.length;
    return this.along === "rpm" ? this.cell % columns : Math.floor(this.cell / columns);
  }

  private middle(at: number, count: number): number {
    // Load runs upward, so the first value of a column is the last on the screen.
    const forward = (this.along === "rpm") !== this.flip;
    const place = forward ? at : count - 1 - at;
    if (this.positions) return this.positions[place] ?? Number.NaN;
    return ((place + 0.5) / count) * (this.along === "rpm" ? this.size.width : this.size.height);
  }

  /** "at 70 kPa", "at 3,500 rpm". */
  private where(table: FuelTable): string {
    const columns = table.rpm.breakpoints.length;
    if (this.along === "load") return `at ${breakpointWords(table.rpm, this.cell % columns, this.axes?.rpm)}`;
    if (table.load.quantity === "single-row") return table.name;
    return `at ${breakpointWords(table.load, Math.floor(this.cell / columns), this.axes?.load)}`;
  }

  /** The chart in a sentence, for those who do not see it. */
  private sentence(
    table: FuelTable,
    display: CellDisplay,
    now: readonly number[],
    was: readonly number[] | null,
    changed: boolean,
  ): string {
    const axis = this.along === "rpm" ? table.rpm : table.load;
    const say = (value: number) => figureOf(ownFigures(display), value);
    const unit = display.unit && ` ${display.unit}`;
    const range = (values: readonly number[]) => `${say(Math.min(...values))} to ${say(Math.max(...values))}${unit}`;
    const here = this.chosen(table);
    const at = breakpointWords(axis, here, this.axes?.[this.along]);
    return (
      `${cellQuantities[table.quantity].label} over ${axisQuantities[axis.quantity].label}, ${this.where(table)}: ` +
      `${range(now)}; at ${at} ${say(now[here]!)}${unit}` +
      (changed ? `; before ${range(was!)}, at ${at} ${say(was![here]!)}${unit}` : "")
    );
  }
}

/** The same decimals for values that are in the shown unit already. */
const ownFigures = (display: CellDisplay): CellDisplay => ({ ...display, show: (value) => value });

declare global {
  interface HTMLElementTagNameMap {
    "fw-slice-chart": SliceChart;
  }
}
