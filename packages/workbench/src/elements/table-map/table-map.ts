import { type FuelTable, sayTableMap } from "@fuelwright/table-core";
import { css, html, LitElement, type PropertyValues } from "lit";
import { customElement, property, query } from "lit/decorators.js";
import { cellChange } from "../fuel-grid/cell-change.ts";
import type { CellColours } from "../fuel-grid/cell-colours.ts";
import { type Shading, shadeCells } from "../fuel-grid/cell-shade.ts";
import type { ViewedPart } from "../fuel-grid/grid-events.ts";
import { GridLayout } from "../fuel-grid/grid-layout.ts";
import { PagePalette } from "../fuel-grid/page-palette.ts";
import { paintTints } from "../fuel-grid/tint-canvas.ts";
import { elementTokens } from "../tokens.ts";

/** The user pointed at a place of the map, as shares 0..1 of its width and height from the top left. */
export class MapPointEvent extends Event {
  static readonly type = "fw-map-point";
  constructor(
    /** From the left. */
    readonly x: number,
    /** From the top. */
    readonly y: number,
  ) {
    super(MapPointEvent.type, { bubbles: true, composed: true });
  }
}

/**
 * A small picture of a whole table, one pixel a cell, with a frame around the part that a scrolled grid shows.
 *
 * @fires {MapPointEvent} fw-map-point - The user pressed or dragged on the map; give it to the grid's `revealShare`.
 */
@customElement("fw-table-map")
export class TableMap extends LitElement {
  static override styles = [
    elementTokens,
    css`
      :host {
        display: block;
        position: relative;
        width: 118px;
        height: 84px;
        border: var(--line) solid var(--rule-2);
        background: var(--sheet);
        cursor: crosshair;
        touch-action: none;
      }
      :host([hidden]) {
        display: none;
      }
      canvas {
        display: block;
        width: 100%;
        height: 100%;
        image-rendering: pixelated;
      }
      .part {
        position: absolute;
        box-sizing: border-box;
        border: var(--line-2) solid var(--focus);
        outline: var(--line) solid var(--sheet);
        pointer-events: none;
      }
      .probe {
        position: absolute;
        visibility: hidden;
        color: var(--ink);
        background-color: var(--sheet);
        border-left: 0 solid var(--less);
        border-right: 0 solid var(--more);
      }
    `,
  ];

  /** What is shown; null: nothing. */
  @property({ attribute: false }) table: FuelTable | null = null;
  /** What change is measured against. */
  @property({ attribute: false }) earlier: FuelTable | null = null;
  /** Change of each cell in percent, where the host measures it otherwise; null: measured against `earlier`. */
  @property({ attribute: false }) change: Float64Array | null = null;
  /** Colours of change; null: the built-in ones. */
  @property({ attribute: false }) colours: CellColours | null = null;
  /** What the tints say, as in the grid: the change, the value, or nothing. */
  @property() shading: Shading = "change";
  /** Rpm from right to left. */
  @property({ type: Boolean, attribute: "flip-rpm" }) flipRpm = false;
  /** Load from top to bottom. */
  @property({ type: Boolean, attribute: "flip-load" }) flipLoad = false;
  /** The part in view, as `fw-viewed-part` tells it; no frame while null or all of the table. */
  @property({ attribute: false }) viewed: ViewedPart | null = null;

  @query("canvas") private canvas!: HTMLCanvasElement;
  @query(".probe") private probe!: HTMLElement;
  private readonly palette = new PagePalette(() => this.requestUpdate());

  override connectedCallback(): void {
    super.connectedCallback();
    this.palette.connect();
    this.addEventListener("pointerdown", this.point);
    this.addEventListener("pointermove", this.point);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.palette.disconnect();
    this.removeEventListener("pointerdown", this.point);
    this.removeEventListener("pointermove", this.point);
  }

  protected override render() {
    const { table } = this;
    const { left, top, right, bottom } = this.viewed ?? { left: 0, top: 0, right: 1, bottom: 1 };
    const all = left <= 0 && top <= 0 && right >= 1 && bottom >= 1;
    const frame = `left:${left * 100}%;top:${top * 100}%;width:${(right - left) * 100}%;height:${(bottom - top) * 100}%`;
    return html`<canvas role="img" aria-label=${table ? sayTableMap(table, this.changeOf(table)) : "No table"}></canvas>
      <div class="part" ?hidden=${all} style=${frame}></div>
      <span class="probe"></span>`;
  }

  protected override updated(changed: PropertyValues<this>): void {
    const { table } = this;
    this.canvas.hidden = table === null;
    if (!table || (changed.size === 1 && changed.has("viewed"))) return;
    const change = this.changeOf(table);
    const layout = new GridLayout(
      table.rpm.breakpoints.length,
      table.load.breakpoints.length,
      this.flipRpm,
      this.flipLoad,
      1,
      1,
    );
    const shade = shadeCells(table, change, this.shading, this.colours, this.palette.read(this.probe));
    paintTints(this.canvas, { layout, shade });
  }

  private changeOf(table: FuelTable): Float64Array | null {
    return this.change?.length === table.cells.length ? this.change : cellChange(table, this.earlier);
  }

  private readonly point = (event: PointerEvent) => {
    if (event.type === "pointermove" && event.buttons !== 1) return;
    if (event.type === "pointerdown") this.setPointerCapture(event.pointerId);
    const box = this.getBoundingClientRect();
    const share = (at: number, from: number, size: number) => Math.min(1, Math.max(0, (at - from) / size));
    this.dispatchEvent(
      new MapPointEvent(share(event.clientX, box.left, box.width), share(event.clientY, box.top, box.height)),
    );
  };
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-table-map": TableMap;
  }
  interface HTMLElementEventMap {
    "fw-map-point": MapPointEvent;
  }
}
