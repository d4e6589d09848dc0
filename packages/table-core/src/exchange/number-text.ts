/** What stands before the decimals of a number. */
export type DecimalSign = "." | ",";

/**
 * A number as it stands in a text, before the decimal sign is known.
 *
 * `form` is what its points and commas say by themselves: `whole` nothing, `point` and `comma` which one is the decimal sign;
 * `one-point` (1.250) and `one-comma` (1,250) can be either a decimal sign or a group of thousands.
 */
export interface NumberText {
  readonly form: "whole" | "point" | "comma" | "one-point" | "one-comma";
  /** The sign between groups of thousands, where that is certain. */
  readonly groups: "," | "." | " " | null;
  /** What stands behind the number, such as a unit. */
  readonly behind: string;
  readonly negative: boolean;
  /** Digits with their points and commas, other separators taken out. */
  readonly digits: string;
  readonly exponent: string;
}

/** Blanks of any width and apostrophes stand between groups of thousands in some countries. */
const SHAPE =
  /^([-+\u2212]?)(\d(?:[\d.,'’ \u00a0\u2009\u202f]*[\d.,])?|[.,]\d+)(?:[eE]([-+\u2212]?\d+))?(?![\d.,])\s*(\S.*)?$/s;
const LONGEST = 400;

/**
 * The number that a text begins with, and what stands behind it, or null where there is none.
 *
 * @example readNumberText("1.250,5 ms") // form "comma", groups ".", behind "ms"
 */
export function readNumberText(text: string): NumberText | null {
  if (text.length > LONGEST) return null;
  const match = SHAPE.exec(text.trim());
  if (!match) return null;
  const [, sign = "", spaced = "", exponent = "", behind = ""] = match;
  const whole = /^\d+/.exec(spaced)?.[0] ?? "";
  const blanks = /^\d{1,3}(?:(['’ \u00a0\u2009\u202f])\d{3}(?:\1\d{3})*)(?![^.,])/.exec(spaced);
  const digits = blanks ? blanks[0].replace(/\D/g, "") + spaced.slice(blanks[0].length) : spaced;
  if (/[^\d.,]/.test(digits)) return null;
  const form = formOf(digits, exponent !== "", blanks !== null);
  if (form === null) return null;
  return {
    ...form,
    groups: blanks ? " " : form.groups,
    behind: behind.trim(),
    negative: sign === "-" || sign === "\u2212",
    digits: whole === "" ? `0${digits}` : digits,
    exponent: exponent.replace("\u2212", "-"),
  };
}

function formOf(digits: string, hasExponent: boolean, grouped: boolean): Pick<NumberText, "form" | "groups"> | null {
  const points = digits.split(".").length - 1;
  const commas = digits.split(",").length - 1;
  if (points + commas === 0) return { form: "whole", groups: null };
  if (points > 0 && commas > 0) {
    if (grouped) return null;
    if (/^\d{1,3}(?:,\d{3})+\.\d*$/.test(digits)) return { form: "point", groups: "," };
    return /^\d{1,3}(?:\.\d{3})+,\d+$/.test(digits) ? { form: "comma", groups: "." } : null;
  }
  const sign = points > 0 ? "." : ",";
  if (points + commas > 1) {
    if (grouped || !/^[1-9]\d{0,2}(?:[.,]\d{3})+$/.test(digits)) return null;
    return sign === "," ? { form: "point", groups: "," } : { form: "comma", groups: "." };
  }
  if (digits.endsWith(",")) return null;
  if (!grouped && !hasExponent && /^[1-9]\d{0,2}[.,]\d{3}$/.test(digits))
    return { form: sign === "," ? "one-comma" : "one-point", groups: null };
  return { form: sign === "," ? "comma" : "point", groups: null };
}

/** The number, once the decimal sign is known; infinite where it is too large. */
export function numberValue(text: NumberText, decimal: DecimalSign): number {
  const plain = text.digits.replaceAll(decimal === "." ? "," : ".", "").replace(decimal, ".");
  const value = Number(`${plain}${text.exponent && `e${text.exponent}`}`);
  return text.negative ? -value : value;
}

/**
 * The shortest text that is read back as the same number, bit for bit.
 *
 * With a comma, 1.105 is written 1,1050: with three places behind it, a comma could be taken for a group of thousands.
 */
export function writeNumber(value: number, decimal: DecimalSign): string {
  if (Object.is(value, -0)) return "-0";
  const text = String(value);
  if (decimal === ".") return text;
  const comma = text.replace(".", ",");
  return /^-?[1-9]\d{0,2},\d{3}$/.test(comma) ? `${comma}0` : comma;
}
