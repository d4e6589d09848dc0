import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";
import { findUnit } from "./exchange-unit.ts";
import { type NumberText, readNumberText } from "./number-text.ts";
import type { FieldLine } from "./split-fields.ts";

/** A field with its place, as a person counts, and the number it holds if any. */
export interface Cell {
  readonly text: string;
  readonly line: number;
  readonly column: number;
  readonly number: NumberText | null;
}

/** How the cells lie: a table with breakpoints on two sides, or one row of breakpoints over (or beside) its cells. */
export type Layout = "two-axes" | "one-row";

/** The part of a text that is the table, and the words around it. */
export interface Block {
  /** Lines above the table, each with its filled fields. */
  readonly titles: readonly { readonly line: number; readonly texts: readonly string[] }[];
  /** Lines of units or axis names directly above the table or under its first line; sparse, by column. */
  readonly labelRows: readonly (readonly (string | undefined)[])[];
  /** Texts in a column left of the table, one for each row, perhaps blank; none if there is no such column. */
  readonly labelColumn: readonly string[];
  /** Notes under the table. */
  readonly notes: readonly string[];
  readonly emptyColumns: number;
  /** All rows of the table, the first with the header if there is one; not yet known to be of one length. */
  readonly rows: readonly (readonly Cell[])[];
}

/** How an error names a cell. */
export const cellText = ({ line, column, text }: Cell) => `line ${line}, column ${column} (${say(text)})`;

/**
 * The block of numbers in a text: what stands above and below it is told apart, empty columns around it are left out.
 *
 * A line belongs to the block if behind its first field it holds numbers alone, or at least two numbers that are half of
 * what it holds; everything between the first and the last such line belongs to it too, so that a bad cell is reported and
 * not passed over.
 *
 * @throws FuelwrightError `no-table`, `axis-too-short`
 */
export function findBlock(where: string, lines: readonly FieldLine[]): Block {
  const all = lines.map((line) => ({ ...line, cells: toCells(line), width: widthOf(line.fields) }));
  const numeric = all.map(({ cells }) => isNumeric(cells));
  const width = commonest(all.filter((_, at) => numeric[at]).map((line) => line.width));
  const first = all.findIndex((line, at) => numeric[at] && line.width > width / 2);
  if (first < 0) throw noTable(where, all);
  let last = numeric.lastIndexOf(true);
  // A line behind the last numbers is a note only if it can't be a row that went wrong.
  const isNote = (line: (typeof all)[number]) => line.width === 1 && line.cells[0]?.number === null;
  for (let at = last + 1; at < all.length; at++) if (!isNote(all[at]!)) last = at;

  const head = all.slice(0, first);
  const body = all.slice(first, last + 1);
  const labelRows: (string | undefined)[][] = [];
  const toLabels = ({ cells }: (typeof all)[number]) => cells.map(({ text }) => (text === "" ? undefined : text));
  for (let line = head.at(-1); line && isLabelRow(line.cells, labelRows.length === 0 ? width : 0); line = head.at(-1)) {
    labelRows.unshift(toLabels(line));
    head.pop();
  }
  const second = body[1];
  if (second && isUnitRow(second.cells)) {
    labelRows.push(toLabels(second));
    body.splice(1, 1);
  }

  const used = body.map(({ cells }) => cells);
  const from = Math.min(...used.map((cells) => cells.findIndex(({ text }) => text !== "")));
  const to = Math.max(...body.map((line) => line.width));
  const columnsBefore = hasLabelColumn(used.map((cells) => cells.slice(from))) ? from + 1 : from;
  return {
    titles: head.map(({ number, cells }) => ({
      line: number,
      texts: cells.map(({ text }) => text).filter((text) => text !== ""),
    })),
    labelRows: labelRows.map((row) => row.slice(columnsBefore)),
    labelColumn: columnsBefore > from ? used.map((cells) => cells[from]?.text ?? "") : [],
    notes: all.slice(last + 1).map(({ cells }) => cells[0]!.text),
    emptyColumns: from + Math.max(0, Math.max(...body.map(({ fields }) => fields.length)) - to),
    rows: used.map((cells) => cells.slice(columnsBefore, to)),
  };
}

export function toCells({ number: line, fields }: FieldLine): Cell[] {
  return fields.map(({ text }, at) => ({ text, line, column: at + 1, number: numberIn(text) }));
}

/** A number alone or with a unit behind it: "20 kPa" is one, "2 cylinders" is not, and "20 1" is two. */
export function numberIn(text: string): NumberText | null {
  const number = readNumberText(text);
  if (number === null || number.behind === "") return number;
  return number.behind !== "1" && findUnit(number.behind) !== null ? number : null;
}

/** How many fields a line has up to the last that is filled. */
export function widthOf(fields: readonly { readonly text: string }[]): number {
  let width = fields.length;
  while (width > 0 && fields[width - 1]!.text.trim() === "") width--;
  return width;
}

function isNumeric(cells: readonly Cell[]): boolean {
  const behind = cells.slice(1).filter(({ text }) => text !== "");
  if (behind.length > 0 && behind.every(({ number }) => number !== null)) return true;
  const filled = cells.filter(({ text }) => text !== "").length;
  const numbers = cells.filter(({ number }) => number !== null).length;
  return numbers >= 2 && numbers >= filled / 2;
}

function commonest(widths: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const width of widths) counts.set(width, (counts.get(width) ?? 0) + 1);
  let best = 0;
  for (const [width, count] of counts) if (count > (counts.get(best) ?? 0)) best = width;
  return best;
}

/** A line of words that reaches behind its first column: names or units of what stands under it. A title does not. */
function isLabelRow(cells: readonly Cell[], width: number): boolean {
  const filled = cells.filter(({ text }) => text !== "");
  if (filled.some(({ number }) => number !== null) || filled.every(({ column }) => column === 1)) return false;
  return cells[0]?.text === "" || filled.every(isUnit) || (width === 2 && filled.length === 2);
}

function isUnitRow(cells: readonly Cell[]): boolean {
  const filled = cells.filter(({ text }) => text !== "");
  return filled.length > 0 && filled.every((cell) => cell.number === null && isUnit(cell));
}

const isUnit = ({ text }: Cell) => findUnit(text.replace(/^[([{]|[)\]}]$/g, "")) !== null;

/**
 * Whether the first column holds labels and no breakpoints: in a pair of rows, or where the next column has a corner of
 * its own. Anywhere else words in it are bad breakpoints.
 */
function hasLabelColumn(rows: readonly (readonly Cell[])[]): boolean {
  if (rows.length < 2 || rows.some((row) => row[0]?.number != null || row.length < 2)) return false;
  if (rows.length === 2) return rows.every((row) => row.some(({ number }) => number !== null));
  return rows[0]![1]!.number === null && rows.slice(1).every((row) => row[1]?.number != null);
}

function noTable(where: string, lines: readonly { readonly cells: readonly Cell[] }[]): FuelwrightError {
  const numbers = lines.filter(({ cells }) => cells.some(({ number }) => number !== null)).length;
  if (numbers > 0)
    return new FuelwrightError(
      "axis-too-short",
      `${where}: a table must have at least 2 columns, got one column with ${numbers} numbers; copy its breakpoints too`,
      { columns: 1 },
    );
  const start = lines[0]?.cells.find(({ text }) => text !== "");
  return new FuelwrightError(
    "no-table",
    `${where}: the text must hold rows of numbers, got ${start ? `none; it begins with ${say(start.text)}` : "none"}; ` +
      "copy the table with its breakpoints",
  );
}
