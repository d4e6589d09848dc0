import { type CurvePoint, monotoneCurve } from "../numeric/monotone-curve.ts";
import { requireWithin } from "../values/require.ts";

/** What the mixture does to an engine at full throttle, ignition set to suit: typical, not measured on any one engine. */
export interface MixtureResponse {
  /** Of the power at the best mixture. */
  readonly powerPercent: number;
  /** Fuel for the same work, against the mixture that needs least; 100 there. */
  readonly consumptionPercent: number;
}

/**
 * Power at one throttle opening over lambda, in percent of the best: the shape common to published curves of spark-ignition
 * engines (Heywood, Internal Combustion Engine Fundamentals, 1988, ch. 9 and 15; Taylor, The Internal Combustion Engine in
 * Theory and Practice). The points are from memory, unverified; an engine of its own can differ by several percent.
 */
const power: readonly CurvePoint[] = [
  [0.65, 86],
  [0.7, 91.5],
  [0.75, 95.5],
  [0.8, 98.3],
  [0.85, 99.8],
  [0.88, 100],
  [0.91, 99.8],
  [0.95, 98.6],
  [1, 96],
  [1.05, 93.3],
  [1.1, 90],
  [1.15, 86],
  [1.2, 81.5],
  [1.25, 76],
  [1.3, 69],
];
const powerAt = monotoneCurve(power);
const LOW = power[0]![0];
const HIGH = power.at(-1)![0];

/** The same air with 1/lambda of fuel, for the power it gives. */
const fuelForWork = (lambda: number) => 1 / (lambda * powerAt(lambda));

/** Lambda of most `power` and of least `consumption` on the curve of {@link mixtureResponse}. */
export const mixtureOptima: { readonly power: number; readonly consumption: number } = Object.freeze({
  power: 0.88,
  consumption: leastBetween(1, 1.3, fuelForWork),
});
const least = fuelForWork(mixtureOptima.consumption);

/** Range of lambda over which {@link mixtureResponse} is known. */
export const mixtureResponseRange: readonly [number, number] = Object.freeze([LOW, HIGH] as const);

/**
 * Relative power and consumption at a mixture: a typical curve from memory, unverified, for full throttle.
 *
 * Consumption follows from the power by arithmetic: the same air, 1/lambda of fuel. Left out: what cooling by richness lets
 * an air-cooled engine keep, misfire beyond the lean end, and part throttle, where pumping changes it.
 *
 * @example mixtureResponse(0.88).powerPercent // 100
 * @throws FuelwrightError `out-of-range` outside lambda 0.65..1.3
 */
export function mixtureResponse(lambda: number): MixtureResponse {
  requireWithin("mixtureResponse: lambda", lambda, LOW, HIGH);
  return { powerPercent: powerAt(lambda), consumptionPercent: (fuelForWork(lambda) / least) * 100 };
}

/** Where a function with one valley is least, by golden section. */
function leastBetween(low: number, high: number, f: (x: number) => number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = low;
  let b = high;
  while (b - a > 1e-7) {
    const c = b - golden * (b - a);
    const d = a + golden * (b - a);
    if (f(c) < f(d)) b = d;
    else a = c;
  }
  return (a + b) / 2;
}
