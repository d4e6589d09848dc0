import { requireWithin } from "../values/require.ts";
import type { AxesShownAs, ShownAs } from "./figures.ts";
import type { Inks } from "./inks.ts";

/** What every plot takes. */
export interface PlotOptions {
  /** Colours; left out: `lightInks`. */
  readonly inks?: Inks;
  /** Left out: the plot names what it shows. */
  readonly title?: string;
  /** Whether the title is also drawn; true if left out. A page that has it as a caption says false. */
  readonly heading?: boolean;
  /** Width of the picture in px of 1/96 inch, 160..4000; left out: as the plot says. Text has one size whatever the width. */
  readonly width?: number;
}

/** How values of a table are shown in a plot; left out: in their own units. */
export interface ShownOptions {
  readonly shown?: ShownAs;
  readonly axes?: AxesShownAs;
}

/** @throws FuelwrightError `not-finite`, `out-of-range` */
export const requireWidth = (operation: string, width: number | undefined, usual: number): number =>
  requireWithin(`${operation}: width`, width ?? usual, 160, 4000);
