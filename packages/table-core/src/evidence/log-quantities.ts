import { canonicalUnit, convertUnit } from "../values/units.ts";
import type { LogQuantity } from "./samples.ts";

/** How a quantity of a log is said, filled in between its samples, and recognised. */
export interface LogQuantityInfo {
  /** The unit it has in samples. */
  readonly unit: string;
  readonly label: string;
  /** Between its samples: the line from one to the next, the last one held, or nothing. */
  readonly between: "line" | "hold" | "nothing";
  /** Headings it goes by, in small letters and single spaces. Add your own through `synonyms`. */
  readonly synonyms: readonly string[];
  /** Units that some headings stand for. */
  readonly units?: Readonly<Record<string, string>>;
}

/**
 * The quantities a log can hold, with the words the trade has for them.
 *
 * Data, open to additions: `recogniseColumns` and `readLog` take further synonyms beside these.
 */
export const logQuantities: Readonly<Record<LogQuantity, LogQuantityInfo>> = {
  time: {
    unit: "s",
    label: "time",
    between: "nothing",
    synonyms: [
      "time",
      "elapsed time",
      "log time",
      "timestamp",
      "time stamp",
      "seconds",
      "t",
      "clock",
      "date time",
      "zeit",
      "temps",
      "tiempo",
    ],
    units: { seconds: "s" },
  },
  rpm: {
    unit: "rpm",
    label: "rpm",
    between: "line",
    synonyms: [
      "rpm",
      "engine rpm",
      "engine speed",
      "revs",
      "rev",
      "revolutions",
      "speed of engine",
      "crank speed",
      "drehzahl",
      "regime",
    ],
  },
  "manifold-pressure": {
    unit: "kPa",
    label: "manifold pressure",
    between: "line",
    synonyms: [
      "map",
      "manifold pressure",
      "manifold absolute pressure",
      "manifold air pressure",
      "intake pressure",
      "intake manifold pressure",
      "inlet pressure",
      "inlet manifold pressure",
      "absolute pressure",
      "saugrohrdruck",
    ],
  },
  "throttle-position": {
    unit: "%",
    label: "throttle position",
    between: "line",
    synonyms: ["tps", "tp", "throttle", "throttle position", "throttle angle", "throttle opening", "drosselklappe"],
  },
  "air-charge": {
    unit: "mg",
    label: "air charge",
    between: "line",
    synonyms: [
      "air charge",
      "air mass",
      "air mass per cycle",
      "cylinder air mass",
      "charge",
      "air per cycle",
      "air per stroke",
    ],
  },
  "air-flow": {
    unit: "g/s",
    label: "air flow",
    between: "line",
    synonyms: ["maf", "air flow", "airflow", "mass air flow", "mass airflow", "air mass flow"],
  },
  lambda: {
    unit: "lambda",
    label: "measured lambda",
    between: "nothing",
    synonyms: [
      "lambda",
      "measured lambda",
      "lambda measured",
      "actual lambda",
      "wideband",
      "wideband lambda",
      "wbo2",
      "wb o2",
      "o2",
      "oxygen",
      "afr",
      "air fuel ratio",
      "measured afr",
      "afr measured",
      "actual afr",
      "wideband afr",
      "a f",
      "a f ratio",
      "equivalence ratio",
      "measured equivalence ratio",
      "phi",
    ],
    units: {
      afr: "AFR",
      "air fuel ratio": "AFR",
      "measured afr": "AFR",
      "afr measured": "AFR",
      "actual afr": "AFR",
      "wideband afr": "AFR",
      "a f": "AFR",
      "a f ratio": "AFR",
      "equivalence ratio": "phi",
      "measured equivalence ratio": "phi",
      phi: "phi",
    },
  },
  "lambda-commanded": {
    unit: "lambda",
    label: "commanded lambda",
    between: "hold",
    synonyms: [
      "commanded lambda",
      "lambda commanded",
      "target lambda",
      "lambda target",
      "desired lambda",
      "lambda desired",
      "lambda setpoint",
      "requested lambda",
      "commanded afr",
      "afr commanded",
      "target afr",
      "afr target",
      "desired afr",
      "afr desired",
      "afr setpoint",
      "requested afr",
      "commanded equivalence ratio",
      "equivalence ratio commanded",
      "target equivalence ratio",
    ],
    units: {
      "commanded afr": "AFR",
      "afr commanded": "AFR",
      "target afr": "AFR",
      "afr target": "AFR",
      "desired afr": "AFR",
      "afr desired": "AFR",
      "afr setpoint": "AFR",
      "requested afr": "AFR",
      "commanded equivalence ratio": "phi",
      "equivalence ratio commanded": "phi",
      "target equivalence ratio": "phi",
    },
  },
  "pulse-width": {
    unit: "ms",
    label: "pulse width",
    between: "line",
    synonyms: [
      "pulse width",
      "pulsewidth",
      "pulse",
      "pw",
      "injector pulse width",
      "injector pulse",
      "injection pulse width",
      "injection time",
      "injector on time",
      "injector open time",
      "fuel pulse width",
      "fuel pw",
      "inj pw",
      "ipw",
      "einspritzzeit",
    ],
  },
  "coolant-temperature": {
    unit: "°C",
    label: "coolant temperature",
    between: "line",
    synonyms: [
      "coolant",
      "coolant temp",
      "coolant temperature",
      "clt",
      "ect",
      "cht",
      "engine temp",
      "engine temperature",
      "engine coolant temperature",
      "water temp",
      "water temperature",
      "head temperature",
      "cylinder head temperature",
      "head temp",
      "oil temperature",
      "oil temp",
    ],
  },
  "air-temperature": {
    unit: "°C",
    label: "air temperature",
    between: "line",
    synonyms: [
      "air temp",
      "air temperature",
      "intake air temperature",
      "intake air temp",
      "intake temp",
      "intake temperature",
      "inlet air temperature",
      "inlet temperature",
      "iat",
      "mat",
      "act",
      "charge temperature",
    ],
  },
  "battery-voltage": {
    unit: "V",
    label: "battery voltage",
    between: "line",
    synonyms: [
      "battery",
      "battery voltage",
      "batt",
      "batt v",
      "vbatt",
      "vbat",
      "bat",
      "supply voltage",
      "system voltage",
      "volts",
    ],
  },
  "barometric-pressure": {
    unit: "kPa",
    label: "barometric pressure",
    between: "line",
    synonyms: ["baro", "barometer", "barometric", "barometric pressure", "atmospheric pressure", "ambient pressure"],
  },
  "trim-short": {
    unit: "%",
    label: "closed-loop trim",
    between: "hold",
    synonyms: [
      "trim",
      "fuel trim",
      "short term trim",
      "short term fuel trim",
      "stft",
      "closed loop trim",
      "closed loop correction",
      "lambda correction",
      "lambda trim",
      "o2 correction",
      "ego correction",
      "ego",
      "feedback correction",
    ],
  },
  "trim-long": {
    unit: "%",
    label: "long-term trim",
    between: "hold",
    synonyms: ["long term trim", "long term fuel trim", "ltft", "learned trim", "adaptive trim", "learned correction"],
  },
  cylinder: { unit: "", label: "cylinder", between: "hold", synonyms: ["cylinder", "cyl", "cylinder number"] },
  gear: { unit: "", label: "gear", between: "hold", synonyms: ["gear", "gear position", "selected gear"] },
  speed: {
    unit: "km/h",
    label: "speed",
    between: "line",
    synonyms: ["speed", "vehicle speed", "road speed", "wheel speed", "vss", "ground speed", "gps speed"],
  },
  "fuel-cut": {
    unit: "",
    label: "fuel cut",
    between: "hold",
    synonyms: ["fuel cut", "fuel cutoff", "fuel cut off", "overrun cut", "overrun fuel cut", "decel cut", "dfco"],
  },
};

