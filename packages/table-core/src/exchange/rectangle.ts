import { FuelwrightError } from "../values/errors.ts";
import type { Cell } from "./find-block.ts";
import { numberValue } from "./number-text.ts";

export type Rows = readonly (readonly Cell[])[];

/** A first line of numbers that is one field shorter than the others lacks the corner: it is put there, blank. */
export function withCorner(rows: Rows): Rows {
  const [header, ...others] = rows;
  const width = others[0]?.length ?? 0;
  if (!header || header.length !== width - 1 || header[0]?.number == null || others.length < 2) return rows;
  if (others.some((row) => row.length !== width)) return rows;
  return [[{ text: "", line: header[0].line, column: 0, number: null }, ...header], ...others];
}

/** @throws FuelwrightError `ragged-rows`, naming the first line that is not as long as the first */
export function requireRectangle(where: string, rows: Rows): void {
  const width = rows[0]!.length;
  const ragged = rows.find((row) => row.length !== width);
  if (!ragged) return;
  const line = ragged[0]?.line ?? rows[0]![0]!.line;
  const first = rows[0]![0]!.line;
  const byThousands = rows.find((row) => row.length > Math.min(width, ragged.length) && hasSplitThousands(row));
  throw new FuelwrightError(
    "ragged-rows",
    `${where}: line ${line} must have ${width} cells as line ${first} has, got ${ragged.length}; ${
      byThousands
        ? `if line ${byThousands[0]!.line} has commas between thousands (1,200), take them out or put such numbers in quotes`
        : "fill or cut the line"
    }`,
    { line, cells: ragged.length, expected: width },
  );
}

/** Whether fields that follow one another look like a number cut at its thousands: 1 and 200. */
function hasSplitThousands(row: readonly Cell[]): boolean {
  return row.some((cell, at) => /^[1-9]\d{0,2}$/.test(cell.text) && /^\d{3}$/.test(row[at + 1]?.text ?? ""));
}

/** The number in a cell before the decimal sign is known, or NaN: good enough to tell an order or an engine speed. */
export const roughValue = ({ number }: Cell): number =>
  number === null
    ? Number.NaN
    : numberValue(number, number.form === "comma" || number.form === "one-comma" ? "," : ".");

/** Whether numbers strictly rise or strictly fall. */
export function runsOneWay(cells: readonly Cell[]): boolean {
  const values = cells.map(roughValue);
  const runs = (sign: number) => values.every((value, at) => at === 0 || (value - values[at - 1]!) * sign > 0);
  return runs(1) || runs(-1);
}
