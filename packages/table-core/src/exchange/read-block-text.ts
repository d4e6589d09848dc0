import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireOneOf } from "../values/require.ts";
import { type Cell, cellText, toCells, widthOf } from "./find-block.ts";
import { type DecimalSign, readNumberText } from "./number-text.ts";
import { plainText } from "./plain-text.ts";
import { orderAxis, placeOf, readCell } from "./read-cell.ts";
import { readCorner } from "./read-label.ts";
import { isRpmLike, type Orientation, recogniseOrientation } from "./recognise-axes.ts";
import { recogniseDecimal } from "./recognise-decimal.ts";
import { delimiters, divideText } from "./recognise-delimiter.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";
import { type Rows, requireRectangle, roughValue, runsOneWay, withCorner } from "./rectangle.ts";
import type { Delimiter } from "./split-fields.ts";

/** Which breakpoints a block brings along: on both sides, along its top, down its side, or none. */
export type BlockAxes = "both" | "across" | "down" | "none";

/** A block of numbers from a clipboard. */
export interface BlockText {
  /** The cells without breakpoints, in the order of the text; turned only where breakpoints fall. */
  readonly rows: readonly (readonly number[])[];
  /** Breakpoints of the columns, rising. */
  readonly across: readonly number[] | null;
  /** Breakpoints of the rows, rising. */
  readonly down: readonly number[] | null;
  readonly axes: Recognised<BlockAxes>;
  /** Which side rpm stands at, where both sides have breakpoints. */
  readonly orientation: Recognised<Orientation> | null;
  readonly delimiter: Recognised<Delimiter>;
  readonly decimal: Recognised<DecimalSign>;
}

/** What somebody knows better than the text says. */
export interface BlockTextHints {
  readonly axes?: BlockAxes;
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalSign;
}

const everyAxes: readonly BlockAxes[] = ["none", "both", "across", "down"];

/**
 * The numbers of a block copied from a spreadsheet, with or without breakpoints.
 *
 * A corner that is blank or holds words, or is missing, means breakpoints on both sides. Otherwise a first line or column
 * counts as breakpoints only if it strictly rises or falls and its numbers are engine speeds while the others are not;
 * what else fits is among the alternatives. Numbers are as written, whatever their unit.
 *
 * @param hints - `axes`, `delimiter`, `decimal`, as somebody has put them right
 * @example readBlockText("\t1000\t2000\n40\t2.1\t2.3").across // [1000, 2000]
 * @throws FuelwrightError as `readTableText`, naming line and column; `block-too-large`; `no-axes` for axes that can't be
 */
export function readBlockText(text: string, hints: BlockTextHints = {}): BlockText {
  const where = "readBlockText";
  if (hints.axes !== undefined) requireOneOf(`${where}: axes`, hints.axes, everyAxes);
  if (hints.delimiter !== undefined) requireOneOf(`${where}: delimiter`, hints.delimiter, delimiters);
  if (hints.decimal !== undefined) requireOneOf(`${where}: decimal`, hints.decimal, [".", ","]);
  const { body } = plainText(where, text);
  const { delimiter, split } = divideBlock(where, body, hints.delimiter);
  const rows = trimBlock(where, split.lines.map(toCells));
  const axes = recogniseBlockAxes(where, rows, hints.axes);
  const top = axes.value === "both" || axes.value === "across" ? 1 : 0;
  const left = axes.value === "both" || axes.value === "down" ? 1 : 0;

  const numbers = rows.flatMap((row, r) =>
    row.flatMap((cell, c) => (cell.number ? [{ number: cell.number, cell, isBreakpoint: r < top || c < left }] : [])),
  );
  const { decimal, conflict } = recogniseDecimal(numbers, delimiter.value, hints);
  if (conflict)
    throw new FuelwrightError(
      "mixed-decimals",
      `${where}: ${cellText(conflict.cell)} does not fit the decimal sign of the other numbers; write all of them alike`,
      placeOf(conflict.cell),
    );
  // The corner of two axes is a label, if anything.
  const values = rows.map((row, r) =>
    row.map((cell, c) => (r < top && c < left ? Number.NaN : readCell(where, cell, decimal.value, null))),
  );
  const across = values.slice(0, top).flatMap((row) => row.slice(left));
  const down = values.slice(top).flatMap((row) => row.slice(0, left));
  const acrossCells = rows.slice(0, top).flatMap((row) => row.slice(left));
  const downCells = rows.slice(top).flatMap((row) => row.slice(0, left));
  const columnOrder = top ? orderAxis(where, acrossCells, across) : rows[0]!.slice(left).map((_, at) => at);
  const rowOrder = left ? orderAxis(where, downCells, down) : rows.slice(top).map((_, at) => at);
  return Object.freeze({
    rows: rowOrder.map((row) => columnOrder.map((column) => values[row + top]![column + left]!)),
    across: top ? columnOrder.map((at) => across[at]!) : null,
    down: left ? rowOrder.map((at) => down[at]!) : null,
    axes,
    orientation: top && left ? orientationOf(rows[0]![0]!, across, down) : null,
    delimiter,
    decimal,
  });
}