/** How a number in the log becomes one of the library: `value * scale + offset`, or `scale / value` where `over`. */
export interface UnitRule {
  readonly scale: number;
  readonly offset: number;
  readonly over: boolean;
}

/** Air-fuel ratio that gauges scaled for petrol show at lambda 1, whatever the fuel (common practice). */
export const GAUGE_AFR = 14.7;

/** Units of logs that are none of the library's own: factors to the unit of the quantity. */
const logUnits: Readonly<Record<string, Readonly<Record<string, UnitRule>>>> = {
  s: affine({ s: 1, sec: 1, seconds: 1, ms: 0.001, msec: 0.001, us: 1e-6, min: 60, "h:m:s": 1, "hh:mm:ss": 1 }),
  "km/h": affine({ "km/h": 1, kmh: 1, kph: 1, "m/s": 3.6, mph: 1.609344 }),
  "": affine({ "": 1, "-": 1, "1": 1, "on/off": 1, "#": 1, no: 1 }),
  "%": {
    fraction: rule(100),
    factor: { scale: 100, offset: -100, over: false },
    "% of base": { scale: 1, offset: -100, over: false },
  },
  lambda: { phi: { scale: 1, offset: 0, over: true }, "equivalence ratio": { scale: 1, offset: 0, over: true } },
};

