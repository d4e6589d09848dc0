import { readMixture, sayMixture } from "../fuel/say-mixture.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type AxisQuantity, axisQuantities, type CellQuantity, cellQuantities } from "../values/quantities.ts";
import { requirePositive, say } from "../values/require.ts";
import { canonicalUnit, convertUnit, dimensionOf, knownUnits } from "../values/units.ts";

/** Units of mixture, which need the fuel's stoichiometric ratio or a reciprocal and so are none of the exact factors. */
const mixtureUnits = ["lambda", "AFR", "equivalence ratio"];

const inLowerCase = new Map(
  [...knownUnits(), ...mixtureUnits].filter((unit) => unit.length > 1).map((unit) => [unit.toLowerCase(), unit]),
);

/** Spellings beyond those of `canonicalUnit`; U+FFFD is what a degree sign or µ of another encoding has become. */
const otherSpellings: Readonly<Record<string, string>> = {
  "\uFFFDC": "°C",
  "\uFFFDF": "°F",
  "º C": "°C",
  ºC: "°C",
  ºF: "°F",
  "deg C": "°C",
  "deg F": "°F",
  "\uFFFDs": "us",
  usec: "us",
  msec: "ms",
  ratio: "lambda",
  phi: "equivalence ratio",
  "air-fuel ratio": "AFR",
  "mg/stroke": "mg",
  "mg/cycle": "mg",
  volt: "V",
};

/** The unit that a text names as a whole, in any case, or null. Single letters count only as they are written. */
export function findUnit(text: string): string | null {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  if (Object.hasOwn(otherSpellings, trimmed)) return otherSpellings[trimmed]!;
  return canonicalUnit(trimmed) ?? inLowerCase.get(trimmed.toLowerCase()) ?? null;
}

/** The units in which cells of a quantity can be read and written; the library's own first. */
export function cellUnits(quantity: CellQuantity): readonly string[] {
  if (quantity === "lambda") return mixtureUnits;
  if (quantity === "factor") return ["factor", "%"];
  return unitsLike(cellQuantities[quantity].unit);
}

/** The units in which an axis can be read and written; the library's own first. */
export function axisUnits(quantity: AxisQuantity): readonly string[] {
  return quantity === "single-row" ? [""] : unitsLike(axisQuantities[quantity].unit);
}

function unitsLike(unit: string): readonly string[] {
  const dimension = dimensionOf(unit);
  return [unit, ...knownUnits().filter((other) => other !== unit && dimensionOf(other) === dimension)];
}

/** Refuses a unit that does not measure what it stands beside. @throws FuelwrightError `unit-not-fitting` */
export function requireFittingUnit(where: string, unit: string, choices: readonly string[]): string {
  const name = findUnit(unit);
  // "1" names a factor, and is how a lambda is often headed.
  const fitting = name === "factor" && choices === mixtureUnits ? "lambda" : name;
  if (fitting !== null && choices.includes(fitting)) return fitting;
  throw new FuelwrightError(
    "unit-not-fitting",
    `${where} must be one of ${choices.join(", ")}, got ${say(unit)}; choose one of these, or another quantity`,
    { unit, choices },
  );
}

/** From the unit of a text to the library's own, and back. */
export interface UnitChange {
  readonly toLibrary: (value: number) => number;
  readonly fromLibrary: (value: number) => number;
}

/**
 * How numbers of one quantity change at the boundary.
 *
 * Lambda is AFR divided by the fuel's stoichiometric ratio, and one divided by the equivalence ratio.
 *
 * @param unit - one of {@link cellUnits}
 * @throws FuelwrightError `stoichiometric-ratio-missing`, `not-positive`
 */
export function cellUnitChange(
  where: string,
  quantity: CellQuantity,
  unit: string,
  stoichiometricRatio: number | undefined,
): UnitChange {
  if (unit === "AFR" || unit === "equivalence ratio") {
    const scale = unit === "AFR" ? "afr" : "equivalence";
    if (unit === "AFR" && stoichiometricRatio === undefined)
      throw new FuelwrightError(
        "stoichiometric-ratio-missing",
        `${where}: AFR needs the fuel's stoichiometric ratio, got none; give stoichiometricRatio (petrol about 14.6)`,
      );
    const ratio = requirePositive(`${where}: stoichiometricRatio`, stoichiometricRatio ?? 1);
    return {
      toLibrary: (value) => readMixture(value, scale, { stoichiometricRatio: ratio }),
      fromLibrary: (value) => sayMixture(value, scale, { stoichiometricRatio: ratio }),
    };
  }
  if (quantity === "factor" && unit === "%")
    return { toLibrary: (percent) => percent / 100, fromLibrary: (factor) => factor * 100 };
  return plainChange(unit, cellQuantities[quantity].unit);
}

/** How an axis's numbers change at the boundary. @param unit - one of {@link axisUnits} */
export const axisUnitChange = (quantity: AxisQuantity, unit: string): UnitChange =>
  quantity === "single-row" ? unchanged : plainChange(unit, axisQuantities[quantity].unit);

const unchanged: UnitChange = { toLibrary: (value) => value, fromLibrary: (value) => value };

const plainChange = (unit: string, own: string): UnitChange =>
  unit === own
    ? unchanged
    : {
        toLibrary: (value) => convertUnit(value, unit, own),
        fromLibrary: (value) => convertUnit(value, own, unit),
      };
