import type { FuelTable } from "@fuelwright/table-core";
import { type AxesDisplay, breakpointTexts } from "./cell-display.ts";
import type { FigureMeasures } from "./figure-ruler.ts";
import type { GridMeasures } from "./grid-view.ts";

/** No cell is wider than this at zoom 1, however much room there is. */
const WIDEST = 96;
/** About the width of a character of a column header, in px. */
const HEADER_CHARACTER = 7.3;

/** Left and right of a figure where columns are squeezed so that all of them are in view, in px at zoom 1. */
const TIGHT = 2;

/**
 * Width of a cell in whole px: as wide as its figures and headers need, wider where the grid has room to fill, and
 * narrower where that spares the scrolling.
 *
 * @param room - px in which all columns may lie
 */
export function cellWidthFor(
  table: FuelTable,
  axes: AxesDisplay | null,
  measures: GridMeasures,
  figure: FigureMeasures,
  room: number,
  zoom: number,
): number {
  const fill = Math.min(Math.floor(room / table.rpm.breakpoints.length), Math.round(WIDEST * zoom));
  if (!measures.figures) return Math.max(3, Math.round(40 * zoom), fill);
  const figures = Math.ceil(figure.width) + figure.minus + measures.signWidth + measures.padding;
  const longest = Math.max(...breakpointTexts(table.rpm, axes?.rpm).map((text) => text.length));
  // Headers may ask for some more room, but not rule: where they don't fit, only every second one is shown.
  const headers = Math.min(Math.ceil(longest * HEADER_CHARACTER + 6), Math.round(figures * 1.25));
  const least = Math.ceil(figure.width) + figure.minus + 2 * Math.max(2, Math.round(TIGHT * zoom));
  return fill >= least ? fill : Math.max(figures, headers);
}

/** The measures in cells of that width: where it is squeezed, signs stand over the figures and not before them. */
export function measuresIn(cellWidth: number, measures: GridMeasures, figure: FigureMeasures): GridMeasures {
  const room = cellWidth - figure.width - figure.minus;
  if (room >= measures.signWidth + measures.padding) return measures;
  return { ...measures, signWidth: 0, padding: Math.max(1, Math.min(measures.padding, Math.floor(room / 2))) };
}
