import { scaleLinear } from "d3-scale";
import type { ChartAxis } from "./series.ts";

/** An axis laid out in px. */
export interface AxisScale {
  /** In the axis' unit. */
  readonly domain: readonly [from: number, to: number];
  /** In px, where the domain's ends lie. */
  readonly range: readonly [from: number, to: number];
  /** Values with a figure, in the axis' unit. */
  readonly ticks: readonly number[];
  /** A value to px; beyond the domain it goes on. */
  place(value: number): number;
  /** Back from px. */
  valueAt(px: number): number;
  /** A value with as many decimals as the ticks need. */
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
  const scale = scaleLinear(axis.domain ?? extent(axis, values), range);
  if (!axis.domain && side === "y") scale.nice(count);
  return {
    domain: scale.domain() as [number, number],
    range,
    ticks: scale.ticks(count),
    place: (value) => scale(value),
    valueAt: (px) => scale.invert(px),
    say: axis.format ?? scale.tickFormat(count),
    sayFinely: axis.format ?? scale.tickFormat(count * 10),
  };
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
