import { type FuellingConditions, planningOf } from "../fuel/conditions.ts";
import type { InjectorSpec } from "../fuel/injector.ts";
import { requirePositive, requireWhole, requireWithin } from "../values/require.ts";
import { throughInjectors } from "./steady-state.ts";

/** Settings of {@link raiseDemand}. */
export interface RaiseDemand {
  readonly build: FuellingConditions & { readonly injectors: InjectorSpec };
  readonly rpm: number;
  /** Across the injectors. */
  readonly pressureKpa: number;
  /** Fuel for one cylinder and cycle at demand 1, and the mixture commanded. */
  readonly massMg: number;
  readonly lambda: number;
  /** Demand that is gone up to; default 2. */
  readonly highest?: number;
  /** Default 101. */
  readonly points?: number;
  /** A demand that is looked at by itself; default 1. */
  readonly at?: number;
}

/** What the injectors do at one demand; masses for one cylinder and cycle. */
export interface DemandPoint {
  /** Air, and so fuel, against what is asked now; 1 is now. */
  readonly demand: number;
  readonly askedMg: number;
  readonly pulseMs: number;
  /** As a fraction; 1 is always open. */
  readonly duty: number;
  readonly deliveredMg: number;
  readonly deliveredLambda: number;
}

/** What happens as the engine asks for more. */
export interface RaisedDemand {
  /** Air, and so fuel, against what is asked now. */
  readonly demand: Float64Array;
  readonly askedMg: Float64Array;
  readonly pulseMs: Float64Array;
  /** As fractions; 1 is always open. */
  readonly duty: Float64Array;
  readonly deliveredMg: Float64Array;
  /** Mixture in the cylinder; what is commanded stays. */
  readonly deliveredLambda: Float64Array;
  /** From which demand on duty passes the planning ceiling, the injectors never close, and the mixture is leaner than commanded; null: not reached. */
  readonly planningFrom: number | null;
  /** See `planningFrom`. */
  readonly staticFrom: number | null;
  /** See `planningFrom`. */
  readonly leanFrom: number | null;
  /** At the demand that is looked at. */
  readonly chosen: DemandPoint;
}

/**
 * Injectors that become too small: demand raised from half of now to `highest`, with duty, and the mixture that then really
 * arrives. O(points).
 *
 * At the moment the pulse fills the cycle nothing is lost to dead time any more, so that a little more arrives than is asked;
 * from there on nothing is added, and every percent of demand is a percent leaner.
 *
 * @throws FuelwrightError `not-positive`, `out-of-range`, `not-whole`
 */
export function raiseDemand(settings: RaiseDemand): RaisedDemand {
  const { build, rpm, pressureKpa, massMg, lambda, highest = 2, points = 101 } = settings;
  const where = "raiseDemand";
  requirePositive(`${where}: rpm`, rpm);
  requirePositive(`${where}: pressureKpa`, pressureKpa);
  requirePositive(`${where}: massMg`, massMg);
  requirePositive(`${where}: lambda`, lambda);
  requireWithin(`${where}: highest`, highest, 0.6, 20);
  requireWhole(`${where}: points`, points, 2, 10_000);
  const lowest = 0.5;
  const demand = Float64Array.from({ length: points }, (_, at) => lowest + (at / (points - 1)) * (highest - lowest));
  const at = (factor: number): DemandPoint => {
    const askedMg = massMg * factor;
    const given = throughInjectors(build, build.fuel, { rpm, pressureKpa, massMg: askedMg });
    return { demand: factor, askedMg, ...given, deliveredLambda: (lambda * askedMg) / given.deliveredMg };
  };
  const all = Array.from(demand, at);
  const each = (key: keyof DemandPoint) => Float64Array.from(all, (point) => point[key]);
  const dutyFrom = (limit: number) => firstFrom(lowest, highest, (factor) => at(factor).duty >= limit);
  const staticFrom = dutyFrom(1);
  return {
    demand,
    askedMg: each("askedMg"),
    pulseMs: each("pulseMs"),
    duty: each("duty"),
    deliveredMg: each("deliveredMg"),
    deliveredLambda: each("deliveredLambda"),
    planningFrom: dutyFrom(planningOf(build)),
    staticFrom,
    leanFrom:
      staticFrom === null
        ? null
        : firstFrom(staticFrom, highest, (factor) => at(factor).deliveredMg < at(factor).askedMg),
    chosen: at(requireWithin(`${where}: at`, settings.at ?? 1, 0.05, 20)),
  };
}

/** Where a condition that holds from some point on begins; null if it never does. */
function firstFrom(low: number, high: number, holds: (x: number) => boolean): number | null {
  if (holds(low)) return low;
  if (!holds(high)) return null;
  let a = low;
  let b = high;
  while (b - a > 1e-9 * b) {
    const middle = (a + b) / 2;
    if (holds(middle)) b = middle;
    else a = middle;
  }
  return b;
}
