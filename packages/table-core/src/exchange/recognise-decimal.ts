import type { DecimalSign, NumberText } from "./number-text.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";
import type { Delimiter } from "./split-fields.ts";

/** What groups of thousands are divided by: `" "` stands for blanks and apostrophes of any kind. */
export type ThousandsSign = "none" | "," | "." | " ";

/** A number of the text, and whether it is a breakpoint or a cell. */
export interface NumberCell {
  readonly number: NumberText;
  readonly isBreakpoint: boolean;
}

/** The signs in numbers, and the first number that contradicts them. */
export interface RecognisedSigns<T extends NumberCell> {
  readonly decimal: Recognised<DecimalSign>;
  readonly thousands: Recognised<ThousandsSign>;
  readonly conflict: T | null;
}

const signs: readonly DecimalSign[] = [".", ","];
const names: Readonly<Record<DecimalSign, string>> = { ".": "point", ",": "comma" };

/**
 * The decimal sign of a whole text, decided by all its numbers together.
 *
 * `1.5` and `1,5` decide; `1,200` alone can be either and follows the others. Where none decides, a comma before three
 * digits is a group of thousands in a text divided by commas (in quotes, then) or if only breakpoints have it, and
 * otherwise the decimal sign.
 */
export function recogniseDecimal<T extends NumberCell>(
  cells: readonly T[],
  delimiter: Delimiter,
  hints: { readonly decimal?: DecimalSign | undefined; readonly thousands?: ThousandsSign | undefined } = {},
): RecognisedSigns<T> {
  const decimal = hints.decimal ? chosen(hints.decimal, signs) : findDecimal(cells, delimiter);
  const other: DecimalSign = decimal.value === "." ? "," : ".";
  const thousands = findThousands(cells, other, hints.thousands);
  const mayGroup = thousands.value === other;
  const provesGroups = hints.thousands === other || cells.some(({ number }) => number.groups === other);
  const decidedInCells = cells.some((cell) => !cell.isBreakpoint && cell.number.form === form(decimal.value));
  const conflict = cells.find(({ number, isBreakpoint }) => {
    if (number.form === form(other)) return true;
    if (number.form !== oneOf(other)) return false;
    // A cell such as 1,050 among cells such as 0.98 is as likely a slip of the hand as a thousand.
    return !mayGroup || (!isBreakpoint && !provesGroups && decidedInCells);
  });
  return { decimal, thousands, conflict: conflict ?? null };
}

const form = (sign: DecimalSign) => (sign === "." ? "point" : "comma");
const oneOf = (sign: DecimalSign) => (sign === "." ? "one-point" : "one-comma");

function findDecimal(cells: readonly NumberCell[], delimiter: Delimiter): Recognised<DecimalSign> {
  const count = (wanted: NumberText["form"]) => cells.filter(({ number }) => number.form === wanted).length;
  const points = count("point");
  const commas = count("comma");
  if (points + commas > 0) {
    const value = commas > points ? "," : ".";
    const rival = Math.min(points, commas);
    const reason = `${Math.max(points, commas)} numbers can only be read with a decimal ${names[value]}${
      rival > 0 ? `, but ${rival} with the other sign` : ""
    }.`;
    return recognised(value, rival === 0, reason, signs);
  }
  const openCommas = cells.filter(({ number }) => number.form === "one-comma");
  if (openCommas.length > 0 && count("one-point") === 0) {
    if (openCommas.every((cell) => cell.isBreakpoint))
      return recognised(
        ".",
        false,
        "Commas stand before three digits in breakpoints alone, as between thousands.",
        signs,
      );
    if (delimiter === ",")
      return recognised(".", false, "The text is divided by commas, so those within numbers divide thousands.", signs);
    return recognised(",", false, "Commas stand in cells, and the text is not divided by commas.", signs);
  }
  if (count("one-point") > 0)
    return recognised(".", delimiter !== ";", "Points stand within numbers, and nothing speaks for commas.", signs);
  return recognised(".", true, "No number has a fraction.", signs);
}

function findThousands(
  cells: readonly NumberCell[],
  other: DecimalSign,
  hint: ThousandsSign | undefined,
): Recognised<ThousandsSign> {
  const choices: readonly ThousandsSign[] = ["none", other, " "];
  if (hint) return chosen(hint, choices);
  if (cells.some(({ number }) => number.groups === other))
    return recognised<ThousandsSign>(other, true, `Some numbers have a ${names[other]} between thousands.`, choices);
  if (cells.some(({ number }) => number.form === oneOf(other)))
    return recognised<ThousandsSign>(
      other,
      false,
      `A ${names[other]} stands before three digits and is not the decimal sign.`,
      choices,
    );
  return cells.some(({ number }) => number.groups === " ")
    ? recognised<ThousandsSign>(" ", true, "Some numbers have blanks or apostrophes between thousands.", choices)
    : recognised<ThousandsSign>("none", true, "No number has a sign between thousands.", choices);
}