/** Divides a block; lines that are one number each, such as `1,5`, are one column and not divided at their comma. */
function divideBlock(where: string, body: string, hint: Delimiter | undefined) {
  if (hint !== undefined) return divideText(where, body, hint);
  const lines = body.split(/[\r\n]+/, MOST_BREAKPOINTS + 2).filter((line) => line.trim() !== "");
  const isColumn = lines.every((line) => !line.includes("\t") && readNumberText(line)?.behind === "");
  if (!isColumn) return divideText(where, body);
  const { split } = divideText(where, body, "\t");
  const withComma = lines.some((line) => line.includes(","));
  const reason = "Each line is one number.";
  return { delimiter: recognised<Delimiter>("\t", !withComma, reason, withComma ? delimiters : []), split };
}

/** The block without empty columns at its right and with a corner. @throws FuelwrightError `block-too-large`, `ragged-rows` */
function trimBlock(where: string, lines: Rows): Rows {
  const width = Math.max(0, ...lines.map(widthOf));
  const most = MOST_BREAKPOINTS + 1;
  if (lines.length > most || width > most)
    throw new FuelwrightError(
      "block-too-large",
      `${where}: a block must have at most ${most} rows and columns, got ${lines.length} and ${width}; copy less`,
      { rows: lines.length, columns: width },
    );
  if (lines.length === 0)
    throw new FuelwrightError("no-table", `${where}: the text must hold numbers, got none; copy the cells again`);
  const rows = withCorner(lines.map((row) => row.slice(0, width)));
  requireRectangle(where, rows);
  return rows;
}

function recogniseBlockAxes(where: string, rows: Rows, hint: BlockAxes | undefined): Recognised<BlockAxes> {
  const top = rows[0]!;
  const left = rows.map((row) => row[0]!);
  const isTable = rows.length > 1 && top.length > 1;
  const fits: Readonly<Record<BlockAxes, boolean>> = {
    none: true,
    both: isTable && runsOneWay(top.slice(1)) && runsOneWay(left.slice(1)),
    across: isTable && runsOneWay(top),
    down: isTable && runsOneWay(left),
  };
  const fitting = everyAxes.filter((axes) => fits[axes]);
  if (hint !== undefined) {
    // What is chosen is tried even where it does not fit, so that the error names the breakpoint in the way.
    if (hint === "none" || isTable) return chosen(hint, fitting);
    throw new FuelwrightError(
      "no-axes",
      `${where}: axes can't be ${hint} in a block of ${rows.length} rows and ${top.length} columns; choose none`,
      { axes: hint },
    );
  }
  if (isTable && top[0]!.number === null)
    return recognised("both", true, "The corner holds no number, so breakpoints stand beside it.", ["both"]);
  const speeds = (cells: readonly Cell[]) => isRpmLike(cells.map(roughValue));
  const others = rows.slice(1).flatMap((row) => row.slice(1));
  if (fits.both && roughValue(top[0]!) === 0)
    return recognised("both", false, "The corner holds 0, and its line and its column both run one way.", fitting);
  if (!speeds(others)) {
    const found = (axes: BlockAxes, side: string) =>
      recognised(axes, false, `The first ${side} runs one way and its numbers fit rpm; the others do not.`, fitting);
    if (fits.across && speeds(top)) return found("across", "line");
    if (fits.down && speeds(left)) return found("down", "column");
    if (fits.both && speeds(top.slice(1))) return found("both", "line");
    if (fits.both && speeds(left.slice(1))) return found("both", "column");
  }
  return recognised("none", fitting.length === 1, "No line or column has the look of breakpoints.", fitting);
}

function orientationOf(corner: Cell, across: readonly number[], down: readonly number[]): Recognised<Orientation> {
  const cornerLabels = readCorner(corner.number === null ? corner.text : "");
  const layout = recognised("two-axes" as const, true, "");
  return recogniseOrientation({ layout, upright: false, cornerLabels, acrossLabels: [], downLabels: [] }, across, down);
}
