import { FuelwrightError } from "./errors.ts";
import { requireFinite, requirePositive, say } from "./require.ts";

/**
 * Exact factors to the first unit of each dimension (which is the one used inside the library).
 *
 * Sources: definitions of 1959 (lb = 0.45359237 kg, in = 25.4 mm), standard gravity 9.80665 m/s², conventional mercury
 * 13 595.1 kg/m³ and water 1000 kg/m³, international table British thermal unit (1 Btu/lb = 2.326 kJ/kg), mechanical
 * horsepower 550 ft·lbf/s, metric horsepower 75 kgf·m/s, US gallon 231 in³; as in NIST SP 811 (2008), app. B.
 */
const POUND_GRAMS = 453.59237;
const INCH_MM = 25.4;
const GRAVITY = 9.80665;
const MERCURY_KG_PER_M3 = 13_595.1;
const POUND_FORCE_NEWTONS = (POUND_GRAMS / 1000) * GRAVITY;
const FOOT_METRES = (12 * INCH_MM) / 1000;
const HORSEPOWER_KILOWATTS = (550 * FOOT_METRES * POUND_FORCE_NEWTONS) / 1000;
const CUBIC_INCH_CC = (INCH_MM / 10) ** 3;
const CUBIC_FOOT_CC = 1728 * CUBIC_INCH_CC;
const GALLON_CC = 231 * CUBIC_INCH_CC;

const dimensions: Readonly<Record<Exclude<Dimension, "temperature">, Readonly<Record<string, number>>>> = {
  speed: { rpm: 1 },
  pressure: {
    kPa: 1,
    bar: 100,
    hPa: 0.1,
    mbar: 0.1,
    Pa: 0.001,
    MPa: 1000,
    psi: (POUND_FORCE_NEWTONS / (INCH_MM * INCH_MM)) * 1000,
    atm: 101.325,
    inHg: (MERCURY_KG_PER_M3 * GRAVITY * INCH_MM) / 1e6,
    mmHg: (MERCURY_KG_PER_M3 * GRAVITY) / 1e6,
    inH2O: (1000 * GRAVITY * INCH_MM) / 1e6,
  },
  massFlow: {
    "g/s": 1,
    "g/min": 1 / 60,
    "kg/h": 1 / 3.6,
    "kg/min": 1000 / 60,
    "lb/h": POUND_GRAMS / 3600,
    "lb/min": POUND_GRAMS / 60,
    "kg/s": 1000,
  },
  volumeFlow: {
    "cc/min": 1,
    "mL/min": 1,
    "L/h": 1000 / 60,
    "L/min": 1000,
    "L/s": 60_000,
    "gal/h": GALLON_CC / 60,
    "m3/h": 1e6 / 60,
    "m3/s": 60e6,
    "ft3/min": CUBIC_FOOT_CC,
  },
  time: { ms: 1, us: 0.001, s: 1000 },
  mass: { mg: 1, g: 1000, kg: 1e6, lb: POUND_GRAMS * 1000 },
  volume: { cc: 1, mL: 1, L: 1000, "cu in": CUBIC_INCH_CC, gal: GALLON_CC, m3: 1e6, ft3: CUBIC_FOOT_CC },
  length: { mm: 1, cm: 10, m: 1000, in: INCH_MM, ft: 12 * INCH_MM },
  area: { mm2: 1, cm2: 100, in2: INCH_MM * INCH_MM },
  power: { kW: 1, W: 0.001, hp: HORSEPOWER_KILOWATTS, PS: (75 * GRAVITY) / 1000 },
  torque: { "N m": 1, "lbf ft": POUND_FORCE_NEWTONS * FOOT_METRES, "kgf m": GRAVITY },
  specificEnergy: { "kJ/kg": 1, "MJ/kg": 1000, "Btu/lb": 2.326 },
  specificConsumption: { "g/kWh": 1, "lb/(hp h)": POUND_GRAMS / HORSEPOWER_KILOWATTS },
  density: { "kg/L": 1, "g/cc": 1, "kg/m3": 0.001, "lb/ft3": POUND_GRAMS / CUBIC_FOOT_CC },
  share: { "%": 1, fraction: 100 },
  ratio: { lambda: 1 },
  factor: { factor: 1 },
  voltage: { V: 1 },
};

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
  "mm Hg": "mmHg",
  "in H2O": "inH2O",
  inAq: "inH2O",
  "lb/hr": "lb/h",
  "lbs/h": "lb/h",
  "lbs/hr": "lb/h",
  "cm3/min": "cc/min",
  "ml/min": "mL/min",
  "l/h": "L/h",
  "l/min": "L/min",
  "l/s": "L/s",
  cfm: "ft3/min",
  "US gal": "gal",
  "US gal/h": "gal/h",
  "m³/h": "m3/h",
  "m³/s": "m3/s",
  "ft³/min": "ft3/min",
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
  "cm³": "cc",
  in3: "cu in",
  "in³": "cu in",
  "ft³": "ft3",
  "m³": "m3",
  "mm²": "mm2",
  "cm²": "cm2",
  "in²": "in2",
  "kg/m³": "kg/m3",
  "g/cm3": "g/cc",
  "g/cm³": "g/cc",
  "lb/ft³": "lb/ft3",
  Nm: "N m",
  N·m: "N m",
  "ft lbf": "lbf ft",
  ft·lbf: "lbf ft",
  "lb ft": "lbf ft",
  "lb-ft": "lbf ft",
  kw: "kW",
};

/** The kinds of unit that convert into one another. */
export type Dimension =
  | "speed"
  | "pressure"
  | "massFlow"
  | "volumeFlow"
  | "time"
  | "mass"
  | "volume"
  | "length"
  | "area"
  | "power"
  | "torque"
  | "specificEnergy"
  | "specificConsumption"
  | "density"
  | "share"
  | "ratio"
  | "factor"
  | "voltage"
  | "temperature";

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
      `${where} is not a known unit, got ${say(unit)}; use one of ${knownUnits().join(", ")}`,
      { unit },
    );
  return name;
}
