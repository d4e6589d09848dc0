import { type FuelTable, sameAxis } from "@fuelwright/table-core";
import { type AxesDisplay, type CellDisplay, sameAxes, sameDisplay } from "./cell-display.ts";
import type { CellMark } from "./cell-marks.ts";
import type { CellShade } from "./cell-shade.ts";
import type { FigureMeasures } from "./figure-ruler.ts";
import type { GridLayout } from "./grid-layout.ts";

/** Everything the drawing parts need to know at one moment. */
export interface GridView {
  readonly table: FuelTable;
  readonly before: FuelTable | null;
  readonly change: Float64Array | null;
  readonly display: CellDisplay;
  readonly axes: AxesDisplay | null;
  readonly shade: CellShade;
  readonly marks: ReadonlyMap<number, readonly CellMark[]>;
  readonly deviation: Float64Array | null;
  /** The deviation that is drawn as long as a cell is wide. */
  readonly greatestDeviation: number;
  readonly layout: GridLayout;
  readonly measures: GridMeasures;
  readonly figures: FigureMeasures;
}

/** Sizes in px at the grid's density and zoom. */
export interface GridMeasures {
  readonly fontSize: number;
  readonly cellHeight: number;
  /** Between a figure and the right side of its cell. */
  readonly padding: number;
  /** Left of the figure, for the sign of the change. */
  readonly signWidth: number;
  /** Whether cells are large enough for figures to be read. */
  readonly figures: boolean;
}

/** @param zoom - 1 is the plain size; below about a half only tints are left */
export function gridMeasures(density: "comfortable" | "compact", zoom: number): GridMeasures {
  const compact = density === "compact";
  const fontSize = (compact ? 12 : 13) * zoom;
  return {
    fontSize,
    cellHeight: Math.max(3, Math.round((compact ? 21 : 27) * zoom)),
    padding: Math.max(1, Math.round((compact ? 5 : 7) * zoom)),
    signWidth: Math.round((compact ? 14 : 18) * zoom),
    figures: fontSize >= 6,
  };
}

/** The greatest of the values that are numbers; 0 if none is above it. */
export function greatest(values: Float64Array): number {
  let most = 0;
  for (const value of values) if (value > most && value < Number.POSITIVE_INFINITY) most = value;
  return most;
}

/**
 * Which rows of the screen have to be drawn again to get from one view to the next: 1 for those that have; null if all.
 *
 * Rows count from the top. Comparing all cells costs far less than drawing one row.
 */
export function changedRows(last: GridView | null, view: GridView): Uint8Array | null {
  const { layout, table, change, shade } = view;
  if (
    !last?.layout.sameOrder(layout) ||
    last.layout.cellWidth !== layout.cellWidth ||
    last.layout.cellHeight !== layout.cellHeight ||
    last.measures.fontSize !== view.measures.fontSize ||
    last.figures.characters !== view.figures.characters ||
    last.figures.minus !== view.figures.minus ||
    !sameDisplay(last.display, view.display) ||
    !sameAxes(last.axes, view.axes) ||
    last.shade.ramp !== shade.ramp ||
    last.marks !== view.marks ||
    last.deviation !== view.deviation ||
    (last.change === null) !== (change === null) ||
    (last.before === null) !== (view.before === null) ||
    !sameAxis(last.table.rpm, table.rpm) ||
    !sameAxis(last.table.load, table.load)
  )
    return null;
  const rows = new Uint8Array(layout.rows);
  for (let y = 0; y < layout.rows; y++) {
    const from = layout.row(y) * layout.columns;
    for (let at = from; at < from + layout.columns; at++)
      if (
        last.table.cells[at] !== table.cells[at] ||
        last.shade.tint[at] !== shade.tint[at] ||
        (change && last.change![at] !== change[at])
      ) {
        rows[y] = 1;
        break;
      }
  }
  return rows;
}
