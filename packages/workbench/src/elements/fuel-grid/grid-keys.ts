import type { GridLayout, ScreenCell } from "./grid-layout.ts";
import { type GridSelection, oneCell } from "./grid-selection.ts";

/** What a key asks of the grid. */
export type GridAction =
  | { readonly kind: "select"; readonly selection: GridSelection }
  | { readonly kind: "edit" }
  | { readonly kind: "type" }
  | { readonly kind: "clear" }
  | { readonly kind: "copy-with-axes" }
  | { readonly kind: "collapse" };

/** The parts of a keyboard event that count. */
export type GridKey = Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "shiftKey" | "altKey">;

/**
 * The action of a key by the ARIA grid pattern and spreadsheet habit; null leaves the key to the browser.
 *
 * Arrows move as the screen shows and do not wrap. Home and End go along the row, with Ctrl to the first and last cell of
 * the screen; Page Up and Down by `page` rows. Shift takes the selection along; Ctrl+arrow goes to the edge.
 * Ctrl+Space selects columns, Shift+Space rows, Ctrl+A all. F2, Enter and any printing key edit.
 */
export function gridAction(
  event: GridKey,
  selection: GridSelection,
  layout: GridLayout,
  page: number,
  readonly: boolean,
): GridAction | null {
  const { key, shiftKey, altKey } = event;
  const ctrl = event.ctrlKey || event.metaKey;
  const lastRow = layout.rows - 1;
  const lastColumn = layout.columns - 1;
  if (key === " ") {
    const { anchor, focus } = selection;
    if (ctrl && !shiftKey)
      return select({ anchor: { row: 0, column: anchor.column }, focus: { row: lastRow, column: focus.column } });
    if (shiftKey && !ctrl)
      return select({ anchor: { row: anchor.row, column: 0 }, focus: { row: focus.row, column: lastColumn } });
    if (shiftKey && ctrl) return select(all(layout));
    // A bare space would scroll the page away under the grid.
    return { kind: "collapse" };
  }
  if (ctrl && !altKey && !shiftKey && key.toLowerCase() === "a") return select(all(layout));
  if (ctrl && !altKey && shiftKey && key.toLowerCase() === "c") return { kind: "copy-with-axes" };
  if (key === "Escape") return isOneCell(selection) ? null : { kind: "collapse" };

  const to = target(key, ctrl, layout.screen(selection.focus), layout, page);
  if (to && !altKey) {
    const focus = layout.position(to);
    return select(shiftKey ? { ...selection, focus } : oneCell(focus));
  }
  if (readonly) return null;
  if ((key === "Delete" || key === "Backspace") && !ctrl && !altKey) return { kind: "clear" };
  if (key === "F2" || (key === "Enter" && !ctrl && !altKey)) return { kind: "edit" };
  // AltGr reports Ctrl and Alt together, and prints.
  const prints = key.length === 1 && (ctrl === altKey || (altKey && !ctrl));
  return prints && !event.metaKey ? { kind: "type" } : null;
}

const select = (selection: GridSelection): GridAction => ({ kind: "select", selection });

const all = (layout: GridLayout): GridSelection => ({
  anchor: { row: 0, column: 0 },
  focus: { row: layout.rows - 1, column: layout.columns - 1 },
});

export function isOneCell({ anchor, focus, also }: GridSelection): boolean {
  return anchor.row === focus.row && anchor.column === focus.column && !also?.length;
}

function target(key: string, ctrl: boolean, from: ScreenCell, layout: GridLayout, page: number): ScreenCell | null {
  const right = layout.columns - 1;
  const bottom = layout.rows - 1;
  switch (key) {
    case "ArrowLeft":
      return { ...from, x: ctrl ? 0 : Math.max(0, from.x - 1) };
    case "ArrowRight":
      return { ...from, x: ctrl ? right : Math.min(right, from.x + 1) };
    case "ArrowUp":
      return { ...from, y: ctrl ? 0 : Math.max(0, from.y - 1) };
    case "ArrowDown":
      return { ...from, y: ctrl ? bottom : Math.min(bottom, from.y + 1) };
    case "Home":
      return { x: 0, y: ctrl ? 0 : from.y };
    case "End":
      return { x: right, y: ctrl ? bottom : from.y };
    case "PageUp":
      return { ...from, y: Math.max(0, from.y - page) };
    case "PageDown":
      return { ...from, y: Math.min(bottom, from.y + page) };
    default:
      return null;
  }
}
