import type { FuelTable, Region } from "@fuelwright/table-core";
import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { elementTokens } from "../tokens.ts";
import { cellChange } from "./cell-change.ts";
import type { CellColours } from "./cell-colours.ts";
import {
  type AxesDisplay,
  type AxisDisplay,
  breakpointTexts,
  type CellDisplay,
  exactFigure,
  ownDisplay,
  sameAxes,
  sameDisplay,
} from "./cell-display.ts";
import { type CellMark, marksByCell, sameMarks } from "./cell-marks.ts";
import { type Shading, shadeCells } from "./cell-shade.ts";
import { FigureRuler } from "./figure-ruler.ts";
import { fuelGridStyles } from "./fuel-grid.styles.ts";
import {
  CellHoverEvent,
  CellsTypedEvent,
  ClearEvent,
  PasteTextEvent,
  SelectionChangeEvent,
  TypingEvent,
  type ViewedPart,
  ViewedPartEvent,
} from "./grid-events.ts";
import { gridAction } from "./grid-keys.ts";
import { GridLayout, type ScreenCell } from "./grid-layout.ts";
import { GridPointer } from "./grid-pointer.ts";
import {
  blockBounds,
  type CellPosition,
  clampSelection,
  type GridSelection,
  oneCell,
  regionOfSelection,
  selectedCount,
  selectionOfRegion,
} from "./grid-selection.ts";
import { GridSheet, type SeenPart } from "./grid-sheet.ts";
import { cellWidthFor, measuresIn } from "./grid-sizes.ts";
import { type GridView, greatest, gridMeasures } from "./grid-view.ts";
import { PagePalette } from "./page-palette.ts";
import { screenOrder, selectionText } from "./selection-text.ts";

export * from "./grid-events.ts";

const noMarks: readonly CellMark[] = [];

const otherMarks = (now: readonly CellMark[], before?: readonly CellMark[]) => !before || !sameMarks(now, before);
const otherAxes = (now: AxesDisplay | null, before?: AxesDisplay | null) => !sameAxes(now, before ?? null);
const otherDisplay = (now: CellDisplay | null, before?: CellDisplay | null) => !sameDisplay(now, before ?? null);

/** Properties whose change needs no redrawing of cells. */
const lightProperties = new Set<PropertyKey>(["selection", "editing", "problem", "touched", "label", "readonly"]);

/**
 * Shows one table as a graph lies, rpm to the right and load upward, and says what the user chooses, types and pastes.
 * It changes no cell.
 *
 * Keys follow the ARIA grid pattern: see `gridAction`. Charts in the slots `under` and `beside` stay in line with the
 * columns and rows, however the grid is scrolled or zoomed.
 *
 * @fires {SelectionChangeEvent} fw-selection-change - Other cells were chosen.
 * @fires {CellHoverEvent} fw-cell-hover - The pointer came to another cell.
 * @fires {CellsTypedEvent} fw-cells-typed - A number or expression was entered; `preventDefault()` keeps the field open.
 * @fires {TypingEvent} fw-typing - What stands in the field while typing, null when it closes.
 * @fires {PasteTextEvent} fw-paste-text - Text was pasted.
 * @fires {ClearEvent} fw-clear - Delete was pressed.
 * @fires {ViewedPartEvent} fw-viewed-part - Another part of the cells is in view.
 *
 * @slot under - A chart below the columns, as wide as they are.
 * @slot beside - A chart to the right of the rows, as high as they are; left out where the grid is narrow.
 * @slot legend - A few words in the corner between both charts: what their lines are.
 * @slot empty - What stands there without a table.
 *
 * @cssprop --fw-grid-max-height - Where the grid begins to scroll.
 * @cssprop --fw-grid-under - Height of the chart below.
 * @cssprop --fw-grid-beside - Width of the chart beside.
 */
@customElement("fw-fuel-grid")
export class FuelGrid extends LitElement {
  static override styles = [elementTokens, fuelGridStyles];