function rule(scale: number): UnitRule {
  return { scale, offset: 0, over: false };
}

function affine(scales: Record<string, number>): Record<string, UnitRule> {
  return Object.fromEntries(Object.entries(scales).map(([unit, scale]) => [unit, rule(scale)]));
}

/**
 * How a unit of a log turns into the unit of a quantity, or null if it does not.
 *
 * @param gaugeAfr - the air-fuel ratio that stands for lambda 1 in this log
 */
export function unitRule(quantity: LogQuantity, unit: string, gaugeAfr = GAUGE_AFR): UnitRule | null {
  const own = logQuantities[quantity].unit;
  const said = unit.trim();
  if (said === own) return rule(1);
  const local = logUnits[own];
  for (const name of [said, said.toLowerCase()]) if (local && Object.hasOwn(local, name)) return local[name]!;
  if (own === "lambda" && /^(afr|a\/f|:1|a:f|ratio)$/i.test(said)) return rule(1 / gaugeAfr);
  const canonical = canonicalUnit(said);
  if (canonical === null || canonicalUnit(own) === null) return null;
  try {
    const offset = convertUnit(0, canonical, own);
    return { scale: convertUnit(1, canonical, own) - offset, offset, over: false };
  } catch {
    return null;
  }
}

/** What each column of a log was taken for. */
export interface LogColumn {
  /** Its place in the log, from 0. */
  readonly at: number;
  readonly heading: string;
  /** null: not recognised, and not read. */
  readonly quantity: LogQuantity | null;
  /** Which sensor, cylinder or bank, from 1. */
  readonly channel: number;
  /** The unit its numbers are in. */
  readonly unit: string;
  /** Where the unit is from: said in heading or unit row, set by hand, guessed from the numbers, or the usual one. */
  readonly unitFrom: "said" | "hand" | "numbers" | "usual";
}

/** A heading's words: small letters, no accents or brackets, single spaces; the unit and the channel apart. */
export function readHeading(heading: string): { words: string; unit: string | null; channel: number } {
  let unit: string | null = null;
  let text = heading.replace(/\(([^)]*)\)|\[([^\]]*)\]|\{([^}]*)\}/g, (_, a, b, c) => {
    unit ??= (a ?? b ?? c ?? "").trim();
    return " ";
  });
  text = text
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/λ/g, " lambda ")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .replace(/[^a-z0-9%°]+/g, " ")
    .trim();
  let channel = 1;
  text = text
    .replace(/\b(front|rear)\b/g, (word) => {
      channel = word === "rear" ? 2 : 1;
      return " ";
    })
    .replace(
      /^(.*[a-z])\s*(?:bank|sensor|cyl|cylinder|channel|no|number|probe)?\s*([1-9])$/,
      (whole, before, digit) => {
        // "o2" and "wbo2" end in a digit that is part of the word.
        if (/(^|\s)(wb)?o$/.test(before)) return whole;
        channel = Number(digit);
        return before.replace(/\b(bank|sensor|cyl|cylinder|channel|no|number|probe)$/, "").trim() || before;
      },
    )
    .replace(/\s+/g, " ")
    .trim();
  return { words: text, unit, channel };
}

/** A longer heading names nothing: looking for words and units in it would take time without end. */
const LONGEST_HEADING = 200;

/** Words that say nothing about which quantity it is. */
const fillers = /\b(sensor|value|signal|reading|current|avg|average|filtered|raw|abs|the|of|in|engine)\b/g;

/** Units as they are spelt where a heading has nothing but letters: "clt_c", "map kpa". */
const trailingUnit =
  /^(.*\S)\s+(s|ms|us|kpa|bar|mbar|hpa|psi|c|degc|f|degf|v|%|pct|percent|rpm|kmh|kph|mph|afr|lambda|mg|g s)$/;

