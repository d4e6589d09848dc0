import { sameAxis } from "@fuelwright/table-core";
import { AccessibleRows } from "./accessible-rows.ts";
import { sameAxes } from "./cell-display.ts";
import { ColumnHeads, rowHead } from "./column-heads.ts";
import { type ScreenCell, type ScreenWindow, sameWindow, windowFor } from "./grid-layout.ts";
import { type BlockBounds, blockBounds, blocksOf, type GridSelection } from "./grid-selection.ts";
import { changedRows, type GridView } from "./grid-view.ts";
import { MarkLayer } from "./mark-layer.ts";
import { RowTexts } from "./row-texts.ts";
import { paintTints } from "./tint-canvas.ts";

const noRows = new Uint8Array();

/** The part of the cells in view, in px from their top left. */
export interface SeenPart {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The drawn sheet: tints on a canvas of one pixel a cell, a text node a row, marks as SVG, boxes for the selection,
 * and the rows that assistive technology reads. Draws only what is near the view, and only what changed.
 */
export class GridSheet {
  private view: GridView | null = null;
  private window: ScreenWindow = { x0: 0, x1: 0, y0: 0, y1: 0 };
  private readonly part: (name: string) => HTMLElement;
  private readonly texts: RowTexts;
  private readonly marks: MarkLayer;
  private readonly heads: ColumnHeads;
  private readonly rows: AccessibleRows;

  constructor(root: ParentNode) {
    this.part = (name) => root.querySelector<HTMLElement>(`.${name}`)!;
    this.texts = new RowTexts(this.part("figures"));
    this.marks = new MarkLayer(root.querySelector<SVGElement>(".marks")!);
    this.heads = new ColumnHeads(this.part("heads"));
    this.rows = new AccessibleRows(this.part("rows"), (y) => rowHead(this.view!, y));
  }

  /** The gridcell with the focus, or that would have it. */
  get activeElement(): HTMLElement | null {
    return this.rows.activeElement;
  }

  /** The cell that an element of the rows stands for. */
  cellOf(element: Element): ScreenCell | null {
    return this.rows.cellOf(element);
  }

  clear(): void {
    this.view = null;
    this.rows.clear();
    this.texts.clear();
    this.marks.clear();
  }

  /** Shows everything anew; parts that are the same as before are left as they are. */
  draw(view: GridView, seen: SeenPart, selection: GridSelection): void {
    const last = this.view;
    this.view = view;
    const { table, layout, measures, figures } = view;
    const content = this.part("content").style;
    content.setProperty("--cw", `${layout.cellWidth}px`);
    content.setProperty("--ch", `${layout.cellHeight}px`);
    content.setProperty("--columns", String(layout.columns));
    content.setProperty("--rows", String(layout.rows));
    content.setProperty("--figure-left", `${layout.cellWidth - measures.padding - figures.width}px`);
    content.setProperty("--figure-gap", `${layout.cellWidth - figures.width - figures.space}px`);
    content.setProperty("--figure-size", `${measures.fontSize}px`);
    this.part("figures").classList.toggle("monospaced", figures.monospaced);
    this.part("lines").hidden = layout.cellHeight < 8;
    if (last?.shade !== view.shade || !last.layout.sameOrder(layout))
      paintTints(this.part("tints") as HTMLCanvasElement, view);
    const elsewhere =
      !last?.layout.sameOrder(layout) ||
      last.layout.cellHeight !== layout.cellHeight ||
      !sameAxes(last.axes, view.axes) ||
      !sameAxis(last.table.rpm, table.rpm) ||
      !sameAxis(last.table.load, table.load);
    this.drawWindow(windowFor(layout, seen), selection, elsewhere, changedRows(last, view));
  }

  /** Draws what has come into view by scrolling. */
  scrolled(seen: SeenPart, selection: GridSelection): void {
    if (!this.view) return;
    const window = windowFor(this.view.layout, seen);
    if (!sameWindow(window, this.window)) this.drawWindow(window, selection, false, null);
  }