  /** What is shown; null: the `empty` slot. */
  @property({ attribute: false }) table: FuelTable | null = null;
  /** What change is measured against (every element has a `before()` already); other axes or null: no change is shown. */
  @property({ attribute: false }) earlier: FuelTable | null = null;
  /** Change of each cell in percent, where the host measures it otherwise; null: measured against `earlier`. */
  @property({ attribute: false }) change: Float64Array | null = null;
  /** Colours of change; null: the built-in ones. */
  @property({ attribute: false }) colours: CellColours | null = null;
  /** What the tints say: the change, the value in shades of one ink, or nothing. */
  @property() shading: Shading = "change";
  /** What is to be known about single cells; equal lists draw nothing again. */
  @property({ attribute: false, hasChanged: otherMarks })
  marks: readonly CellMark[] = noMarks;
  /** Standard deviation of each cell in percent, drawn as a thin bar; not a number where unknown. */
  @property({ attribute: false }) deviation: Float64Array | null = null;
  /** How cells are shown; null: in the table's own unit. */
  @property({ attribute: false, hasChanged: otherDisplay })
  display: CellDisplay | null = null;
  /** How breakpoints are shown; null: in the axes' own units. Copied axes keep their own. */
  @property({ attribute: false, hasChanged: otherAxes })
  axes: AxesDisplay | null = null;
  /** Rpm from right to left. */
  @property({ type: Boolean, attribute: "flip-rpm" }) flipRpm = false;
  /** Load from top to bottom. */
  @property({ type: Boolean, attribute: "flip-load" }) flipLoad = false;
  /** How much room cells have. */
  @property() density: "comfortable" | "compact" = "comfortable";
  /** Size against the plain one, 0.1 to 4. */
  @property({ type: Number }) zoom = 1;
  /** Cells can be chosen and copied only. */
  @property({ type: Boolean, reflect: true }) readonly = false;
  /** The grid's accessible name; empty: the table's name. */
  @property() label = "";
  /** Why what stands in the field can't be used; null: nothing against it. */
  @property({ attribute: false }) problem: string | null = null;
  /** The chosen cells; setting it emits nothing. */
  @property({ attribute: false }) selection: GridSelection = oneCell({ row: 0, column: 0 });

  @state() private slots = { under: false, beside: false };
  @state() private touched = false;
  @state() private editing = false;

  @query(".scroller") private scroller!: HTMLElement;
  @query(".cells") private cells!: HTMLElement;
  @query(".probe") private probe!: HTMLElement;
  @query(".editor") private editor!: HTMLInputElement;
  @query(".tip") private tip!: HTMLElement;
  @query(".said") private said!: HTMLElement;

  private sheet!: GridSheet;
  private ruler!: FigureRuler;
  private view: GridView | null = null;
  /** How far it is scrolled: kept, as asking for it in the middle of a change would make the browser lay out twice. */
  private scrolled = { left: 0, top: 0 };
  /** The scroller's inner size, and how much of it headers and charts take. */
  private size = { width: 0, height: 0, left: 0, right: 0, bottom: 0 };
  private sayTimer: ReturnType<typeof setTimeout> | undefined;
  private marked = { marks: noMarks, byCell: marksByCell(noMarks) };
  private tipTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly palette = new PagePalette(() => this.requestUpdate("colours"));
  private readonly resizing = new ResizeObserver(() => this.resized());

  /** The selection in rpm and load. */
  get region(): Region {
    return this.table ? regionOfSelection(this.table, this.selection) : {};
  }

  /** Row-major index of the cell with the focus. */
  get focused(): number {
    const { row, column } = this.selection.focus;
    return row * (this.table?.rpm.breakpoints.length ?? 0) + column;
  }

  /** Chooses the cells of a region, as when a step is reopened; does nothing if it holds none. Emits nothing. */
  async showRegion(region: Region): Promise<void> {
    const selection = this.table && selectionOfRegion(this.table, region);
    if (!selection) return;
    this.selection = selection;
    await this.updateComplete;
    this.reveal(selection.focus);
  }

  /** Brings a cell into view. */
  reveal(position: CellPosition): void {
    if (!this.view) return;
    const { layout } = this.view;
    const { x, y } = layout.screen(position);
    const seen = this.seen();
    const left = nearestScroll(x * layout.cellWidth, layout.cellWidth, seen.left, seen.width);
    const top = nearestScroll(y * layout.cellHeight, layout.cellHeight, seen.top, seen.height);
    if (left !== seen.left || top !== seen.top) this.scroller.scrollTo(left, top);
  }

  /** Brings the middle of the view to a place given as shares 0..1 of the cells from the top left, as on a map. */
  revealShare(x: number, y: number): void {
    if (!this.view) return;
    const { layout } = this.view;
    const seen = this.seen();
    this.scroller.scrollTo(x * layout.width - seen.width / 2, y * layout.height - seen.height / 2);
  }

  /** Says something to those who listen rather than look: what a step has changed. */
  announce(text: string): void {
    clearTimeout(this.sayTimer);
    // The same sentence twice is heard twice only if its text differs.
    this.said.textContent = this.said.textContent === text ? `${text}\u00a0` : text;
  }

