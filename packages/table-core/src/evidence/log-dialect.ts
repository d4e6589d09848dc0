import { FuelwrightError } from "../values/errors.ts";
import { canonicalUnit } from "../values/units.ts";
import { decodeText } from "./log-bytes.ts";
import { recogniseColumns } from "./log-quantities.ts";

/** How a log is written. */
export interface LogDialect {
  readonly delimiter: "," | ";" | "\t" | "|";
  readonly decimal: "." | ",";
  /** The line of the headings, from 0; −1 if there is none. */
  readonly headingLine: number;
  readonly headings: readonly string[];
  /** The unit row under the headings, or null. */
  readonly units: readonly string[] | null;
  /** The first line of numbers, from 0. */
  readonly dataLine: number;
  /** Whether a comment says that the log was made by a simulation. */
  readonly simulated: boolean;
}

/** Lines that begin so are comments. */
const commentStart = /^\s*(#|\/\/|%|!|\*|"#)/;

export const isComment = (line: string): boolean => commentStart.test(line);

/** No number takes a hundred characters, and what is longer is not looked through. */
const looksNumeric = (cell: string) =>
  cell.length < 100 && /^\s*"?\s*[-+]?(\d[\d.,:]*|[.,]\d+)(e[-+]?\d+)?\s*"?\s*$/i.test(cell);

/** A line's cells; a delimiter inside quotes does not split. */
export function splitLine(line: string, delimiter: string): string[] {
  const cells: string[] = [];
  let cell = "";
  let quoted = false;
  for (let at = 0; at < line.length; at++) {
    const c = line[at]!;
    if (c === '"') {
      if (quoted && line[at + 1] === '"') cell += line[++at];
      else quoted = !quoted;
    } else if (c === delimiter && !quoted) {
      cells.push(cell.trim());
      cell = "";
    } else cell += c;
  }
  cells.push(cell.trim());
  return cells;
}

/**
 * How the log is written, from its first bytes: delimiter, decimal sign, headings, unit row, first line of numbers.
 *
 * @param head - the beginning of the log, some dozens of lines if it has so many
 * @param whole - whether that is the whole log
 * @throws FuelwrightError `log-empty`, `log-one-column`
 */
export function readDialect(
  head: Uint8Array,
  whole: boolean,
  given: { readonly delimiter?: LogDialect["delimiter"]; readonly decimal?: LogDialect["decimal"] } = {},
): LogDialect {
  const text = decodeText(head).replace(/^\ufeff/, "");
  const lines = text.split("\n").map((line) => line.replace(/\r$/, ""));
  if (!whole && lines.length > 1) lines.pop();
  const body = lines.map((line, at) => ({ line, at })).filter(({ line }) => line.trim() !== "" && !isComment(line));
  if (body.length === 0)
    throw new FuelwrightError("log-empty", "readLog: the log holds no rows; choose a file with headings and numbers");
  const delimiter = given.delimiter ?? findDelimiter(body.map(({ line }) => line));
  const cells = body.map(({ line, at }) => ({ at, cells: splitLine(line, delimiter) }));
  const share = ({ cells: row }: { cells: string[] }) => {
    const filled = row.filter((cell) => cell !== "");
    return filled.length === 0 ? 0 : filled.filter(looksNumeric).length / filled.length;
  };
  const widest = mostCommon(cells.map((row) => row.cells.length));
  if (widest < 2)
    throw new FuelwrightError(
      "log-one-column",
      "readLog: the log seems to have one column only; columns are separated by comma, semicolon, tab or bar",
    );
  // A delimiter at the end of each row makes one cell too many, and an empty one.
  const trailing = cells
    .filter((row) => row.cells.length === widest)
    .every((row, at) => at === 0 || row.cells.at(-1) === "");
  const fits = (row: { cells: string[] }) =>
    row.cells.length === widest || (trailing && row.cells.length === widest - 1 && row.cells.at(-1) !== "");
  const firstNumbers = cells.findIndex((row) => fits(row) && share(row) > 0.5);
  const before = cells.slice(0, Math.min(60, firstNumbers < 0 ? cells.length : firstNumbers)).filter(fits);
  // The row that names the most quantities, or else the last of full width before the numbers that is none of units.
  const named = before.map((row) => recogniseColumns(row.cells).filter(({ quantity }) => quantity !== null).length);
  const most = Math.max(0, ...named);
  const last = before.length - 1;
  const lastHeading = last > 0 && isUnitRow(before[last]!.cells) ? last - 1 : last;
  const headingAt = most > 0 ? named.indexOf(most) : lastHeading;
  const headings = before[headingAt];
  const next = before[headingAt + 1];
  const units = next && isUnitRow(next.cells) ? next : undefined;
  const dataFrom = headings ? cells.indexOf(units ?? headings) + 1 : Math.max(0, firstNumbers);
  const data = most > 0 || firstNumbers < 0 ? dataFrom : firstNumbers;
  const numbers = cells.slice(data, data + 50).flatMap((row) => row.cells);
  const comma = numbers.filter((cell) => /^[-+]?\d+,\d+$/.test(cell)).length;
  const point = numbers.filter((cell) => /^[-+]?\d+\.\d+$/.test(cell)).length;
  return {
    delimiter,
    decimal: given.decimal ?? (comma > point ? "," : "."),
    headingLine: headings?.at ?? -1,
    headings: headings?.cells ?? Array.from({ length: widest }, (_, at) => `column ${at + 1}`),
    units: units?.cells ?? null,
    dataLine: cells[data]?.at ?? lines.length,
    simulated: lines.some((line) => isComment(line) && /\bsimulated\b/i.test(line)),
  };
}

/** A row of units: short words, none of them a number, not all of them empty. */
const isUnitRow = (cells: readonly string[]) =>
  cells.every((cell) => cell.length <= 12 && !looksNumeric(cell)) &&
  cells.some((cell) => canonicalUnit(cell) !== null || /^\W*(s|sec|ms|v|km\/h|afr|phi)\W*$/i.test(cell));

function findDelimiter(lines: readonly string[]): LogDialect["delimiter"] {
  let best: LogDialect["delimiter"] = ",";
  let most = 0;
  for (const delimiter of ["\t", ";", ",", "|"] as const) {
    const counts = lines.slice(0, 100).map((line) => splitLine(line, delimiter).length);
    const usual = mostCommon(counts);
    // How many lines agree counts for more than how many columns: a decimal comma splits some lines and not others.
    const score = usual < 2 ? 0 : counts.filter((count) => count === usual).length * (1 + 0.01 * Math.min(usual, 50));
    if (score > most) {
      most = score;
      best = delimiter;
    }
  }
  return best;
}

function mostCommon(counts: readonly number[]): number {
  const tally = new Map<number, number>();
  for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1);
  return [...tally].reduce((a, b) => (b[1] > a[1] || (b[1] === a[1] && b[0] > a[0]) ? b : a))[0];
}
