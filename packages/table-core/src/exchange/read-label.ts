import type { AxisQuantity, CellQuantity } from "../values/quantities.ts";
import { findUnit } from "./exchange-unit.ts";
import { numberValue, readNumberText } from "./number-text.ts";

/** What a label of a table says: any part may be missing. */
export interface Label {
  readonly text: string;
  /** The axis it names; `load` where it says no more than that. */
  readonly axis?: AxisQuantity | "load";
  /** What it says the cells hold. */
  readonly cell?: CellQuantity;
  readonly unit?: string;
  /** Where it says the axis runs. */
  readonly side?: "across" | "down";
  readonly stoichiometricRatio?: number;
}

/** General terms and the sensor abbreviations of SAE J1930. Order counts: the first that fits is taken. */
const axisWords: readonly (readonly [RegExp, AxisQuantity | "load"])[] = [
  [/\brpm\b|\bengine speed\b|\brevolutions?\b|\brevs\b|\br(?:ev)?\/min\b|^\s*n\s*$/i, "rpm"],
  [/\bbaro|\bambient pressure\b/i, "barometric-pressure"],
  // Only in capitals: "fuel map" is the table itself.
  [/\bMAP\b/, "manifold-pressure"],
  [/\bmanifold\b|\bboost\b|\bpressure\b/i, "manifold-pressure"],
  [/\bthrottle\b|\btps?\b/i, "throttle-position"],
  [/\bcoolant\b|\bect\b|\b(?:engine|water|oil|cylinder head)\b.*\btemp/i, "coolant-temperature"],
  [/\b(?:air|intake|ambient|charge)\b.*\btemp|\biat\b/i, "air-temperature"],
  [/\bair[ -]?(?:charge|mass)\b/i, "air-charge"],
  [/\bbattery\b|\bvoltage\b|\bvolts\b/i, "battery-voltage"],
  [/\bload\b/i, "load"],
];

const cellWords: readonly (readonly [RegExp, CellQuantity, string?])[] = [
  [/\btrims?\b/i, "trim"],
  [/\bequivalence\b|\bphi\b/i, "lambda", "equivalence ratio"],
  [/\bafr\b|\bair[ \-–/]*(?:to[ -])?fuel\b/i, "lambda", "AFR"],
  [/\blambda\b|λ/i, "lambda"],
  [/\bvolumetric\b|\bve\b/i, "volumetric-efficiency"],
  [/\bpulse|\binjection (?:time|duration)\b|\bopen(?:ing)? time\b|\bdead ?time\b/i, "pulse-width"],
  [/\bfuel mass\b|\bmass of fuel\b|\bfuel per\b/i, "fuel-mass"],
  [/\bfactor\b|\bmultiplier\b|\bcorrection\b|\benrichment\b/i, "factor"],
];

/** Units that may stand in a sentence without brackets; others, such as `in` or `us`, are words too. */
const PLAIN_UNITS =
  /(?:^|[\s(])(kpa|hpa|mbar|bar|psi|inhg|ms|µs|μs|mg|%|°c|°f|ºc|ºf|degc|degf|\uFFFDc|\uFFFDf)(?=$|[\s).,;:])/i;

/** Of a longer label only the beginning counts: a page of text in a field must not hold up the reading. */
const LONGEST = 200;

/**
 * What a label says, from its words and the unit in it.
 *
 * @example readLabel("manifold pressure (kPa) down") // axis "manifold-pressure", unit "kPa", side "down"
 */
export function readLabel(label: string): Label {
  const text = label.slice(0, LONGEST);
  const inBrackets = [...text.matchAll(/[([{]([^()[\]{}]{1,40})[)\]}]/g)].map((match) => match[1]!);
  const words = text.replace(/[([{][^()[\]{}]{1,40}[)\]}]/g, " ");
  const axis = axisWords.find(([pattern]) => pattern.test(words))?.[1];
  const cellWord = cellWords.find(([pattern]) => pattern.test(words));
  const unit =
    inBrackets.map(findUnit).find((name) => name !== null) ??
    findUnit(text.replace(/\b(?:across|down)\b|[↓→]/g, "")) ??
    findUnit(PLAIN_UNITS.exec(text)?.[1] ?? "") ??
    cellWord?.[2];
  const side = /\bdown\b|↓/.test(words) ? "down" : /\bacross\b|→/.test(words) ? "across" : undefined;
  const ratio = inBrackets.map((part) => readNumberText(part)).find((part) => part?.behind === "stoichiometric");
  const cell = cellWord?.[1] ?? cellOfUnit(unit);
  return {
    text,
    ...(axis && { axis }),
    ...(cell && { cell }),
    ...(unit && { unit }),
    ...(side && { side }),
    ...(ratio && { stoichiometricRatio: numberValue(ratio, ratio.form === "comma" ? "," : ".") }),
  };
}

/** What cells hold whose unit is said: of several that share a unit, none. */
function cellOfUnit(unit: string | undefined): CellQuantity | undefined {
  if (unit === "ms" || unit === "us") return "pulse-width";
  return unit === "lambda" || unit === "AFR" || unit === "equivalence ratio" ? "lambda" : undefined;
}

/**
 * The labels in the corner of a table, which often names both axes: "kPa\rpm", "rpm / load", "load vs rpm".
 *
 * A slash inside a unit (rev/min) does not divide.
 */
export function readCorner(text: string): Label[] {
  const parts = text
    .slice(0, LONGEST)
    .split(/\s*[\\|:;×]\s*|\s+(?:vs\.?|by|x)\s+/i)
    .flatMap(splitAtSlash);
  return parts.filter((part) => part.trim() !== "").map(readLabel);
}

function splitAtSlash(text: string): string[] {
  const slash = text.indexOf("/");
  if (slash < 0 || findUnit(text) !== null) return [text];
  const around = /[^\s([{/]*\/[^\s)\]}/]*/.exec(text)?.[0] ?? "";
  if (findUnit(around) !== null || /^air\/fuel$/i.test(around)) return [text];
  return [text.slice(0, slash), ...splitAtSlash(text.slice(slash + 1))];
}
