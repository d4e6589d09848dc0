import { type CellQuantity, cellQuantities } from "../values/quantities.ts";
import { cellUnits, findUnit } from "./exchange-unit.ts";
import type { Label } from "./read-label.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";

/** What the cells hold, as it was recognised. */
export interface RecognisedCells {
  readonly quantity: Recognised<CellQuantity>;
  readonly unit: Recognised<string>;
}

/** What is known of the cells beside their numbers. */
export interface CellEvidence {
  /** Labels at the table itself. */
  readonly labels: readonly Label[];
  /** Titles, comments and notes around it. */
  readonly words: readonly Label[];
  readonly isOneRow: boolean;
  readonly quantity?: CellQuantity | undefined;
  readonly unit?: string | undefined;
}

const quantities = Object.keys(cellQuantities) as CellQuantity[];

/**
 * The quantity and unit of the cells: as chosen, by a label at the table, by a word in the lines around it, or by the size
 * of the numbers, which is a guess.
 */
export function recogniseCells(values: readonly number[], evidence: CellEvidence): RecognisedCells {
  const { labels, words } = evidence;
  const units = labels.flatMap(({ unit }) => (unit === undefined ? [] : [unit]));
  const unitHint = evidence.unit === undefined ? undefined : (findUnit(evidence.unit) ?? evidence.unit);
  const hinted =
    evidence.quantity ?? (unitHint && quantities.find((quantity) => cellUnits(quantity).includes(unitHint)));
  const label = labels.find(({ cell }) => cell !== undefined);
  const word = words.find(({ cell }) => cell !== undefined);
  const named = label ?? word;
  const guess = guessCells(values, units, evidence.isOneRow);
  const quantity = hinted
    ? chosen(hinted, quantities)
    : named
      ? recognised(named.cell!, named === label, `The text says “${shorten(named.text)}”.`, quantities)
      : recognised(guess.quantity, false, guess.reason, quantities);

  const choices = cellUnits(quantity.value);
  const unit = (value: string, sure: boolean, reason: string) => recognised(value, sure, reason, choices);
  if (unitHint !== undefined) return { quantity, unit: chosen(unitHint, choices) };
  const said = units.find((name) => choices.includes(name));
  if (said) return { quantity, unit: unit(said, true, `The text says ${said}.`) };
  if (word?.cell === quantity.value && word.unit !== undefined && choices.includes(word.unit))
    return { quantity, unit: unit(word.unit, false, `The text says “${shorten(word.text)}”.`) };
  const byRange = unitByRange(quantity.value, values);
  if (byRange) return { quantity, unit: unit(byRange, false, `No unit is said; ${spanOf(values)} fits ${byRange}.`) };
  return { quantity, unit: unit(choices[0]!, false, "No unit is said.") };
}

const shorten = (text: string) => (text.length > 60 ? `${text.slice(0, 60)}…` : text);
const spanOf = (values: readonly number[]) => `${Math.min(...values)} to ${Math.max(...values)}`;

/** Bounds are common practice: what tables of the kind hold between idle and full load. */
function guessCells(
  values: readonly number[],
  units: readonly string[],
  isOneRow: boolean,
): { readonly quantity: CellQuantity; readonly reason: string } {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const like = (quantity: CellQuantity, words: string) => {
    return { quantity, reason: `No word says what the cells are; ${low} to ${high} looks like ${words}.` };
  };
  if (values.length === 0) return { quantity: "pulse-width", reason: "No cell is a number." };
  if (low < 0) return like("trim", "trims in percent");
  if (units.includes("%") && isOneRow && high >= 40) return like("factor", "a correction in percent of the base");
  if (units.includes("%"))
    return high < 40
      ? like("trim", "trims in percent")
      : like("volumetric-efficiency", "volumetric efficiencies in percent");
  if (units.includes("mg")) return like("fuel-mass", "fuel masses in mg");
  if (isOneRow && high <= 5) return like("factor", "a correction factor");
  if (low >= 0.5 && high <= 1.6) return like("lambda", "lambda");
  if (low >= 9 && high <= 20) return like("lambda", "air–fuel ratios of petrol");
  if (high <= 30) return like("pulse-width", "pulse widths in ms");
  if (low >= 10 && high <= 160) return like("volumetric-efficiency", "volumetric efficiencies in percent");
  return low >= 300 ? like("pulse-width", "pulse widths in µs") : like("fuel-mass", "fuel masses in mg");
}

/** The unit of cells whose quantity is known and whose unit is not said. */
function unitByRange(quantity: CellQuantity, values: readonly number[]): string | null {
  if (values.length === 0) return null;
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (quantity === "lambda" && low >= 4) return "AFR";
  if (quantity === "pulse-width" && low >= 100) return "us";
  return quantity === "volumetric-efficiency" && low >= 0 && high <= 2 ? "fraction" : null;
}
