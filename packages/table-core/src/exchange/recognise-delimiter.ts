import { FuelwrightError } from "../values/errors.ts";
import { numberIn } from "./find-block.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";
import { type Delimiter, type SplitText, splitFields } from "./split-fields.ts";

export const delimiters: readonly Delimiter[] = ["\t", ";", ",", " "];

export const delimiterNames: Readonly<Record<Delimiter, string>> = {
  "\t": "tabs",
  ";": "semicolons",
  ",": "commas",
  " ": "runs of blanks",
};

/** A text divided into fields, and why so. */
export interface DividedText {
  readonly delimiter: Recognised<Delimiter>;
  readonly split: SplitText;
}

/** A spreadsheet's first line that names the delimiter. */
const NAMED = /^sep=([\t;,])(?=\r|\n|$)/i;

/**
 * The text divided by the delimiter under which most of its fields are numbers.
 *
 * @throws FuelwrightError `quote-not-closed`, `text-behind-quote`, `too-many-fields`, `too-many-lines`, naming line and column
 */
export function divideText(where: string, body: string, hint?: Delimiter): DividedText {
  const named = NAMED.exec(body)?.[1] as Delimiter | undefined;
  // The naming line is left empty, not cut out, so that lines keep their numbers.
  const table = named ? body.slice("sep=;".length) : body;
  const set = hint ?? named;
  if (set) {
    const reason = hint ? undefined : "The first line names it.";
    const delimiter = reason ? recognised(set, true, reason, delimiters) : chosen(set, delimiters);
    return { delimiter, split: withoutFault(where, splitFields(table, set)) };
  }
  const candidates = delimiters.map((delimiter) => {
    const split = splitFields(table, delimiter);
    return { delimiter, split, ...countNumbers(split) };
  });
  // Blanks stand in labels and titles too, so they must do clearly better.
  const worth = ({ delimiter, share }: (typeof candidates)[number]) => (delimiter === " " ? share - 0.15 : share);
  const best = candidates.reduce((a, b) => (worth(b) > worth(a) ? b : a));
  const rivals = candidates.filter((other) => other !== best && other.share > 0.5 && other.count > 3);
  const reason = `Divided by ${delimiterNames[best.delimiter]}, ${best.count} fields are numbers: more than in any other way.`;
  return {
    delimiter: recognised(best.delimiter, rivals.length === 0, reason, delimiters),
    split: withoutFault(where, best.split),
  };
}

/** How many fields are numbers in lines of two fields or more, and what share of the fields of all lines that is. */
function countNumbers({ lines }: SplitText): { count: number; share: number } {
  let count = 0;
  let all = 0;
  for (const { fields } of lines) {
    const filled = fields.filter(({ text }) => text !== "");
    all += filled.length;
    if (fields.length > 1) count += filled.filter(({ text }) => numberIn(text) !== null).length;
  }
  return { count, share: all === 0 ? 0 : count / all };
}

function withoutFault(where: string, split: SplitText): SplitText {
  if (!split.fault) return split;
  const { kind, line, column } = split.fault;
  const sentence = {
    "quote-not-closed": `a quote is opened in line ${line}, column ${column} and must be closed; close it or take it out`,
    "text-behind-quote": `in line ${line}, column ${column} text stands behind a closing quote; take the quotes out, or double those within`,
    "too-many-fields": `line ${line} must have at most ${column - 1} cells, got more; copy the table alone`,
    "too-many-lines": `the text must have at most 1024 lines with cells, got more; copy the table alone (a log is read elsewhere)`,
  }[kind];
  throw new FuelwrightError(kind, `${where}: ${sentence}`, { line, column });
}