  /** Opens the field over the focused cell, with its value or with `text`. */
  edit(text: string | null = null): void {
    if (this.readonly || !this.view) return;
    const { table, display } = this.view;
    this.problem = null;
    this.editing = true;
    this.reveal(this.selection.focus);
    this.editor.hidden = false;
    this.editor.value = text ?? exactFigure(display, table.cells[this.focused]!);
    this.placeEditor();
    this.editor.focus({ preventScroll: true });
    if (text === null) this.editor.select();
  }

  /** Enters what stands in the field, as Enter does; true if the field is closed afterwards. */
  enterTyped(): boolean {
    if (!this.editing) return true;
    const text = this.editor.value.trim();
    if (text !== "" && !this.dispatchEvent(new CellsTypedEvent(text, this.region, this.selection))) return false;
    this.closeEditor();
    return true;
  }

  /** Drops what stands in the field, as Escape does. */
  dropTyped(): void {
    if (this.editing) this.closeEditor();
  }

  /** Copies the selection to the clipboard, with its axes if asked for. */
  copy(axes = false): void {
    // A copy that the page asks for goes to the document's selection, not to the focus: it is caught there.
    const write = (event: ClipboardEvent) => {
      event.stopPropagation();
      this.writeClipboard(event, axes);
    };
    document.addEventListener("copy", write, { capture: true });
    document.execCommand("copy");
    document.removeEventListener("copy", write, { capture: true });
  }

  /** Focuses the field if it is open, otherwise the cell. */
  override focus(): void {
    if (this.editing) this.editor.focus({ preventScroll: true });
    else this.sheet?.activeElement?.focus({ preventScroll: true });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.palette.connect();
    this.onSlots();
    if (this.hasUpdated) this.resizing.observe(this.scroller);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.palette.disconnect();
    this.resizing.disconnect();
    clearTimeout(this.sayTimer);
    clearTimeout(this.tipTimer);
  }

  protected override willUpdate(): void {
    if (this.table) this.selection = clampSelection(this.table, this.selection);
  }

  protected override render() {
    const { table, slots } = this;
    const state = [slots.under && "has-under", slots.beside && "has-beside", this.touched && "touched"];
    return html`
      <div class="scroller" ?hidden=${!table} @scroll=${this.onScroll}>
        <div
          class="content ${state.filter(Boolean).join(" ")}"
          @keydown=${this.onKey}
          @copy=${this.onCopy}
          @paste=${this.onPaste}
          @focusin=${this.onFocusIn}
        >
          <div class="cells">
            <div class="drawn" aria-hidden="true">
              <canvas class="tints"></canvas>
              <div class="lines"></div>
              <svg class="marks">
                <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse">
                  <path class="hatch-line" d="M-1,7L7,-1M-1,1L1,-1M5,7L7,5" />
                </pattern>
              </svg>
              <div class="figures"></div>
              <div class="boxes">
                <div class="ranges"></div>
                <div class="box hover" hidden></div>
                <div class="box focus"></div>
              </div>
            </div>
            <div class="handle" aria-hidden="true"></div>
            <input
              class="editor"
              hidden
              autocomplete="off"
              spellcheck="false"
              aria-label=${this.editing ? this.editorLabel() : nothing}
              aria-invalid=${this.problem === null ? "false" : "true"}
              aria-describedby="problem"
              @input=${this.onInput}
              @keydown=${this.onEditorKey}
            />
            <div class="problem" id="problem" role="alert">${this.editing ? this.problem : nothing}</div>
          </div>
          <div
            class="grid"
            role="grid"
            aria-label=${this.label || table?.name || nothing}
            aria-multiselectable="true"
            aria-readonly=${this.readonly ? "true" : "false"}
            aria-rowcount=${(table?.load.breakpoints.length ?? 0) + 1}
            aria-colcount=${(table?.rpm.breakpoints.length ?? 0) + 1}
          >
            <div class="rows" role="rowgroup"></div>
            <div class="foot" role="rowgroup"><div class="heads" role="row"></div></div>
          </div>
          <div class="under-corner"></div>
          <div class="under"><slot name="under" @slotchange=${this.onSlots}></slot></div>
          <div class="beside"><slot name="beside" @slotchange=${this.onSlots}></slot></div>
          <div class="legend"><slot name="legend"></slot></div>
        </div>
      </div>
      ${table ? nothing : html`<div class="empty"><slot name="empty">No table is open.</slot></div>`}
      <div class="tip" role="tooltip" hidden></div>
      <div class="said" role="status"></div>
      <span class="probe" aria-hidden="true"></span>
    `;
  }

