import { canonicalUnit } from "@fuelwright/table-core";

/** What was typed: a number and the unit behind it, if one was given, or a sentence that says what is wrong. */
export type TypedNumber =
  | { readonly ok: true; readonly number: number; readonly unit: string | null }
  | { readonly ok: false; readonly sentence: string };

/** A sign, digits with their separators, an exponent; then whatever stands behind. */
const shape = /^([+\-−–]?)\s*([.,]?\d(?:[\d.,\s'’]*[\d.,])?)(?:e([+-]?\d{1,3})(?![a-z]))?\s*(.*)$/iu;

/**
 * The number in a text as people type it: `1.5`, `1,5`, `−3`, `12 000`, `1,234.5`, `1.234,5`, `2e3`, `43.5 psi`.
 *
 * Where a text holds both a point and a comma, the last of them is the decimal sign. One comma before exactly three
 * digits (`1,500`) can mean 1.5 or 1500; it is refused with both readings, since a guess would be off by a thousand.
 *
 * @example readNumber("1,5") // { ok: true, number: 1.5, unit: null }
 */
export function readNumber(text: string): TypedNumber {
  const match = shape.exec(text.trim());
  if (match === null)
    return refuse(text.trim() === "" ? "Give a number." : `${quote(text)} is not a number; give one such as 1.5.`);
  const [, sign = "", spaced = "", exponent = "0", behind = ""] = match;
  const digits = spaced.replace(/[\s'’]/gu, "");
  if (/^[1-9]\d{0,2},\d{3}$/.test(digits))
    return refuse(
      `${quote(digits)} can be read two ways; write ${digits.replace(",", "")} or ${digits.replace(",", ".")}.`,
    );
  const plain = withPoint(digits);
  if (plain === null) return refuse(`${quote(text)} has a point or comma out of place; write it such as 1234.5.`);
  const number = Number(`${sign === "" || sign === "+" ? "" : "-"}${plain}e${exponent}`);
  if (!Number.isFinite(number)) return refuse("This number is too large.");
  if (behind === "") return { ok: true, number, unit: null };
  const unit = canonicalUnit(behind);
  return unit === null
    ? refuse(`${quote(behind)} is not a unit known here; give the number alone.`)
    : { ok: true, number, unit };
}

/** Digits with a point as decimal sign and no groups, or null where the separators make no number. */
function withPoint(digits: string): string | null {
  const separators = digits.match(/[.,]/g) ?? [];
  if (separators.length === 0) return digits;
  const last = separators.at(-1)!;
  const many = separators.length > 1;
  // A separator used more than once groups thousands; otherwise the last one is the decimal sign.
  const groups = many ? separators[0]! : null;
  const decimal = many && last === groups ? null : last;
  const [whole = "", fraction = "", surplus] = decimal === null ? [digits] : digits.split(decimal);
  if (surplus !== undefined || /[.,]/.test(fraction)) return null;
  if (groups !== null && !(groups === "," ? /^\d{1,3}(,\d{3})+$/ : /^\d{1,3}(\.\d{3})+$/).test(whole)) return null;
  return `${whole.replace(/[.,]/g, "") || "0"}.${fraction || "0"}`;
}

const refuse = (sentence: string): TypedNumber => ({ ok: false, sentence });

function quote(text: string): string {
  const short = text.trim();
  return `“${short.length > 24 ? `${short.slice(0, 24)}…` : short}”`;
}