/**
 * Each heading with the quantity, channel and unit it stands for. A quantity and channel is given once: to the first
 * heading that names it.
 *
 * @param units - the log's unit row, if it has one
 * @param synonyms - further headings for a quantity
 */
export function recogniseColumns(
  headings: readonly string[],
  units: readonly string[] | null = null,
  synonyms: Partial<Record<LogQuantity, readonly string[]>> = {},
): LogColumn[] {
  const known = new Map<string, LogQuantity>();
  for (const [quantity, info] of Object.entries(logQuantities) as [LogQuantity, LogQuantityInfo][])
    for (const word of [...(synonyms[quantity] ?? []), ...info.synonyms]) {
      const plain = readHeading(word).words || word.toLowerCase();
      if (!known.has(plain)) known.set(plain, quantity);
      if (!known.has(word.toLowerCase())) known.set(word.toLowerCase(), quantity);
    }
  const taken = new Set<string>();
  return headings.map((heading, at) => {
    if (heading.length > LONGEST_HEADING)
      return { at, heading, quantity: null, channel: 1, unit: "", unitFrom: "usual" };
    let { words, unit, channel } = readHeading(heading);
    let quantity = known.get(words);
    if (quantity === undefined) {
      const [, head = "", last = ""] = /^(.*[^\s_])[\s_]+(\S+)$/.exec(heading) ?? [];
      const read = readHeading(head);
      const named = known.get(read.words);
      if (named !== undefined && unitRule(named, last) !== null) {
        ({ words, channel } = read);
        unit ??= last;
        quantity = named;
      }
    }
    if (quantity === undefined) {
      const tail = trailingUnit.exec(words);
      if (tail && known.has(tail[1]!)) {
        words = tail[1]!;
        unit ??= tail[2] === "c" ? "°C" : tail[2] === "f" ? "°F" : tail[2] === "g s" ? "g/s" : spelt(tail[2]!);
        quantity = known.get(words);
      }
    }
    if (quantity === undefined) {
      const bare = words.replace(fillers, " ").replace(/\s+/g, " ").trim();
      if (known.has(bare)) {
        words = bare;
        quantity = known.get(bare);
      }
    }
    // All channels share one clock.
    if (quantity === "time") channel = 1;
    const fromRow = units?.[at]
      ?.slice(0, LONGEST_HEADING)
      .trim()
      .replace(/^[([{](.*)[)\]}]$/, "$1");
    if (fromRow) unit = fromRow;
    const key = `${quantity} ${channel}`;
    if (quantity === undefined || taken.has(key))
      return { at, heading, quantity: null, channel: 1, unit: unit ?? "", unitFrom: "usual" };
    taken.add(key);
    if (unit !== null && unitRule(quantity, unit) !== null)
      return { at, heading, quantity, channel, unit, unitFrom: "said" };
    const implied = logQuantities[quantity].units?.[words];
    if (implied !== undefined) return { at, heading, quantity, channel, unit: implied, unitFrom: "said" };
    return { at, heading, quantity, channel, unit: logQuantities[quantity].unit, unitFrom: "usual" };
  });
}

const spelt = (unit: string) =>
  ({ kpa: "kPa", hpa: "hPa", pct: "%", percent: "%", degc: "°C", degf: "°F", v: "V" })[unit] ?? unit;

/**
 * The unit that a column without one is likely to be in, from the size of its numbers; null: the usual one.
 *
 * @param middle - the median of the first readings
 * @param largest - the largest of them
 */
export function unitFromNumbers(quantity: LogQuantity, middle: number, largest: number): string | null {
  switch (quantity) {
    case "lambda":
    case "lambda-commanded":
      return middle > 5 ? "AFR" : null;
    case "manifold-pressure":
    case "barometric-pressure":
      return middle < 2.5 ? "bar" : middle < 18 ? "psi" : middle > 250 ? "hPa" : null;
    case "throttle-position":
      return largest <= 1.05 && largest > 0 ? "fraction" : null;
    case "pulse-width":
      return middle > 100 ? "us" : null;
    case "coolant-temperature":
      return middle > 135 ? "°F" : null;
    case "trim-short":
    case "trim-long":
      return middle > 50 ? "% of base" : middle > 0.5 && middle < 1.5 && largest < 2 ? "factor" : null;
    default:
      return null;
  }
}