  protected override firstUpdated(): void {
    this.sheet = new GridSheet(this.renderRoot);
    this.ruler = new FigureRuler(this.probe);
    new GridPointer(
      {
        layout: () => this.view?.layout ?? null,
        selection: () => this.selection,
        cells: this.cells,
        scroller: this.scroller,
        choose: (selection) => this.choose(selection),
        hover: (cell) => this.hover(cell),
        edit: () => this.edit(),
        touched: () => {
          this.touched = true;
        },
      },
      this.renderRoot.querySelector<HTMLElement>(".content")!,
    );
    this.resizing.observe(this.scroller);
  }

  protected override updated(changed: PropertyValues): void {
    if (!this.table) {
      this.view = null;
      this.sheet.clear();
      return;
    }
    const held = this.cellHasFocus();
    if (!this.view || [...changed.keys()].some((key) => !lightProperties.has(key))) this.redraw();
    else if (changed.has("selection")) this.sheet.select(this.selection);
    if (held) this.sheet.activeElement?.focus({ preventScroll: true });
    if (this.editing) this.placeEditor();
    if (changed.has("selection")) this.saySelection();
  }

  /** Works out what is shown, and has the sheet draw what is different. */
  private redraw(): void {
    const table = this.table!;
    if (this.size.width === 0) this.readSize();
    const zoom = Math.min(4, Math.max(0.1, this.zoom || 1));
    const display = this.display ?? ownDisplay(table.quantity);
    const usual = gridMeasures(this.density, zoom);
    const palette = this.palette.read(this.probe);
    const room = this.size.width - this.size.left - this.size.right;
    const figures = this.ruler.measure(table, display, usual.fontSize);
    const cellWidth = cellWidthFor(table, this.axes, usual, figures, room, zoom);
    const measures = usual.figures ? measuresIn(cellWidth, usual, figures) : usual;
    const deviation = this.deviation?.length === table.cells.length ? this.deviation : null;
    const change = this.change?.length === table.cells.length ? this.change : cellChange(table, this.earlier);
    this.view = {
      table,
      before: change && this.earlier?.cells.length === table.cells.length ? this.earlier : null,
      change,
      display,
      axes: this.axes,
      shade: shadeCells(table, change, this.shading, this.colours, palette),
      marks: this.marksByCell(),
      deviation,
      greatestDeviation: deviation ? greatest(deviation) : 0,
      layout: new GridLayout(
        table.rpm.breakpoints.length,
        table.load.breakpoints.length,
        this.flipRpm,
        this.flipLoad,
        cellWidth,
        measures.cellHeight,
      ),
      measures,
      figures,
    };
    this.sheet.draw(this.view, this.nearView(), this.selection);
    this.tellPart();
  }

  /** The same map as long as the marks say the same, so that nothing is drawn again for them. */
  private marksByCell() {
    if (!sameMarks(this.marks, this.marked.marks)) this.marked = { marks: this.marks, byCell: marksByCell(this.marks) };
    return this.marked.byCell;
  }

  // What is in view

  private readSize(): void {
    const { scroller } = this;
    const px = (name: string, side: "offsetWidth" | "offsetHeight") =>
      this.renderRoot.querySelector<HTMLElement>(`.${name}`)![side];
    this.size = {
      width: scroller.clientWidth,
      height: scroller.clientHeight,
      left: px("under-corner", "offsetWidth"),
      right: px("beside", "offsetWidth"),
      bottom: px("heads", "offsetHeight") + px("under", "offsetHeight"),
    };
  }

  private resized(): void {
    const { width, height, right, bottom } = this.size;
    this.readSize();
    const now = this.size;
    if (now.width !== width || now.height !== height || now.right !== right || now.bottom !== bottom)
      this.requestUpdate("zoom");
  }

  /** The part of the cells that can be seen. */
  private seen(): SeenPart {
    const { width, height, left, right, bottom } = this.size;
    return {
      left: this.scrolled.left,
      top: this.scrolled.top,
      width: Math.max(1, width - left - right),
      height: Math.max(1, height - bottom),
    };
  }

  /** That part, with what lies under headers and charts; before the first layout at least a screen's worth. */
  private nearView(): SeenPart {
    const seen = this.seen();
    const height = this.size.height - this.size.bottom > 0 ? this.size.height : innerHeight;
    return { ...seen, width: this.size.width, height };
  }

