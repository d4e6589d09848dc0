import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";
import { type DecimalSign, numberValue, readNumberText } from "./number-text.ts";

/**
 * The number that somebody typed, with a point or a comma, and without a unit.
 *
 * `1.5` and `1,5` are both 1.5; `1,234.5` and `1.234,5` are 1234.5. One comma before exactly three digits (`1,500`) can mean
 * 1.5 or 1500 and is refused: a guess would be off by a thousand. With `decimal` given that sign is always the decimal sign,
 * and the other one before exactly three digits is what is refused.
 *
 * @param options - `decimal`: the decimal sign of the person who types; default: point or comma
 * @example readDecimal("1,5") // 1.5
 * @throws FuelwrightError `not-a-number`, `number-too-large`, `ambiguous-number` (its `details.readings` holds both)
 */
export function readDecimal(text: string, options: { readonly decimal?: DecimalSign } = {}): number {
  const number = typeof text === "string" ? readNumberText(text) : null;
  if (number === null || number.behind !== "")
    throw new FuelwrightError(
      "not-a-number",
      `readDecimal: the text must be a number such as 1.5 or 1,5, got ${say(text)}; type digits only`,
      { text },
    );
  const decimal = options.decimal ?? ".";
  const isOpen = number.form === (decimal === "." ? "one-comma" : "one-point");
  const readings = [numberValue(number, "."), numberValue(number, ",")];
  if (isOpen)
    throw new FuelwrightError(
      "ambiguous-number",
      `readDecimal: ${say(text)} can mean ${readings.join(" or ")}; write one of these`,
      { text, readings },
    );
  const certain = number.form === "comma" ? "," : number.form === "point" ? "." : decimal;
  const value = numberValue(number, certain);
  if (!Number.isFinite(value))
    throw new FuelwrightError(
      "number-too-large",
      `readDecimal: ${say(text)} is larger than any number kept here; check its exponent`,
      { text },
    );
  return value;
}
