import {
  type Axis,
  axisQuantities,
  cellQuantities,
  convertUnit,
  dimensionOf,
  type Fuel,
  type FuelTable,
  readMixture,
  sayMixture,
} from "@fuelwright/table-core";
import type { Preferences } from "./preferences.ts";

/** How values of one kind are shown and typed: the library's own unit stays underneath. */
export interface Display {
  readonly unit: string;
  readonly decimals: number;
  show(value: number): number;
  read(shown: number): number;
}

const same = (unit: string, decimals: number): Display => ({ unit, decimals, show: (v) => v, read: (v) => v });

const mixtureWords = { lambda: "lambda", afr: "AFR", equivalence: "equivalence ratio" } as const;

/** How cells of a table are shown: lambda in the person's own way of saying it, the rest in the quantity's unit. */
export function cellDisplay(
  table: Pick<FuelTable, "quantity">,
  { mixture }: Pick<Preferences, "mixture">,
  fuel: Fuel,
): Display {
  const { unit, decimals } = cellQuantities[table.quantity];
  if (table.quantity !== "lambda" || mixture === "lambda")
    return same(table.quantity === "factor" ? "" : unit, decimals);
  return {
    unit: mixtureWords[mixture],
    decimals: mixture === "afr" ? 2 : 3,
    show: (lambda) => sayMixture(lambda, mixture, fuel),
    read: (shown) => readMixture(shown, mixture, fuel),
  };
}

/** What a mixture is called in the person's own way of saying it. */
export const mixtureName = (mixture: Preferences["mixture"]): string => mixtureWords[mixture];

/** The units a kind of figure can be shown in, the first for metric and the second for imperial. */
const choices: Readonly<Record<string, readonly string[]>> = {
  pressure: ["kPa", "psi", "bar", "inHg"],
  massFlow: ["g/s", "lb/h", "cc/min", "g/min"],
  temperature: ["°C", "°F"],
  length: ["mm", "in", "m", "ft"],
  volume: ["cc", "cu in", "L"],
  density: ["kg/L"],
  power: ["kW", "hp", "PS"],
  time: ["ms"],
  specificConsumption: ["g/kWh", "lb/(hp h)"],
};

/** Altitude is a length that nobody says in millimetres. */
const altitudeChoices = ["m", "ft"] as const;

/** Units to choose from for a figure kept in `unit`; only the unit itself where there is no choice. */
export function unitChoices(unit: string): readonly string[] {
  if (unit === "m") return altitudeChoices;
  return choices[dimensionOf(unit)] ?? [unit];
}

/** The unit a figure kept in `unit` is shown in: the one chosen by hand, or that of the person's system. */
export function shownUnit(unit: string, { units, shownUnits }: Pick<Preferences, "units" | "shownUnits">): string {
  const list = unitChoices(unit);
  const kind = unit === "m" ? "altitude" : dimensionOf(unit);
  const chosen = shownUnits[kind];
  if (chosen && list.includes(chosen)) return chosen;
  return (units === "imperial" ? list[1] : list[0]) ?? unit;
}

/** Under which name a unit chosen by hand is kept. */
export const unitKind = (unit: string): string => (unit === "m" ? "altitude" : dimensionOf(unit));

/** How breakpoints of an axis are shown. */
export function axisDisplay(axis: Axis, preferences: Pick<Preferences, "units" | "shownUnits">): Display {
  const info = axisQuantities[axis.quantity];
  const { unit, decimals } = info;
  if (unit !== "kPa" && unit !== "°C") return same(unit, decimals);
  const shown = shownUnit(unit, preferences);
  return {
    unit: shown,
    decimals: shown === "bar" ? 2 : decimals,
    show: (value) => convertUnit(value, unit, shown),
    read: (value) => convertUnit(value, shown, unit),
  };
}

/** How both axes of a table are shown. */
export const axesDisplay = (
  { rpm, load }: Pick<FuelTable, "rpm" | "load">,
  preferences: Pick<Preferences, "units" | "shownUnits">,
): { readonly rpm: Display; readonly load: Display } => ({
  rpm: axisDisplay(rpm, preferences),
  load: axisDisplay(load, preferences),
});

/** Where a cell lies, in the person's units: "3,500 rpm, 10.2 psi"; of a one-row table only the place along it. */
export function sayPlace(
  axes: Pick<FuelTable, "rpm" | "load">,
  at: { readonly rpm: number; readonly load: number },
  preferences: Pick<Preferences, "units" | "shownUnits">,
): string {
  const { rpm, load } = axesDisplay(axes, preferences);
  const along = `${figure(rpm.show(at.rpm), rpm.decimals)} ${rpm.unit}`;
  if (axes.load.quantity === "single-row") return along;
  return `${along}, ${figure(load.show(at.load), load.decimals)} ${load.unit}`;
}

/** A number as it is read: fixed decimals where they mean something, no trailing noise, a real minus sign. */
export function figure(value: number, decimals = 2): string {
  if (!Number.isFinite(value)) return "–";
  const rounded = value.toLocaleString("en", { minimumFractionDigits: 0, maximumFractionDigits: decimals });
  return rounded.replace("-", "−").replace(/^−0$/, "0");
}

/** A change in percent with its sign: "+3.2 %", "−20.5 %", "unchanged". */
export function percentChange(from: number, to: number): string {
  if (to === from) return "unchanged";
  if (from === 0) return "from 0";
  const percent = (100 * (to - from)) / Math.abs(from);
  const text = Math.abs(percent).toFixed(1);
  return `${percent < 0 ? "−" : "+"}${text} %`;
}
