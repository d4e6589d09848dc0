import type { ScreenWindow } from "./grid-layout.ts";
import type { GridView } from "./grid-view.ts";

/** A row's figures in one ink after another. */
interface RowText {
  readonly element: HTMLElement;
  readonly runs: { readonly element: HTMLElement; readonly node: Text; text: string; ink: string }[];
}

/**
 * The figures: one text node a row.
 *
 * Every figure is padded with figure spaces to the same width, and the space between two words is made as wide as is
 * missing to a cell: so a row is one run of text that the browser shapes and paints at once. Where a tint needs another
 * ink, the row is split there. Minus signs, which are not as wide as a figure, belong to the marks.
 */
export class RowTexts {
  private rows: RowText[] = [];

  constructor(private readonly layer: HTMLElement) {}

  /** Brings the text of the window up to date: of all rows, or only of those that `changed` marks with 1. */
  update(view: GridView, window: ScreenWindow, changed: Uint8Array | null): void {
    const count = window.y1 - window.y0;
    while (this.rows.length > count) this.rows.pop()!.element.remove();
    while (this.rows.length < count) {
      const element = document.createElement("div");
      this.layer.append(element);
      this.rows.push({ element, runs: [] });
    }
    this.rows.forEach((row, at) => {
      if (!changed || changed[window.y0 + at]) updateRow(row, view, window, window.y0 + at);
    });
  }

  clear(): void {
    for (const row of this.rows) row.element.remove();
    this.rows = [];
  }
}

function updateRow(row: RowText, view: GridView, window: ScreenWindow, y: number): void {
  const { table, display, layout, figures, shade } = view;
  const { ink: inkOf, inks } = shade.ramp;
  const { decimals } = display;
  const blank = unknownFigure(figures.characters, decimals);
  let run = 0;
  let text = "";
  let ink = inks[0]!;
  for (let x = window.x0; x < window.x1; x++) {
    const at = layout.at(x, y);
    const own = inks.length === 1 ? ink : inks[inkOf[shade.tint[at]!]!]!;
    if (own !== ink) {
      if (text !== "") setRun(row, run++, text, ink);
      text = "";
      ink = own;
    }
    const shown = display.show(table.cells[at]!);
    const figure = Math.abs(shown).toFixed(decimals);
    text += Number.isFinite(shown) ? figure.padStart(figures.characters, "\u2007") : blank;
    text += " ";
  }
  if (text !== "") setRun(row, run++, text, ink);
  while (row.runs.length > run) row.runs.pop()!.element.remove();
}

/** As wide as a figure: only its point, where a value can't be shown. */
function unknownFigure(characters: number, decimals: number): string {
  if (decimals === 0) return "\u2007".repeat(characters);
  return `${"\u2007".repeat(characters - decimals - 1)}.${"\u2007".repeat(decimals)}`;
}

function setRun(row: RowText, at: number, text: string, ink: string): void {
  let run = row.runs[at];
  if (!run) {
    const element = document.createElement("span");
    const node = document.createTextNode("");
    element.append(node);
    row.element.append(element);
    run = { element, node, text: "", ink: "" };
    row.runs.push(run);
  }
  if (run.text !== text) {
    run.node.data = text;
    run.text = text;
  }
  if (run.ink !== ink) {
    run.element.style.color = ink;
    run.ink = ink;
  }
}
