import { figureOf } from "./cell-display.ts";
import type { ScreenWindow } from "./grid-layout.ts";
import type { GridView } from "./grid-view.ts";

/** Before a minus sign, so that it stays left of its figure in a line that runs from the right. */
const LEFT_TO_RIGHT = "\u200e";

interface RowText {
  readonly element: HTMLElement;
  /** One node for each ink in use, the text ink of the page first. */
  readonly nodes: Text[];
}

/**
 * The figures: one text node a row and ink.
 *
 * A row runs from right to left with a tab after each figure and tab stops as wide as a cell, so that figures stand
 * right-aligned in their cells whatever the font. Where a tint needs another ink, a second node of the same row holds
 * those figures and the first leaves them out: the number of nodes stays that of rows times inks in use.
 */
export class RowTexts {
  private rows: RowText[] = [];

  constructor(private readonly layer: HTMLElement) {}

  /** Brings the text of the window up to date; touches only rows that read differently. */
  update(view: GridView, window: ScreenWindow): void {
    const count = window.y1 - window.y0;
    while (this.rows.length > count) this.rows.pop()!.element.remove();
    while (this.rows.length < count) {
      const element = document.createElement("div");
      this.layer.append(element);
      this.rows.push({ element, nodes: [] });
    }
    this.rows.forEach((row, at) => {
      const texts = rowTexts(view, window, window.y0 + at);
      for (let ink = 0; ink < texts.length; ink++) setText(row, ink, texts[ink]!, view.shade.ramp.inks[ink]!);
      while (row.nodes.length > texts.length) row.nodes.pop()!.parentElement!.remove();
    });
  }

  clear(): void {
    for (const row of this.rows) row.element.remove();
    this.rows = [];
  }
}

function setText(row: RowText, ink: number, text: string, colour: string): void {
  let node = row.nodes[ink];
  if (!node) {
    const line = document.createElement("span");
    node = document.createTextNode("");
    line.append(node);
    row.element.append(line);
    row.nodes.push(node);
  }
  if (node.data !== text) node.data = text;
  const line = node.parentElement!;
  if (line.dataset.ink !== colour) {
    line.dataset.ink = colour;
    line.style.color = colour;
  }
}

/** The text of one row for each ink, rightmost cell first. */
function rowTexts({ table, display, shade, layout }: GridView, window: ScreenWindow, y: number): string[] {
  const { ink: inkOf, inks } = shade.ramp;
  if (inks.length === 1) {
    let text = "";
    for (let x = window.x1 - 1; x >= window.x0; x--) {
      const figure = figureOf(display, table.cells[layout.at(x, y)]!);
      text += figure.charCodeAt(0) === 0x2212 ? LEFT_TO_RIGHT + figure : figure;
      if (x > window.x0) text += "\t";
    }
    return [text];
  }
  const texts = inks.map(() => "");
  for (let x = window.x1 - 1; x >= window.x0; x--) {
    const at = layout.at(x, y);
    const figure = figureOf(display, table.cells[at]!);
    texts[inkOf[shade.tint[at]!]!] += figure.charCodeAt(0) === 0x2212 ? LEFT_TO_RIGHT + figure : figure;
    if (x > window.x0) for (let ink = 0; ink < texts.length; ink++) texts[ink] += "\t";
  }
  return texts;
}