  private onScroll(): void {
    this.scrolled = { left: this.scroller.scrollLeft, top: this.scroller.scrollTop };
    this.sheet.scrolled(this.nearView(), this.selection);
    this.hideTip();
    this.tellPart();
  }

  private toldPart: ViewedPart | null = null;

  private tellPart(): void {
    const { layout } = this.view!;
    const { left, top, width, height } = this.seen();
    const share = (value: number, all: number) => Math.min(1, Math.max(0, value / all));
    const part: ViewedPart = {
      left: share(left, layout.width),
      top: share(top, layout.height),
      right: share(left + width, layout.width),
      bottom: share(top + height, layout.height),
    };
    // Told once: a host that draws itself again on the event would draw this grid again, and so on without end.
    const last = this.toldPart;
    if (last && (Object.keys(part) as (keyof ViewedPart)[]).every((side) => part[side] === last[side])) return;
    this.toldPart = part;
    this.dispatchEvent(new ViewedPartEvent(part));
  }

  private onSlots(): void {
    const filled = (slot: string) => this.querySelector(`:scope > [slot="${slot}"]`) !== null;
    const now = { under: filled("under"), beside: filled("beside") };
    if (now.under === this.slots.under && now.beside === this.slots.beside) return;
    this.slots = now;
    if (this.hasUpdated) void this.updateComplete.then(() => this.resized());
  }

  // Choosing

  private choose(selection: GridSelection): void {
    if (!this.enterTyped()) {
      this.editor.focus({ preventScroll: true });
      return;
    }
    this.selection = selection;
    this.hideTip();
    this.reveal(selection.focus);
    void this.updateComplete.then(() => {
      if (!this.editing) this.sheet.activeElement?.focus({ preventScroll: true });
      this.tipSoon(this.view?.layout.screen(selection.focus) ?? null);
    });
    this.dispatchEvent(new SelectionChangeEvent(selection, this.region, this.focused));
  }

  private cellHasFocus(): boolean {
    return this.shadowRoot?.activeElement?.getAttribute("role") === "gridcell";
  }

  /** Assistive technology may put the focus on a cell by itself: the selection follows. */
  private onFocusIn(event: FocusEvent): void {
    const cell = event.target instanceof Element ? this.sheet.cellOf(event.target) : null;
    if (!cell || !this.view || event.target === this.sheet.activeElement) return;
    this.choose(oneCell(this.view.layout.position(cell)));
  }

  private hover(cell: ScreenCell | null): void {
    if (!this.view) return;
    this.sheet.hover(cell);
    this.hideTip();
    this.tipSoon(cell);
    this.dispatchEvent(new CellHoverEvent(cell && this.view.layout.at(cell.x, cell.y)));
  }

  private saySelection(): void {
    clearTimeout(this.sayTimer);
    const count = this.table ? selectedCount(this.selection) : 0;
    if (count < 2) return;
    const { row0, row1, column0, column1 } = blockBounds(this.selection);
    const { rpm, load } = this.table!;
    const side = (axis: FuelTable["rpm"], display: AxisDisplay | undefined, from: number, to: number) => {
      const texts = breakpointTexts(axis, display);
      return `${texts[from]} to ${texts[to - 1]} ${display?.unit ?? axis.unit}`;
    };
    const rows = load.quantity === "single-row" ? "" : `, ${side(load, this.axes?.load, row0, row1)}`;
    this.sayTimer = setTimeout(
      () => this.announce(`${count} cells: ${side(rpm, this.axes?.rpm, column0, column1)}${rows}`),
      500,
    );
  }

  // The tip of a marked cell

  private tipSoon(cell: ScreenCell | null): void {
    clearTimeout(this.tipTimer);
    if (!cell || !this.view) return;
    const marks = this.view.marks.get(this.view.layout.at(cell.x, cell.y));
    if (!marks) return;
    this.tipTimer = setTimeout(() => this.showTip(cell, marks), 350);
  }

  private showTip(cell: ScreenCell, marks: readonly CellMark[]): void {
    if (!this.view || this.editing) return;
    const { cellWidth, cellHeight } = this.view.layout;
    const here = this.getBoundingClientRect();
    const cells = this.cells.getBoundingClientRect();
    this.tip.replaceChildren(
      ...marks.map((mark) => Object.assign(document.createElement("div"), { textContent: mark.words })),
    );
    this.tip.hidden = false;
    const left = cells.left - here.left + cell.x * cellWidth;
    this.tip.style.left = `${Math.max(0, Math.min(left, here.width - this.tip.offsetWidth - 4))}px`;
    const below = cells.top - here.top + (cell.y + 1) * cellHeight + 3;
    const above = below - cellHeight - this.tip.offsetHeight - 6;
    this.tip.style.top = `${below + this.tip.offsetHeight > here.height && above > 0 ? above : below}px`;
  }

