/** Where values of a slice lie on its scale: 0 at the low end, 1 at the high one. */
export interface SliceScale {
  readonly low: number;
  readonly high: number;
  share(value: number): number;
}

/**
 * A scale that holds all values with a little room at both ends.
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

const round = (px: number) => Math.round(px * 100) / 100;
