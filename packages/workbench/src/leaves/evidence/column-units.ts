import { type LogQuantity, logQuantities } from "@fuelwright/table-core";

/** Units that loggers use, by the quantity's own unit, which comes first. */
const units: Readonly<Record<string, readonly string[]>> = {
  s: ["s", "ms", "us", "min"],
  rpm: ["rpm"],
  kPa: ["kPa", "bar", "mbar", "hPa", "psi", "inHg"],
  "%": ["%", "fraction", "factor"],
  mg: ["mg", "g"],
  "g/s": ["g/s", "kg/h"],
  lambda: ["lambda", "AFR", "phi"],
  ms: ["ms", "us"],
  "°C": ["°C", "°F", "K"],
  "km/h": ["km/h", "mph", "m/s"],
};

/** Units to choose from for a column of a quantity, the one it has now among them. */
export function columnUnits(quantity: LogQuantity, now: string): readonly string[] {
  const own = logQuantities[quantity].unit;
  const list = units[own] ?? [own];
  return list.includes(now) ? list : [now, ...list];
}

/** What a unit is called where its short name says little. */
export const unitWords = (unit: string): string =>
  ({ us: "µs", phi: "equivalence ratio", factor: "× base", "": "a number" })[unit] ?? unit;
