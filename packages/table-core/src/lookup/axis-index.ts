import type { Axis } from "../values/axis.ts";

/**
 * An axis laid out so that the breakpoint below a value is found without a search.
 *
 * The axis is cut into equal buckets, narrow enough that at most one breakpoint falls into each. A value's bucket gives
 * the last breakpoint before the bucket (`start`) and the one inside it (`cut`, Infinity where there is none), so one
 * comparison decides.
 */
export interface AxisIndex {
  /** The breakpoints. */
  readonly edges: Float64Array;
  /** The first breakpoint, and the last. */
  readonly low: number;
  /** See `low`. */
  readonly high: number;
  /** Buckets in each unit of the axis. */
  readonly scale: number;
  /** For each bucket the last breakpoint before it. */
  readonly start: Int32Array;
  /** For each bucket the breakpoint inside it; Infinity where there is none. */
  readonly cut: Float64Array;
  /** False where breakpoints lie too unevenly for buckets; then they are found by halving. */
  readonly direct: boolean;
}

/** Enough for any axis whose widest and narrowest gaps differ less than a thousandfold or so. */
export const MOST_BUCKETS = 4096;

const indexes = new WeakMap<Axis, AxisIndex>();

/** The axis's index, built once for each axis. O(breakpoints + buckets) the first time. */
export function axisIndex(axis: Axis): AxisIndex {
  let index = indexes.get(axis);
  if (!index) indexes.set(axis, (index = buildIndex(axis.breakpoints)));
  return index;
}

/**
 * Number of the last breakpoint that is not above `value`, which must lie within the axis.
 *
 * The top breakpoint itself gives the last number, one more than the number of the last cell.
 */
export function findBreakpoint(index: AxisIndex, value: number): number {
  if (index.direct) {
    const bucket = ((value - index.low) * index.scale) | 0;
    return index.start[bucket]! + (value >= index.cut[bucket]! ? 1 : 0);
  }
  const { edges } = index;
  let below = 0;
  let above = edges.length;
  while (above - below > 1) {
    const middle = (below + above) >> 1;
    if (value >= edges[middle]!) below = middle;
    else above = middle;
  }
  return below;
}

function buildIndex(breakpoints: readonly number[]): AxisIndex {
  const edges = Float64Array.from(breakpoints);
  const low = edges[0]!;
  const high = edges[edges.length - 1]!;
  let narrowest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < edges.length; i++) narrowest = Math.min(narrowest, edges[i]! - edges[i - 1]!);
  // A little more than one bucket in the narrowest gap, so that rounding cannot put two breakpoints into one.
  const scale = edges.length === 1 ? 0 : (1 + 1e-9) / narrowest;
  const span = (high - low) * scale;
  if (!(span < MOST_BUCKETS - 1))
    return { edges, low, high, scale: 0, start: new Int32Array(0), cut: new Float64Array(0), direct: false };
  const buckets = (span | 0) + 1;
  const start = new Int32Array(buckets);
  const cut = new Float64Array(buckets).fill(Number.POSITIVE_INFINITY);
  // The same arithmetic as the lookup's: rounding is monotone, so a value never falls into a bucket below its breakpoint's.
  for (let i = 1; i < edges.length; i++) {
    const bucket = ((edges[i]! - low) * scale) | 0;
    cut[bucket] = edges[i]!;
    start.fill(i, bucket + 1);
  }
  return { edges, low, high, scale, start, cut, direct: true };
}
