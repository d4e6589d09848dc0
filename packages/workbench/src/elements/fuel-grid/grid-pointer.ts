import type { GridLayout, ScreenCell } from "./grid-layout.ts";
import type { CellBlock, GridSelection } from "./grid-selection.ts";

/** What the pointer can do to a grid. */
export interface PointerHost {
  layout(): GridLayout | null;
  selection(): GridSelection;
  /** The element whose box is that of all cells. */
  readonly cells: HTMLElement;
  readonly scroller: HTMLElement;
  choose(selection: GridSelection): void;
  hover(cell: ScreenCell | null): void;
  /** A cell was clicked twice. */
  edit(): void;
  /** A finger came: show the handle that a mouse does not need. */
  touched(): void;
}

type Part = "cells" | "row" | "column" | "corner";

/** A finger that rests this many ms starts a selection instead of scrolling. */
const LONG_PRESS = 420;
/** A finger that moves further than this many px is not resting. */
const STILL = 8;

/**
 * Selecting with mouse, pen and finger.
 *
 * Mouse and pen: click, drag, Shift+click, Ctrl+click for a further block; header clicks take rows and columns. Finger:
 * a tap chooses, a swipe scrolls, a long press or the handle drags a block.
 */
export class GridPointer {
  private dragging: Part | null = null;
  private pressed: Part | null = null;
  private press: ReturnType<typeof setTimeout> | null = null;
  private start: { x: number; y: number } | null = null;
  private last: { x: number; y: number } = { x: 0, y: 0 };
  private scrolling = 0;
  private hovered: ScreenCell | null = null;

  constructor(
    private readonly host: PointerHost,
    content: HTMLElement,
  ) {
    content.addEventListener("pointerdown", (event) => this.down(event));
    content.addEventListener("pointermove", (event) => this.move(event));
    content.addEventListener("pointerup", (event) => this.up(event));
    content.addEventListener("pointercancel", () => this.stop());
    // The pointer is captured, so the event itself does not tell what was clicked.
    content.addEventListener("dblclick", () => this.pressed === "cells" && this.host.edit());
    content.addEventListener("pointerleave", () => this.hover(null));
    // Once a long press selects, the finger must not scroll: only a listener that may refuse can tell the browser so.
    content.addEventListener("touchmove", (event) => this.dragging && event.preventDefault(), { passive: false });
    content.addEventListener("contextmenu", (event) => this.dragging && event.preventDefault());
  }

  private down(event: PointerEvent): void {
    const part = partOf(event);
    this.pressed = part;
    if (event.button !== 0 || !part || !this.host.layout()) return;
    this.last = this.start = { x: event.clientX, y: event.clientY };
    if (event.pointerType === "touch") {
      this.host.touched();
      if (isHandle(event)) this.drag("cells", event);
      else
        this.press = setTimeout(() => {
          this.begin(part, event);
          this.drag(part, event);
        }, LONG_PRESS);
      return;
    }
    event.preventDefault();
    this.begin(part, event);
    this.drag(part, event);
  }

  private move(event: PointerEvent): void {
    this.last = { x: event.clientX, y: event.clientY };
    if (!this.host.layout()) return;
    if (this.dragging) {
      this.extend();
      this.scrollAtEdge();
      return;
    }
    if (this.press && this.start && Math.hypot(event.clientX - this.start.x, event.clientY - this.start.y) > STILL)
      this.stop();
    if (event.pointerType !== "touch") this.hover(partOf(event) === "cells" ? this.cell() : null);
  }

  private up(event: PointerEvent): void {
    const tapped = this.press !== null;
    const part = partOf(event);
    this.stop();
    if (tapped && part) this.begin(part, event);
  }

  private stop(): void {
    if (this.press) clearTimeout(this.press);
    this.press = null;
    this.dragging = null;
    cancelAnimationFrame(this.scrolling);
    this.scrolling = 0;
  }

  private drag(part: Part, event: PointerEvent): void {
    this.press = null;
    this.dragging = part;
    this.hover(null);
    (event.currentTarget as HTMLElement | null)?.setPointerCapture(event.pointerId);
  }

