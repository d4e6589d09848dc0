import { requirePositive, requireWithin } from "../values/require.ts";

/** What a wideband sensor can show, in lambda, where nothing better is known: typical, from memory. */
export const typicalWidebandRange: readonly [from: number, to: number] = Object.freeze([0.6, 2] as const);

/** Settings of {@link widebandView}. */
export interface WidebandView {
  /** Mixture that leaves the cylinder, held over each step; no fuel at all may be Infinity. */
  readonly lambda: ArrayLike<number>;
  readonly stepS: number;
  /** Way of the gas to the sensor, and the sensor's own dead time. */
  readonly delayS: number;
  /** Seconds in which the sensor has followed 63 % of a step. */
  readonly lagS: number;
  /** What it can show; default {@link typicalWidebandRange}. */
  readonly reads?: readonly [from: number, to: number];
}

/**
 * What a wideband sensor shows of a mixture, at the end of each step: later by the delay, smoothed by a first-order lag, and
 * within what it can show. Exact for mixtures that hold over each step; steady before the first. O(steps).
 *
 * The lag works on the logarithm of lambda, so that rich and lean are followed alike. Left out: mixing on the way, pressure,
 * and false air.
 *
 * @throws FuelwrightError `not-positive`, `out-of-range`, naming the step
 */
export function widebandView({
  lambda,
  stepS,
  delayS,
  lagS,
  reads = typicalWidebandRange,
}: WidebandView): Float64Array {
  requirePositive("widebandView: stepS", stepS);
  requireWithin("widebandView: delayS", delayS, 0, 10);
  requireWithin("widebandView: lagS", lagS, 0, 10);
  const [from, to] = reads;
  requirePositive("widebandView: reads[0]", from);
  requireWithin("widebandView: reads[1]", to, from, 100);
  const logs = Float64Array.from(lambda, (value, at) => {
    if (value !== Number.POSITIVE_INFINITY) requirePositive(`widebandView: lambda[${at}]`, value);
    return Math.log(Math.min(to, Math.max(from, value)));
  });
  // The delay ends inside a step: until then the gas before arrives, from then on the next.
  const whole = Math.floor(delayS / stepS);
  const early = delayS - whole * stepS;
  const kept = (seconds: number) => (lagS > 0 ? Math.exp(-seconds / lagS) : seconds > 0 ? 0 : 1);
  const keepFirst = kept(early);
  const keepThen = kept(stepS - early);
  let shown = logs[0] ?? 0;
  const view = new Float64Array(logs.length);
  for (let at = 0; at < logs.length; at++) {
    const before = logs[Math.max(0, at - whole - 1)]!;
    const now = logs[Math.max(0, at - whole)]!;
    shown = before + (shown - before) * keepFirst;
    shown = now + (shown - now) * keepThen;
    view[at] = Math.exp(shown);
  }
  return view;
}
