import { cellWords } from "./cell-words.ts";
import type { ScreenCell, ScreenWindow } from "./grid-layout.ts";
import type { BlockBounds } from "./grid-selection.ts";
import { isSelected } from "./grid-selection.ts";
import type { GridView } from "./grid-view.ts";

interface AccessibleCell {
  readonly element: HTMLElement;
  words: string;
  selected: boolean;
}

interface AccessibleRow {
  readonly element: HTMLElement;
  readonly header: HTMLElement;
  readonly cells: Map<number, AccessibleCell>;
  /** Whether its cells say what the table says, and whether they are selected. */
  fresh: boolean;
  selectionFresh: boolean;
}

/** How long one slice of work may take, in ms: well within a frame. */
const SLICE = 5;
/** Cells in view are true at the latest this many ms after a change. */
const LATEST = 150;

/**
 * The rows and gridcells that assistive technology reads and that hold the focus.
 *
 * They lie unpainted over the drawn cells. The row headers and the cell with the focus are brought up to date at once,
 * the other cells in view when the browser is idle, at the latest after 150 ms.
 */
export class AccessibleRows {
  private rows = new Map<number, AccessibleRow>();
  private view: GridView | null = null;
  private window: ScreenWindow = { x0: 0, x1: 0, y0: 0, y1: 0 };
  private bounds: readonly BlockBounds[] = [];
  private activeCell: AccessibleCell | null = null;
  private activeHeader: HTMLElement | null = null;
  private waiting: (() => void) | null = null;

  constructor(
    private readonly layer: HTMLElement,
    private readonly makeHeader: (y: number) => HTMLElement,
  ) {}

  /** Marks rows of the screen whose cells may say something else now: those with a 1, or all. */
  stale(changed: Uint8Array | null): void {
    for (const [y, row] of this.rows) if (!changed || changed[y]) row.fresh = false;
  }

  /** Takes over what is shown. */
  show(view: GridView, window: ScreenWindow, bounds: readonly BlockBounds[], active: ScreenCell): void {
    this.view = view;
    this.window = window;
    this.bounds = bounds;
    for (const [y, row] of this.rows) {
      row.selectionFresh = false;
      if ((y < window.y0 || y >= window.y1) && y !== active.y) {
        row.element.remove();
        this.rows.delete(y);
      }
    }
    for (let y = window.y0; y < window.y1; y++) this.rowAt(y);
    this.moveTo(active);
    this.fillSoon();
  }

  /** The element of the cell with the focus. */
  get activeElement(): HTMLElement | null {
    return this.activeCell?.element ?? null;
  }

  /** The cell of an element, or null if it is none. */
  cellOf(element: Element): ScreenCell | null {
    const x = Number(element.getAttribute("aria-colindex")) - 2;
    const y = Number(element.parentElement?.getAttribute("aria-rowindex")) - 1;
    return element.getAttribute("role") === "gridcell" ? { x, y } : null;
  }

  clear(): void {
    this.waiting?.();
    this.waiting = null;
    for (const row of this.rows.values()) row.element.remove();
    this.rows.clear();
    this.activeCell = null;
    this.activeHeader = null;
  }

  private moveTo(active: ScreenCell): void {
    const row = this.rowAt(active.y);
    if (row.header !== this.activeHeader) {
      this.activeHeader?.classList.remove("here");
      row.header.classList.add("here");
      this.activeHeader = row.header;
    }
    const cell = this.cellAt(row, active.x);
    this.refresh(cell, active.x, active.y);
    if (cell !== this.activeCell) {
      if (this.activeCell) this.activeCell.element.tabIndex = -1;
      cell.element.tabIndex = 0;
      this.activeCell = cell;
    }
  }

  private rowAt(y: number): AccessibleRow {
    const known = this.rows.get(y);
    if (known) return known;
    const element = document.createElement("div");
    element.setAttribute("role", "row");
    element.setAttribute("aria-rowindex", String(y + 1));
    element.style.setProperty("--y", String(y));
    const header = this.makeHeader(y);
    element.append(header);
    // Rows stand in the document as on the screen, as a reader walks through them.
    this.layer.insertBefore(element, elementAfter(this.rows, y));
    const row = { element, header, cells: new Map(), fresh: false, selectionFresh: false };
    this.rows.set(y, row);
    return row;
  }

  private cellAt(row: AccessibleRow, x: number): AccessibleCell {
    const known = row.cells.get(x);
    if (known) return known;
    const element = document.createElement("div");
    element.setAttribute("role", "gridcell");
    element.setAttribute("aria-colindex", String(x + 2));
    element.setAttribute("aria-selected", "false");
    element.tabIndex = -1;
    element.style.gridColumn = String(x + 2);
    row.element.insertBefore(element, elementAfter(row.cells, x));
    const cell = { element, words: "", selected: false };
    row.cells.set(x, cell);
    return cell;
  }

  private refresh(cell: AccessibleCell, x: number, y: number): void {
    const words = cellWords(this.view!, this.view!.layout.at(x, y));
    if (words !== cell.words) {
      cell.element.setAttribute("aria-label", words);
      cell.words = words;
    }
    this.refreshSelected(cell, x, y);
  }

  private refreshSelected(cell: AccessibleCell, x: number, y: number): void {
    const { layout } = this.view!;
    const selected = isSelected(this.bounds, layout.row(y), layout.column(x));
    if (selected !== cell.selected) {
      cell.element.setAttribute("aria-selected", String(selected));
      cell.selected = selected;
    }
  }

  private fillSoon(): void {
    if (this.waiting) return;
    if (typeof requestIdleCallback === "function") {
      const handle = requestIdleCallback(() => this.fill(), { timeout: LATEST });
      this.waiting = () => cancelIdleCallback(handle);
    } else {
      const handle = setTimeout(() => this.fill(), 50);
      this.waiting = () => clearTimeout(handle);
    }
  }

  private fill(): void {
    this.waiting = null;
    const until = performance.now() + SLICE;
    for (const [y, row] of this.rows) {
      if (row.fresh && row.selectionFresh) continue;
      if (performance.now() > until) {
        this.fillSoon();
        return;
      }
      if (row.fresh) for (const [x, cell] of row.cells) this.refreshSelected(cell, x, y);
      else this.fillRow(row, y);
      row.fresh = true;
      row.selectionFresh = true;
    }
  }

  private fillRow(row: AccessibleRow, y: number): void {
    const { x0, x1 } = this.window;
    for (const [x, cell] of row.cells)
      if ((x < x0 || x >= x1) && cell !== this.activeCell) {
        cell.element.remove();
        row.cells.delete(x);
      }
    for (let x = x0; x < x1; x++) this.refresh(this.cellAt(row, x), x, y);
  }
}

/** The element of the nearest key above `key`, before which a new one goes; null to append it. */
function elementAfter(known: ReadonlyMap<number, { readonly element: HTMLElement }>, key: number): HTMLElement | null {
  let nearest = Number.POSITIVE_INFINITY;
  for (const other of known.keys()) if (other > key && other < nearest) nearest = other;
  return known.get(nearest)?.element ?? null;
}
