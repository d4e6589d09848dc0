import { FuelwrightError } from "./errors.ts";
import { requireFinite, requirePositive } from "./require.ts";

/**
 * Exact factors to the first unit of each dimension (which is the one used inside the library).
 *
 * Sources: definitions of 1959 (lb = 0.45359237 kg, in = 25.4 mm), standard gravity 9.80665 m/s², conventional mercury
 * 13 595.1 kg/m³, mechanical horsepower 550 ft·lbf/s, metric horsepower 75 kgf·m/s; as in NIST SP 811 (2008), app. B.
 */
const POUND_GRAMS = 453.59237;
const INCH_MM = 25.4;
const GRAVITY = 9.80665;
const POUND_FORCE_NEWTONS = (POUND_GRAMS / 1000) * GRAVITY;
const HORSEPOWER_KILOWATTS = (550 * 12 * INCH_MM * POUND_FORCE_NEWTONS) / 1e6;

const dimensions = {
  speed: { rpm: 1 },
  pressure: {
    kPa: 1,
    bar: 100,
    hPa: 0.1,
    mbar: 0.1,
    Pa: 0.001,
    psi: (POUND_FORCE_NEWTONS / (INCH_MM * INCH_MM)) * 1000,
    inHg: (13_595.1 * GRAVITY * INCH_MM) / 1e6,
  },
  massFlow: {
    "g/s": 1,
    "g/min": 1 / 60,
    "kg/h": 1 / 3.6,
    "lb/h": POUND_GRAMS / 3600,
    "lb/min": POUND_GRAMS / 60,
    "kg/s": 1000,
  },
  volumeFlow: { "cc/min": 1, "mL/min": 1, "L/h": 1000 / 60, "L/min": 1000, "gal/h": (231 * (INCH_MM / 10) ** 3) / 60 },
  time: { ms: 1, us: 0.001, s: 1000 },
  mass: { mg: 1, g: 1000, kg: 1e6, lb: POUND_GRAMS * 1000 },
  volume: { cc: 1, mL: 1, L: 1000, "cu in": (INCH_MM / 10) ** 3 },
  length: { mm: 1, cm: 10, m: 1000, in: INCH_MM, ft: 12 * INCH_MM },
  power: { kW: 1, hp: HORSEPOWER_KILOWATTS, PS: (75 * GRAVITY) / 1000 },
  specificConsumption: { "g/kWh": 1, "lb/(hp h)": POUND_GRAMS / HORSEPOWER_KILOWATTS },
  density: { "kg/L": 1, "g/cc": 1, "kg/m3": 0.001 },
  share: { "%": 1, fraction: 100 },
  ratio: { lambda: 1 },
  factor: { factor: 1 },
  voltage: { V: 1 },
} as const satisfies Record<string, Record<string, number>>;

/** Scale and offset of each temperature unit: °C = (value + before) · factor. */
const temperatures = {
  "°C": { before: 0, factor: 1 },
  K: { before: -273.15, factor: 1 },
  "°F": { before: -32, factor: 5 / 9 },
  "°R": { before: -491.67, factor: 5 / 9 },
} as const;

/** Other spellings that people type; each names a unit above. */
const spellings: Readonly<Record<string, string>> = {
  C: "°C",
  degC: "°C",
  F: "°F",
  degF: "°F",
  R: "°R",
  degR: "°R",
  "1/min": "rpm",
  "rev/min": "rpm",
  "r/min": "rpm",
  kpa: "kPa",
  mBar: "mbar",
  PSI: "psi",
  inhg: "inHg",
  "in Hg": "inHg",
  "lb/hr": "lb/h",
  "cm3/min": "cc/min",
  "ml/min": "mL/min",
  "l/h": "L/h",
  "l/min": "L/min",
  µs: "us",
  μs: "us",
  percent: "%",
  pct: "%",
  λ: "lambda",
  Lambda: "lambda",
  "1": "factor",
  "×": "factor",
  v: "V",
  volts: "V",
  cm3: "cc",
  kw: "kW",
};

/** The kinds of unit that convert into one another. */
export type Dimension = keyof typeof dimensions | "temperature";

const factors = new Map<string, { dimension: Dimension; factor: number }>();
for (const [dimension, units] of Object.entries(dimensions))
  for (const [unit, factor] of Object.entries(units)) factors.set(unit, { dimension: dimension as Dimension, factor });

/** Every unit that {@link convertUnit} knows, by its own spelling. */
export function knownUnits(): readonly string[] {
  return [...factors.keys(), ...Object.keys(temperatures)];
}

/** The unit's own spelling ("degF" gives "°F"), or null if it is not known. */
export function canonicalUnit(unit: string): string | null {
  const trimmed = unit.trim();
  const name = Object.hasOwn(spellings, trimmed) ? spellings[trimmed]! : trimmed;
  return factors.has(name) || Object.hasOwn(temperatures, name) ? name : null;
}

/** What a unit measures. @throws FuelwrightError `unknown-unit` */
export function dimensionOf(unit: string): Dimension {
  const name = requireUnit("dimensionOf", unit);
  return factors.get(name)?.dimension ?? "temperature";
}

/**
 * Converts a value from one unit to another of the same kind.
 *
 * Mass and volume flow convert into one another with `densityKgPerL`; without it that is refused.
 *
 * @example convertUnit(43.5, "psi", "kPa") // 299.92…
 * @throws FuelwrightError `unknown-unit`, `units-do-not-convert`, `density-missing`, `not-finite`
 * @see NIST Special Publication 811 (2008), appendix B
 */
export function convertUnit(
  value: number,
  from: string,
  to: string,
  options: { readonly densityKgPerL?: number } = {},
): number {
  requireFinite("convertUnit: value", value);
  const source = requireUnit("convertUnit: from", from);
  const target = requireUnit("convertUnit: to", to);
  if (source === target) return value;
  const a = factors.get(source);
  const b = factors.get(target);
  if (!a && !b) {
    const celsius = temperatures[source as keyof typeof temperatures];
    const other = temperatures[target as keyof typeof temperatures];
    return ((value + celsius.before) * celsius.factor) / other.factor - other.before;
  }
  if (a && b && a.dimension === b.dimension) return (value * a.factor) / b.factor;
  if (a && b && isFlow(a.dimension) && isFlow(b.dimension)) {
    if (options.densityKgPerL === undefined)
      throw new FuelwrightError(
        "density-missing",
        `convertUnit: ${from} to ${to} needs a density, got none; give densityKgPerL of the fluid`,
        { from, to },
      );
    const density = requirePositive("convertUnit: densityKgPerL", options.densityKgPerL);
    // 1 cc/min of a fluid of 1 kg/L is 1/60 g/s.
    return a.dimension === "volumeFlow"
      ? (value * a.factor * density) / 60 / b.factor
      : (value * a.factor * 60) / density / b.factor;
  }
  throw new FuelwrightError(
    "units-do-not-convert",
    `convertUnit: ${from} does not convert to ${to}; they measure different things, check both units`,
    { from, to },
  );
}

const isFlow = (dimension: Dimension) => dimension === "massFlow" || dimension === "volumeFlow";

function requireUnit(where: string, unit: string): string {
  const name = typeof unit === "string" ? canonicalUnit(unit) : null;
  if (name === null)
    throw new FuelwrightError(
      "unknown-unit",
      `${where} is not a known unit, got ${JSON.stringify(unit)}; use one of ${knownUnits().join(", ")}`,
      { unit },
    );
  return name;
}
