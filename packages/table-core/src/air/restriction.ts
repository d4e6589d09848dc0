import { findRoot } from "../numeric/find-root.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePositive, requireWithin } from "../values/require.ts";
import { CRITICAL_PRESSURE_RATIO, massFlux } from "./nozzle.ts";

/** Air through two restrictions one behind the other. */
export interface SeriesFlow {
  readonly gramsPerSecond: number;
  /** Between the two. */
  readonly betweenKpa: number;
  /** Where the air reaches the speed of sound. */
  readonly choked: "first" | "second" | null;
}

/**
 * Air through two compressible orifices in series, each told by the area of an ideal nozzle that flows as much.
 *
 * What the first lets through the second lets through: the pressure between is solved for. Behind each the speed is lost
 * and the temperature at rest is that before it (an adiabatic throttle).
 *
 * @param pair - effective areas, `upstreamKpa` and `temperatureC` at rest in front, `downstreamKpa` behind
 * @throws FuelwrightError `not-positive`, `out-of-range`
 * @see NACA Report 1135 (1953) for each orifice
 */
export function seriesFlow(pair: {
  readonly firstAreaMm2: number;
  readonly secondAreaMm2: number;
  readonly upstreamKpa: number;
  readonly temperatureC: number;
  readonly downstreamKpa: number;
}): SeriesFlow {
  requirePositive("seriesFlow: firstAreaMm2", pair.firstAreaMm2);
  requirePositive("seriesFlow: secondAreaMm2", pair.secondAreaMm2);
  requirePositive("seriesFlow: upstreamKpa", pair.upstreamKpa);
  requireWithin("seriesFlow: downstreamKpa", pair.downstreamKpa, 0, Number.MAX_VALUE);
  requireWithin("seriesFlow: temperatureC", pair.temperatureC, -150, 500);
  const kelvin = pair.temperatureC + 273.15;
  const { upstreamKpa, downstreamKpa } = pair;
  const between = betweenPressure(pair.firstAreaMm2, pair.secondAreaMm2, upstreamKpa, kelvin, downstreamKpa);
  const first = pair.firstAreaMm2 * massFlux(upstreamKpa, kelvin, between);
  const second = pair.secondAreaMm2 * massFlux(between, kelvin, downstreamKpa);
  return {
    // mm² · kg/(s m²) is mg/s. Near no flow the smaller of the two is the one without the other's rounding.
    gramsPerSecond: Math.min(first, second) / 1000,
    betweenKpa: between,
    choked: isChoked(upstreamKpa, between) ? "first" : isChoked(between, downstreamKpa) ? "second" : null,
  };
}

/** Pressure between two orifices in kPa, unchecked. */
export function betweenPressure(
  firstMm2: number,
  secondMm2: number,
  upstreamKpa: number,
  kelvin: number,
  downstreamKpa: number,
): number {
  if (downstreamKpa >= upstreamKpa) return upstreamKpa;
  const excess = (kpa: number) =>
    secondMm2 * massFlux(kpa, kelvin, downstreamKpa) - firstMm2 * massFlux(upstreamKpa, kelvin, kpa);
  return findRoot(excess, downstreamKpa, upstreamKpa);
}

const isChoked = (upstreamKpa: number, downstreamKpa: number) => downstreamKpa <= CRITICAL_PRESSURE_RATIO * upstreamKpa;

/** One or two orifices in series as one characteristic: mass flow over the pressure ratio across all of it. */
export interface Restriction {
  /** mg/s from outside pressure to `ratio` times it, solved for. Falls to 0 at ratio 1. */
  solvedAt(ratio: number): number;
  /** The same, read off the characteristic. */
  flowAt(ratio: number): number;
  /** mg/s that it passes at most. */
  readonly most: number;
  /** The characteristic's points: mg/s at equal steps of √(1 - ratio) from 0 to 1. */
  readonly flows: Float64Array;
}

/** Points of the characteristic; over √(1 - ratio) it is nearly straight, so that few do. */
const POINTS = 512;

/**
 * The characteristic of the restrictions, made once and read quickly many times.
 *
 * Linear between 512 points over √(1 - ratio): within 1e-5 of the greatest flow.
 *
 * @param areasMm2 - effective areas from outside in; one or two
 */
export function restriction(areasMm2: readonly number[], upstreamKpa: number, kelvin: number): Restriction {
  const [first, second] = areasMm2;
  if (first === undefined)
    throw new FuelwrightError("intake-unknown", "restriction: at least one area must be given; describe a part", {});
  const solvedAt = (ratio: number) => {
    const downstream = ratio * upstreamKpa;
    const into = second === undefined ? downstream : betweenPressure(first, second, upstreamKpa, kelvin, downstream);
    return first * massFlux(upstreamKpa, kelvin, into);
  };
  const flows = new Float64Array(POINTS + 1);
  for (let at = 1; at <= POINTS; at++) flows[at] = solvedAt(1 - (at / POINTS) ** 2);
  return {
    most: flows[POINTS]!,
    flows,
    solvedAt,
    flowAt(ratio) {
      if (ratio >= 1) return 0;
      const along = Math.sqrt(1 - Math.max(ratio, 0)) * POINTS;
      const at = Math.min(Math.floor(along), POINTS - 1);
      const share = along - at;
      return flows[at]! * (1 - share) + flows[at + 1]! * share;
    },
  };
}