  /** Starts a block at the pointer, or takes the last one there with Shift. */
  private begin(part: Part, event: PointerEvent): void {
    const layout = this.host.layout()!;
    const selection = this.host.selection();
    const block = blockAt(layout, part, this.cell());
    if (event.shiftKey) {
      this.host.choose({ ...selection, ...extended(layout, part, selection, this.cell()) });
    } else if (event.ctrlKey || event.metaKey) {
      const { also = [], anchor, focus } = selection;
      this.host.choose({ ...block, also: [...also, { anchor, focus }] });
    } else this.host.choose(block);
  }

  private extend(): void {
    const layout = this.host.layout();
    if (!layout) return;
    const selection = this.host.selection();
    const { anchor, focus } = extended(layout, this.dragging!, selection, this.cell());
    if (focus.row === selection.focus.row && focus.column === selection.focus.column) return;
    this.host.choose({ ...selection, anchor, focus });
  }

  /** Keeps scrolling while a drag is held outside the view. */
  private scrollAtEdge(): void {
    if (this.scrolling) return;
    const step = () => {
      this.scrolling = 0;
      if (!this.dragging) return;
      const box = this.host.scroller.getBoundingClientRect();
      const beyond = (at: number, low: number, high: number) => Math.max(at - high, 0) - Math.max(low - at, 0);
      const dx = this.dragging === "row" ? 0 : beyond(this.last.x, box.left + 24, box.right - 24);
      const dy = this.dragging === "column" ? 0 : beyond(this.last.y, box.top + 12, box.bottom - 24);
      if (dx === 0 && dy === 0) return;
      this.host.scroller.scrollBy(dx / 2, dy / 2);
      this.extend();
      this.scrolling = requestAnimationFrame(step);
    };
    this.scrolling = requestAnimationFrame(step);
  }

  private hover(cell: ScreenCell | null): void {
    if (cell?.x === this.hovered?.x && cell?.y === this.hovered?.y) return;
    this.hovered = cell;
    this.host.hover(cell);
  }

  /** The cell nearest to the pointer. */
  private cell(): ScreenCell {
    const box = this.host.cells.getBoundingClientRect();
    return this.host.layout()!.nearest(this.last.x - box.left, this.last.y - box.top);
  }
}

/** The part of the grid that an event came from. */
function partOf(event: Event): Part | null {
  for (const target of event.composedPath()) {
    if (!(target instanceof Element)) return null;
    if (target.matches(".editor")) return null;
    if (target.matches(".corner")) return "corner";
    if (target.matches("[role=columnheader]")) return "column";
    if (target.matches("[role=rowheader]")) return "row";
    if (target.matches("[role=gridcell], .cells")) return "cells";
    if (target.matches(".content")) return null;
  }
  return null;
}

const isHandle = (event: Event) => (event.composedPath()[0] as Element).matches(".handle");

/** What one click on a part takes. */
function blockAt(layout: GridLayout, part: Part, cell: ScreenCell): CellBlock {
  const { row, column } = layout.position(cell);
  const lastRow = layout.rows - 1;
  const lastColumn = layout.columns - 1;
  switch (part) {
    case "cells":
      return { anchor: { row, column }, focus: { row, column } };
    case "row":
      return { anchor: { row, column: lastColumn }, focus: { row, column: 0 } };
    case "column":
      return { anchor: { row: lastRow, column }, focus: { row: 0, column } };
    case "corner":
      return { anchor: { row: lastRow, column: lastColumn }, focus: { row: 0, column: 0 } };
  }
}

/** The block dragged on to a cell; along a header only rows or columns follow. */
function extended(layout: GridLayout, part: Part, { anchor, focus }: CellBlock, cell: ScreenCell): CellBlock {
  const { row, column } = layout.position(cell);
  switch (part) {
    case "cells":
      return { anchor, focus: { row, column } };
    case "row":
      return { anchor: { row: anchor.row, column: layout.columns - 1 }, focus: { row, column: 0 } };
    case "column":
      return { anchor: { row: layout.rows - 1, column: anchor.column }, focus: { row: 0, column } };
    case "corner":
      return { anchor, focus };
  }
}
