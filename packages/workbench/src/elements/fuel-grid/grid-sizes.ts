import type { FuelTable } from "@fuelwright/table-core";
import { breakpointText, type CellDisplay, figureOf } from "./cell-display.ts";
import type { GridMeasures } from "./grid-view.ts";

/** No cell is wider than this at zoom 1, however much room there is. */
const WIDEST = 96;
/** About the width of a character of a column header, in px. */
const HEADER_CHARACTER = 7.3;

/** Measures figures in the font that the grid has, once for each length and size. */
export class FigureRuler {
  private known = { key: "", px: 0 };

  /** @param probe - an unseen element with the style of a figure */
  constructor(private readonly probe: HTMLElement) {}

  /** Width in px that holds every figure of the table. */
  widest(table: FuelTable, display: CellDisplay, fontSize: number): number {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (const value of table.cells) {
      if (value < least) least = value;
      if (value > most) most = value;
    }
    const ends = [figureOf(display, least), figureOf(display, most)];
    // Room for one digit before the point more or less, so that editing does not widen the grid at once.
    const characters = Math.max(2 + display.decimals, ...ends.map((text) => text.replace("−", "").length));
    const minus = ends.some((text) => text.startsWith("−"));
    const key = `${fontSize} ${characters} ${minus}`;
    if (this.known.key !== key) {
      this.probe.style.fontSize = `${fontSize}px`;
      this.probe.textContent = `${minus ? "−" : ""}${"8".repeat(characters)}`;
      this.known = { key, px: this.probe.getBoundingClientRect().width };
    }
    return this.known.px;
  }
}

/**
 * Width of a cell in whole px: as wide as its figures and headers need, wider where the grid has room to fill.
 *
 * @param figure - px of the widest figure
 * @param room - px in which all columns may lie
 */
export function cellWidthFor(
  table: FuelTable,
  measures: GridMeasures,
  figure: number,
  room: number,
  zoom: number,
): number {
  const fill = Math.min(Math.floor(room / table.rpm.breakpoints.length), Math.round(WIDEST * zoom));
  if (!measures.figures) return Math.max(3, Math.round(40 * zoom), fill);
  const figures = Math.ceil(figure) + measures.signWidth + measures.padding;
  const longest = Math.max(...table.rpm.breakpoints.map((value) => breakpointText(value).length));
  // Headers may ask for some more room, but not rule: where they don't fit, only every second one is shown.
  const headers = Math.min(Math.ceil(longest * HEADER_CHARACTER + 6), Math.round(figures * 1.25));
  return Math.max(figures, headers, fill);
}