  private hideTip(): void {
    clearTimeout(this.tipTimer);
    if (!this.tip.hidden) this.tip.hidden = true;
  }

  // Keys, typing, clipboard

  private onKey(event: KeyboardEvent): void {
    if (!this.view || event.defaultPrevented || event.composedPath()[0] === this.editor) return;
    const { layout } = this.view;
    if (event.key === "Escape" && !this.tip.hidden) {
      this.hideTip();
      event.preventDefault();
      return;
    }
    const page = Math.max(1, Math.floor(this.seen().height / layout.cellHeight) - 1);
    const action = gridAction(event, this.selection, layout, page, this.readonly);
    if (!action) return;
    switch (action.kind) {
      case "select":
        this.choose(action.selection);
        break;
      case "collapse":
        this.choose(oneCell(this.selection.focus));
        break;
      case "edit":
        this.edit();
        break;
      case "type":
        // The key's own text goes to the field, which has the focus by the time the browser inserts it.
        this.edit("");
        return;
      case "clear":
        this.dispatchEvent(new ClearEvent(this.region, this.selection));
        break;
      case "copy-with-axes":
        this.copy(true);
    }
    event.preventDefault();
  }

  private onInput(): void {
    this.problem = null;
    this.dispatchEvent(new TypingEvent(this.editor.value, this.region));
  }

  private onEditorKey(event: KeyboardEvent): void {
    if (event.isComposing) return;
    if (event.key === "Enter") this.enterTyped();
    else if (event.key === "Escape") this.dropTyped();
    else if (event.key !== "Tab" || this.enterTyped()) return;
    event.preventDefault();
    event.stopPropagation();
  }

  private closeEditor(): void {
    const held = this.shadowRoot?.activeElement === this.editor;
    this.editing = false;
    this.editor.hidden = true;
    this.problem = null;
    if (held) this.sheet.activeElement?.focus({ preventScroll: true });
    this.dispatchEvent(new TypingEvent(null, this.region));
  }

  /** The field lies on the focused cell, wider than it, and inside the sheet. */
  private placeEditor(): void {
    const { layout } = this.view!;
    const { x, y } = layout.screen(this.selection.focus);
    const left = Math.max(0, Math.min(x * layout.cellWidth, layout.width - this.editor.offsetWidth));
    this.editor.parentElement!.style.setProperty("--editor-left", `${left}px`);
    this.editor.parentElement!.style.setProperty("--editor-top", `${y * layout.cellHeight}px`);
  }

  private editorLabel(): string {
    const count = selectedCount(this.selection);
    return `New value or expression for ${count === 1 ? "1 cell" : `${count} cells`}`;
  }

  private onCopy(event: ClipboardEvent): void {
    if (event.composedPath()[0] !== this.editor) this.writeClipboard(event, false);
  }

  private writeClipboard(event: ClipboardEvent, axes: boolean): void {
    if (!this.view) return;
    event.clipboardData?.setData("text/plain", selectionText(this.view, this.selection, axes));
    event.preventDefault();
    const count = selectedCount(this.selection);
    this.announce(`${count === 1 ? "1 cell" : `${count} cells`} copied${axes ? " with axes" : ""}.`);
  }

  private onPaste(event: ClipboardEvent): void {
    if (!this.view || this.readonly || event.composedPath()[0] === this.editor) return;
    event.preventDefault();
    const text = event.clipboardData?.getData("text/plain") ?? "";
    const { rows, columns } = screenOrder(this.view.layout, blockBounds(this.selection));
    const at = { row: rows[0]!, column: columns[0]! };
    const { region, selection, flipLoad, flipRpm } = this;
    this.dispatchEvent(new PasteTextEvent(text, at, flipLoad ? 1 : -1, flipRpm ? -1 : 1, region, selection));
  }
}

/** Where to scroll so that `size` px from `start` are in view, moving as little as possible. */
function nearestScroll(start: number, size: number, from: number, room: number): number {
  if (start < from) return start;
  if (start + size > from + room) return start + size - room;
  return from;
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-fuel-grid": FuelGrid;
  }
}
