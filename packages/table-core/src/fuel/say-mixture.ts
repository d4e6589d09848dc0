import { requireOneOf, requirePositive } from "../values/require.ts";
import type { Fuel } from "./fuel.ts";

/** The three ways in which a mixture is said. */
export type MixtureScale = "lambda" | "afr" | "equivalence";

const scales: readonly MixtureScale[] = ["lambda", "afr", "equivalence"];

/**
 * Lambda as the user likes it: lambda itself, the air-fuel ratio by mass of the fuel, or the equivalence ratio 1/lambda.
 *
 * @example sayMixture(0.88, "afr", fuels.petrol) // 12.85
 * @throws FuelwrightError `not-positive`, `unknown-choice`
 */
export function sayMixture(lambda: number, scale: MixtureScale, fuel: Pick<Fuel, "stoichiometricRatio">): number {
  requirePositive("sayMixture: lambda", lambda);
  requireOneOf("sayMixture: scale", scale, scales);
  if (scale === "lambda") return lambda;
  return scale === "afr" ? lambda * fuel.stoichiometricRatio : 1 / lambda;
}

/** Lambda from the way the user said it: the inverse of {@link sayMixture}. @throws FuelwrightError */
export function readMixture(value: number, scale: MixtureScale, fuel: Pick<Fuel, "stoichiometricRatio">): number {
  requirePositive("readMixture: value", value);
  requireOneOf("readMixture: scale", scale, scales);
  if (scale === "lambda") return value;
  return scale === "afr" ? value / fuel.stoichiometricRatio : 1 / value;
}
