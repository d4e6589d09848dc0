import type { FuelTable } from "@fuelwright/table-core";
import type { CellDisplay } from "./cell-display.ts";
import type { CellMark } from "./cell-marks.ts";
import type { CellShade } from "./cell-shade.ts";
import type { GridLayout } from "./grid-layout.ts";
import type { ResolvedPalette } from "./page-palette.ts";

/** Everything the drawing parts need to know at one moment. */
export interface GridView {
  readonly table: FuelTable;
  readonly before: FuelTable | null;
  readonly change: Float64Array | null;
  readonly display: CellDisplay;
  readonly shade: CellShade;
  readonly marks: ReadonlyMap<number, readonly CellMark[]>;
  readonly deviation: Float64Array | null;
  readonly layout: GridLayout;
  readonly measures: GridMeasures;
  readonly palette: ResolvedPalette;
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
    signWidth: Math.round((compact ? 11 : 14) * zoom),
    figures: fontSize >= 6,
  };
}
