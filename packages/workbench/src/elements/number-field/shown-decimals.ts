import { convertUnit } from "@fuelwright/table-core";

/**
 * Decimals that say in `shownUnit` about as much as `decimals` do in `unit`: never less, at most ten times more.
 *
 * @example shownDecimals(0, "kPa", "psi") // 1
 * @throws FuelwrightError where the units do not convert
 */
export function shownDecimals(
  decimals: number,
  unit: string,
  shownUnit: string,
  density: { readonly densityKgPerL?: number } = {},
): number {
  if (unit === shownUnit) return decimals;
  // Temperatures have an offset; the difference of two conversions leaves the scale alone.
  const scale = convertUnit(1, unit, shownUnit, density) - convertUnit(0, unit, shownUnit, density);
  return Math.min(10, Math.max(0, Math.ceil(decimals - Math.log10(scale) - 1e-9)));
}

/** A number to `decimals` with a true minus sign, without "−0". */
export function shownNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}
