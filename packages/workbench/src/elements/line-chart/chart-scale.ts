import { type ScaleLinear, scaleLinear } from "d3-scale";
import type { ChartAxis } from "./chart-series.ts";

/** An axis laid out on the screen. */
export interface AxisScale {
  readonly place: ScaleLinear<number, number>;
  readonly ticks: readonly number[];
  say(value: number): string;
  /** A value between the ticks, with a decimal more than they have. */
  sayFinely(value: number): string;
}

/** Between two ticks, in px, so that their figures don't touch. */
const ROOM = { x: 74, y: 34 };

/**
 * Lays an axis out over `range` in px.
 *
 * @param values - everything that must be in view where the axis has no domain of its own; NaN doesn't count
 */
export function axisScale(
  axis: ChartAxis,
  values: Iterable<number>,
  range: readonly [number, number],
  side: "x" | "y",
): AxisScale {
  const length = Math.abs(range[1] - range[0]);
  const count = Math.max(2, Math.floor(length / ROOM[side]));
  const place = scaleLinear(axis.domain ?? extent(axis, values), range);
  if (!axis.domain && side === "y") place.nice(count);
  const ticks = place.ticks(count);
  const format = axis.format ?? place.tickFormat(count);
  const finer = axis.format ?? place.tickFormat(count * 10);
  return { place, ticks, say: format, sayFinely: finer };
}

/** The least stretch that holds all values, zero if wished for, and the least span. */
function extent({ zero, leastSpan = 0 }: ChartAxis, values: Iterable<number>): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low > high) return [0, 1];
  if (zero) {
    low = Math.min(0, low);
    high = Math.max(0, high);
  }
  const least = Math.max(leastSpan, low === high ? Math.abs(low) * 0.1 || 1 : 0);
  const widen = Math.max(0, least - (high - low));
  if (zero) return low < 0 ? [low - widen, high] : [low, high + widen];
  return [low - widen / 2, high + widen / 2];
}
