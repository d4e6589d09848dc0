import { convertUnit } from "@fuelwright/table-core";
import { shownDecimals } from "../elements/number-field/shown-decimals.ts";
import { figure, shownUnit } from "../store/display.ts";
import type { Preferences } from "../store/preferences.ts";

/** A figure kept in `unit`, in the unit that the person reads it in. */
export function say(
  { preferences }: { readonly preferences: Pick<Preferences, "units" | "shownUnits"> },
  value: number,
  unit: string,
  decimals: number,
  density: { readonly densityKgPerL?: number } = {},
): string {
  const chosen = shownUnit(unit, preferences);
  // Volume flows need the fuel's density; without it the figure stays in its own unit.
  const shown = density.densityKgPerL === undefined && unit === "g/s" && chosen === "cc/min" ? unit : chosen;
  const digits = shownDecimals(decimals, unit, shown, density);
  return `${fixed(convertUnit(value, unit, shown, density), digits)} ${shown}`;
}

/** A number with all its decimals, so that figures above each other line up. */
export function fixed(value: number, decimals: number): string {
  const text = figure(value, decimals);
  if (decimals === 0 || text === "–") return text;
  const [whole, part = ""] = text.split(".");
  return `${whole}.${part.padEnd(decimals, "0")}`;
}

/** "+3.2 %", "−5 %", "0 %". */
export function sayGain(factor: number): string {
  const percent = 100 * (factor - 1);
  const text = fixed(Math.abs(percent), 1);
  return text === "0.0" ? "0 %" : `${percent < 0 ? "−" : "+"}${text} %`;
}
