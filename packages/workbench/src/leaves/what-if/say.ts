import { convertUnit, sayMixture } from "@fuelwright/table-core";
import { figure, mixtureName, shownUnit } from "../../store/display.ts";
import type { Preferences } from "../../store/preferences.ts";
import type { Scene } from "./trial.ts";

/** A figure with its unit, in the unit the person likes. */
export function say(value: number, unit: string, decimals: number, preferences: Preferences): string {
  const shown = shownUnit(unit, preferences);
  return `${figure(convertUnit(value, unit, shown), decimals)} ${shown}`;
}

/** How a chart shows figures kept in `unit`. */
export function scaleOf(
  unit: string,
  preferences: Preferences,
): { readonly unit: string; show(value: number): number } {
  const shown = shownUnit(unit, preferences);
  return { unit: shown, show: (value) => (Number.isFinite(value) ? convertUnit(value, unit, shown) : Number.NaN) };
}

/** "7.8 % more", "4.1 % less". */
export function moreOrLess(from: number, to: number): string {
  const share = to / from - 1;
  return `${figure(100 * Math.abs(share), 1)} % ${share < 0 ? "less" : "more"}`;
}

/** A mixture in the person's way of saying it: "lambda 0.88", "AFR 12.85", "equivalence ratio 1.136". */
export function sayLambda(lambda: number, { desk, fuel }: Pick<Scene, "desk" | "fuel">): string {
  if (!Number.isFinite(lambda)) return "no fuel at all";
  const { mixture } = desk.preferences;
  return `${mixtureName(mixture)} ${figure(sayMixture(lambda, mixture, fuel), mixture === "afr" ? 2 : 3)}`;
}

/** The axis along which mixtures lie, rich at the left in every way of saying it. */
export function mixtureAxis({ desk, fuel }: Pick<Scene, "desk" | "fuel">, range: readonly [number, number]) {
  const { mixture } = desk.preferences;
  // No fuel at all is no mixture: a gap in the line.
  const show = (lambda: number) => (Number.isFinite(lambda) ? sayMixture(lambda, mixture, fuel) : Number.NaN);
  const name = mixtureName(mixture);
  const label = name.charAt(0).toUpperCase() + name.slice(1);
  return { show, axis: { label, domain: [show(range[0]), show(range[1])] as const } };
}

/** Share as percent: "87 %". */
export const percent = (share: number, decimals = 0): string => `${figure(100 * share, decimals)} %`;

/** "0.42 s". */
export const seconds = (value: number): string => `${figure(value, 2)} s`;
