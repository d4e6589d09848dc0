import type { FuelTable } from "../values/fuel-table.ts";
import { round } from "./picture.ts";

/** A row runs along rpm, a column along load. */
export type SliceDirection = "rpm" | "load";

/** The cells of a table's row or column, row-major indices in rising order of its axis. */
export function sliceCells(table: Pick<FuelTable, "rpm" | "load">, along: SliceDirection, cell: number): number[] {
  const columns = table.rpm.breakpoints.length;
  if (along === "rpm") {
    const from = Math.floor(cell / columns) * columns;
    return table.rpm.breakpoints.map((_, column) => from + column);
  }
  return table.load.breakpoints.map((_, row) => row * columns + (cell % columns));
}

/** Where values of a slice lie on its scale: 0 at the low end, 1 at the high one. */
export interface SliceScale {
  /** Where the scale begins, in the values' unit. */
  readonly low: number;
  /** Where it ends. */
  readonly high: number;
  /** Where a value lies between `low`, 0, and `high`, 1. */
  share(value: number): number;
}

/**
 * A scale that holds all values.
 *
 * @param least - a span smaller than this share of the greatest value is widened to it, so that rounding does not look
 *   like a mountain range
 */
export function sliceScale(values: Iterable<number>, least = 0.05): SliceScale {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (low > high) return { low: 0, high: 1, share: () => 0.5 };
  const widen = Math.max(0, (least * Math.max(Math.abs(low), Math.abs(high), 1e-9) - (high - low)) / 2);
  const from = low - widen;
  const span = high + widen - from;
  return { low, high, share: (value) => (value - from) / span };
}

/** SVG path through points; a value that can't be shown leaves a gap. */
export function slicePath(points: readonly (readonly [x: number, y: number])[]): string {
  let path = "";
  let pen = "M";
  for (const [x, y] of points) {
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      pen = "M";
      continue;
    }
    path += `${pen}${round(x)},${round(y)}`;
    pen = "L";
  }
  return path;
}
