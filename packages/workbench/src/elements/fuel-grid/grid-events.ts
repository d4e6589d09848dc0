import type { Region } from "@fuelwright/table-core";
import type { CellPosition, GridSelection } from "./grid-selection.ts";

const outward = { bubbles: true, composed: true } as const;

/** The user chose other cells, or moved the focus. */
export class SelectionChangeEvent extends Event {
  static readonly type = "fw-selection-change";
  constructor(
    /** The chosen cells by row and column. */
    readonly selection: GridSelection,
    /** The chosen cells in rpm and load. */
    readonly region: Region,
    /** The cell with the focus, row-major [load][rpm]. */
    readonly focused: number,
  ) {
    super(SelectionChangeEvent.type, outward);
  }
}

/** The pointer came to another cell; `at` is row-major, null when it left the cells. */
export class CellHoverEvent extends Event {
  static readonly type = "fw-cell-hover";
  constructor(
    /** Row-major [load][rpm]. */
    readonly at: number | null,
  ) {
    super(CellHoverEvent.type, outward);
  }
}

/**
 * A number or an expression was typed for the selection and entered. The grid applies nothing.
 *
 * `preventDefault()` keeps the field open, as when the text can't be read; say why in the grid's `problem`.
 */
export class CellsTypedEvent extends Event {
  static readonly type = "fw-cells-typed";
  constructor(
    /** As typed, in the shown unit, not empty. */
    readonly text: string,
    /** The chosen cells in rpm and load. */
    readonly region: Region,
    /** The chosen cells by row and column. */
    readonly selection: GridSelection,
  ) {
    super(CellsTypedEvent.type, { ...outward, cancelable: true });
  }
}

/** What stands in the field while typing, so that a host can preview it; null when it was dropped or entered. */
export class TypingEvent extends Event {
  static readonly type = "fw-typing";
  constructor(
    /** As typed so far. */
    readonly text: string | null,
    /** The chosen cells in rpm and load. */
    readonly region: Region,
  ) {
    super(TypingEvent.type, outward);
  }
}

/**
 * Text was pasted. Its first line belongs to the row `at`, further lines to the rows that follow on the screen.
 */
export class PasteTextEvent extends Event {
  static readonly type = "fw-paste-text";
  constructor(
    /** As it stood in the clipboard. */
    readonly text: string,
    /** The cell of the selection at the top left of the screen. */
    readonly at: CellPosition,
    /** What to add to the row for each further line: −1 where load runs upward. */
    readonly rowStep: 1 | -1,
    /** What to add to the column for each further cell of a line. */
    readonly columnStep: 1 | -1,
    /** The chosen cells in rpm and load. */
    readonly region: Region,
    /** The chosen cells by row and column. */
    readonly selection: GridSelection,
  ) {
    super(PasteTextEvent.type, outward);
  }
}

/** Delete was pressed on the selection. */
export class ClearEvent extends Event {
  static readonly type = "fw-clear";
  constructor(
    /** The chosen cells in rpm and load. */
    readonly region: Region,
    /** The chosen cells by row and column. */
    readonly selection: GridSelection,
  ) {
    super(ClearEvent.type, outward);
  }
}

/** Which part of the cells is in view, as shares 0..1 of their whole width and height from the top left. */
export interface ViewedPart {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The grid was scrolled, zoomed or resized. */
export class ViewedPartEvent extends Event {
  static readonly type = "fw-viewed-part";
  constructor(
    /** The part in view. */
    readonly part: ViewedPart,
  ) {
    super(ViewedPartEvent.type, outward);
  }
}

declare global {
  interface HTMLElementEventMap {
    "fw-selection-change": SelectionChangeEvent;
    "fw-cell-hover": CellHoverEvent;
    "fw-cells-typed": CellsTypedEvent;
    "fw-typing": TypingEvent;
    "fw-paste-text": PasteTextEvent;
    "fw-clear": ClearEvent;
    "fw-viewed-part": ViewedPartEvent;
  }
}
