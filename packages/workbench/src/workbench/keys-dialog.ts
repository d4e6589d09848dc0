import { html } from "lit";
import { customElement } from "lit/decorators.js";
import { PageDialog } from "../leaves/page-dialog.ts";

const keys: readonly (readonly [string, string])[] = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move in the grid; with Ctrl to its ends"],
  ["Shift and any of these", "select"],
  ["Ctrl+A, Ctrl+Space, Shift+Space", "select all, the column, the row"],
  ["Type a number, Enter", "set the selection"],
  ["Type an expression such as cell * 1.05, Enter", "change the selection by it"],
  ["F2 or Enter", "edit the cell; Escape leaves it as it was"],
  ["Ctrl+C, Ctrl+V", "copy and paste, also with spreadsheets; Ctrl+Shift+C copies with the axes"],
  ["Ctrl+Z, Ctrl+Shift+Z", "undo, redo"],
  ["On the strip: left, right, Enter, Space, Delete", "go along, open, switch on or off, delete"],
  ["On the strip: Alt with left or right", "move the step"],
];

/** What the keys do. */
@customElement("fw-keys-dialog")
export class KeysDialog extends PageDialog {
  protected override heading = "Keys";

  protected override content() {
    return html`<dl class="keys">${keys.map(([key, what]) => html`<dt>${key}</dt><dd>${what}</dd>`)}</dl>`;
  }
}
