import { FuelwrightError } from "../values/errors.ts";
import { findUnit } from "./exchange-unit.ts";
import { type Cell, cellText } from "./find-block.ts";
import { type DecimalSign, numberValue } from "./number-text.ts";

export const placeOf = ({ line, column, text }: Cell) => ({ line, column, text });

/**
 * The number in a cell.
 *
 * @param unit - the unit that a unit behind the number must be; null: any
 * @throws FuelwrightError `cell-blank`, `cell-not-a-number`, `number-too-large`, `unit-not-fitting`, naming line and column
 */
export function readCell(where: string, cell: Cell, decimal: DecimalSign, unit: string | null): number {
  if (cell.number === null) {
    const blank = cell.text.trim() === "";
    throw new FuelwrightError(
      blank ? "cell-blank" : "cell-not-a-number",
      blank
        ? `${where}: line ${cell.line}, column ${cell.column} must be a number, got a blank cell; fill it in`
        : `${where}: ${cellText(cell)} must be a number; type digits there, as in 1.5`,
      placeOf(cell),
    );
  }
  const value = numberValue(cell.number, decimal);
  if (!Number.isFinite(value))
    throw new FuelwrightError(
      "number-too-large",
      `${where}: ${cellText(cell)} is larger than any number kept here; check its exponent`,
      placeOf(cell),
    );
  if (unit !== null && cell.number.behind !== "" && findUnit(cell.number.behind) !== unit)
    throw new FuelwrightError(
      "unit-not-fitting",
      `${where}: ${cellText(cell)} must be in ${unit || "no unit"} as the others are; write all of them alike`,
      { ...placeOf(cell), unit },
    );
  return value;
}

/** The places of an axis in rising order. @throws FuelwrightError `axis-not-rising`, naming the first that breaks the order */
export function orderAxis(where: string, cells: readonly Cell[], values: readonly number[]): number[] {
  const order = values.map((_, at) => at);
  const isFalling = values.length > 1 && values[0]! > values.at(-1)!;
  const sign = isFalling ? -1 : 1;
  const broken = values.findIndex((value, at) => at > 0 && (value - values[at - 1]!) * sign <= 0);
  if (broken >= 0) {
    const [cell, before] = [cells[broken]!, cells[broken - 1]!];
    const repeats = values[broken] === values[broken - 1];
    throw new FuelwrightError(
      "axis-not-rising",
      `${where}: ${cellText(cell)} ${repeats ? "repeats" : `must be ${isFalling ? "below" : "above"}`} the breakpoint ` +
        `before it, ${cellText(before)}; sort the breakpoints and drop repeats`,
      placeOf(cell),
    );
  }
  return isFalling ? order.reverse() : order;
}