  /**
   * @param elsewhere - whether headers and cells of the same place now mean others
   * @param changed - rows to draw again, if only those; see `changedRows`
   */
  private drawWindow(
    window: ScreenWindow,
    selection: GridSelection,
    elsewhere: boolean,
    changed: Uint8Array | null,
  ): void {
    const view = this.view!;
    const only = changed && sameWindow(window, this.window) ? changed : null;
    this.window = window;
    const figures = this.part("figures").style;
    figures.setProperty("--x0", String(window.x0));
    figures.setProperty("--x1", String(window.x1));
    figures.setProperty("--y0", String(window.y0));
    if (view.measures.figures) this.texts.update(view, window, only);
    else this.texts.clear();
    this.marks.update(view, window, only);
    this.heads.show(view, window, view.layout.screen(selection.focus).x, elsewhere);
    this.showRows(selection, elsewhere, only);
  }

  /** Moves the selection's boxes and the cell that can have the focus. */
  select(selection: GridSelection): void {
    this.heads.show(this.view!, this.window, this.view!.layout.screen(selection.focus).x, false);
    this.showRows(selection, false, noRows);
  }

  private showRows(selection: GridSelection, elsewhere: boolean, changed: Uint8Array | null): void {
    const { layout } = this.view!;
    const bounds = blocksOf(selection).map(blockBounds);
    const active = layout.screen(selection.focus);
    if (elsewhere) this.rows.clear();
    this.rows.stale(changed);
    this.rows.show(this.view!, this.window, bounds, active);
    this.placeRanges(bounds);
    this.place(this.part("focus"), active, { x: active.x + 1, y: active.y + 1 });
    const corner = layout.screen({ row: bounds[0]!.row0, column: bounds[0]!.column1 - 1 });
    const { x, y } = { x: Math.max(corner.x, active.x) + 1, y: Math.max(corner.y, active.y) + 1 };
    this.part("handle").style.transform = `translate(${x * layout.cellWidth}px, ${y * layout.cellHeight}px)`;
  }

  /** Puts the hover's box on a cell; null takes it away. */
  hover(cell: ScreenCell | null): void {
    const box = this.part("hover");
    box.hidden = cell === null;
    if (cell) this.place(box, cell, { x: cell.x + 1, y: cell.y + 1 });
  }

  private placeRanges(bounds: readonly BlockBounds[]): void {
    const { layout } = this.view!;
    const layer = this.part("ranges");
    const single =
      bounds.length === 1 && bounds[0]!.row1 - bounds[0]!.row0 + bounds[0]!.column1 - bounds[0]!.column0 === 2;
    const shown = single ? [] : bounds;
    while (layer.childElementCount > shown.length) layer.lastElementChild!.remove();
    while (layer.childElementCount < shown.length) {
      const box = document.createElement("div");
      box.className = "box range";
      layer.append(box);
    }
    shown.forEach((b, at) => {
      const one = layout.screen({ row: b.row0, column: b.column0 });
      const other = layout.screen({ row: b.row1 - 1, column: b.column1 - 1 });
      const from = { x: Math.min(one.x, other.x), y: Math.min(one.y, other.y) };
      const to = { x: Math.max(one.x, other.x) + 1, y: Math.max(one.y, other.y) + 1 };
      this.place(layer.children[at] as HTMLElement, from, to);
    });
  }

  private place(box: HTMLElement, from: ScreenCell, to: ScreenCell): void {
    const { cellWidth, cellHeight } = this.view!.layout;
    box.style.transform = `translate(${from.x * cellWidth}px, ${from.y * cellHeight}px)`;
    box.style.width = `${(to.x - from.x) * cellWidth}px`;
    box.style.height = `${(to.y - from.y) * cellHeight}px`;
  }
}
