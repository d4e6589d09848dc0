import { FuelwrightError } from "./errors.ts";
import { say } from "./require.ts";
import { canonicalUnit } from "./units.ts";

/** What a cell can hold. */
export type CellQuantity = "pulse-width" | "fuel-mass" | "volumetric-efficiency" | "trim" | "lambda" | "factor";

/** What an axis can run along. `single-row` is the load axis of a one-row table. */
export type AxisQuantity =
  | "rpm"
  | "manifold-pressure"
  | "throttle-position"
  | "air-charge"
  | "coolant-temperature"
  | "air-temperature"
  | "battery-voltage"
  | "barometric-pressure"
  | "single-row";

/** How a quantity is said: its unit inside the library, its name, and how many decimals it is worth. */
export interface QuantityInfo {
  readonly unit: string;
  readonly label: string;
  readonly decimals: number;
}

/** Cells: per cylinder and cycle where that matters (fuel mass), percent for efficiencies and trims. */
export const cellQuantities: Readonly<Record<CellQuantity, QuantityInfo>> = {
  "pulse-width": { unit: "ms", label: "pulse width", decimals: 2 },
  "fuel-mass": { unit: "mg", label: "fuel mass", decimals: 2 },
  "volumetric-efficiency": { unit: "%", label: "volumetric efficiency", decimals: 1 },
  trim: { unit: "%", label: "trim", decimals: 1 },
  lambda: { unit: "lambda", label: "lambda", decimals: 3 },
  factor: { unit: "factor", label: "factor", decimals: 3 },
};

/** Axes: pressures are absolute, the air charge is that of a cylinder and cycle. */
export const axisQuantities: Readonly<Record<AxisQuantity, QuantityInfo>> = {
  rpm: { unit: "rpm", label: "rpm", decimals: 0 },
  "manifold-pressure": { unit: "kPa", label: "manifold pressure", decimals: 1 },
  "throttle-position": { unit: "%", label: "throttle position", decimals: 1 },
  "air-charge": { unit: "mg", label: "air charge", decimals: 0 },
  "coolant-temperature": { unit: "°C", label: "coolant temperature", decimals: 0 },
  "air-temperature": { unit: "°C", label: "air temperature", decimals: 0 },
  "battery-voltage": { unit: "V", label: "battery voltage", decimals: 1 },
  "barometric-pressure": { unit: "kPa", label: "barometric pressure", decimals: 1 },
  "single-row": { unit: "", label: "one row", decimals: 0 },
};

/** The quantities that can stand on the load side of a two-dimensional table. */
export const loadQuantities = ["manifold-pressure", "throttle-position", "air-charge"] as const;

/**
 * The unit a quantity has inside the library, after checking that the given one is another spelling of it.
 *
 * @throws FuelwrightError `unit-not-canonical`: convert at the boundary, with `convertUnit`
 */
export function requireQuantityUnit(where: string, info: QuantityInfo, unit: string | undefined): string {
  if (unit === undefined || unit === info.unit) return info.unit;
  if (typeof unit === "string" && (canonicalUnit(unit) === info.unit || (unit === "" && info.unit === "factor")))
    return info.unit;
  if (info.unit === "lambda" && (unit === "" || unit === "1" || unit === "factor")) return info.unit;
  throw new FuelwrightError(
    "unit-not-canonical",
    `${where} must be ${info.unit || "empty"} for ${info.label}, got ${say(unit)}; convert the numbers first, with convertUnit`,
    { unit, expected: info.unit },
  );
}
