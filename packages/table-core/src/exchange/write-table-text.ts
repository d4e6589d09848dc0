import { type QuantiseReport, quantiseReport } from "../cells/quantise-report.ts";
import { quantiseTable } from "../cells/quantise-table.ts";
import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { cellPlace, type FuelTable, type Storage } from "../values/fuel-table.ts";
import { axisQuantities, type CellQuantity, cellQuantities } from "../values/quantities.ts";
import { requireOneOf } from "../values/require.ts";
import { axisUnitChange, axisUnits, cellUnitChange, cellUnits, requireFittingUnit } from "./exchange-unit.ts";
import { guardText } from "./guard-text.ts";
import { joinFields, type OutField } from "./join-fields.ts";
import { type DecimalSign, writeNumber } from "./number-text.ts";
import type { Direction, Orientation } from "./recognise-axes.ts";

/** How {@link writeTableText} writes; everything may be left out. */
export interface WriteTableText {
  /** Default: a comma. */
  readonly delimiter?: "," | ";" | "\t";
  /** Default: a point. */
  readonly decimal?: DecimalSign;
  /** Which way rpm runs; a one-row table lies or stands. Default `rpm-across`. */
  readonly orientation?: Orientation;
  /** Which way the load runs, from top to bottom or left to right. Default `rising`. */
  readonly load?: Direction;
  /** Units other than the library's own; for lambda also `AFR` and `equivalence ratio`. */
  readonly units?: { readonly cells?: string; readonly rpm?: string; readonly load?: string };
  /** Of the fuel; needed for AFR. */
  readonly stoichiometricRatio?: number;
  /** Whether labels say what the axes and cells are, so that the text is read back without help. Default true. */
  readonly corner?: boolean;
  /** Whether the table's name stands above it. Default true. */
  readonly title?: boolean;
  /** Rounds the cells to what a controller stores, in the table's unit; usually `table.storage`. Default: full precision. */
  readonly storage?: Storage;
  /** Default: carriage return and line feed, as RFC 4180 has it. */
  readonly lineEnd?: "\r\n" | "\n";
  /** Whether a byte order mark stands first, by which some spreadsheets know UTF-8. Default false. */
  readonly bom?: boolean;
}

/** A table as text. */
export interface WrittenTable {
  readonly text: string;
  /** What rounding to `storage` did: largest error, root mean square, cells cut off. Null: nothing was rounded. */
  readonly rounding: QuantiseReport | null;
}

/**
 * The table as CSV or TSV text, which {@link readTableText} reads back as the same table.
 *
 * Numbers are written with the shortest digits that give the same number again, so nothing is lost; another unit rounds
 * in the last place. Name, quantities and units stand in the text; id, storage, cylinder and locks do not. A name that a
 * spreadsheet would run as a formula is written with an apostrophe before it, which reading takes away.
 *
 * @example writeTableText(table, { delimiter: ";", decimal: "," }).text
 * @throws FuelwrightError `unknown-choice`, `bad-storage`, `unit-not-fitting`, `stoichiometric-ratio-missing`, `name-not-writable`,
 *   `number-too-large`, `axis-not-rising` (breakpoints that another unit can't tell apart)
 */
export function writeTableText(given: FuelTable, options: WriteTableText = {}): WrittenTable {
  const { delimiter = ",", decimal = ".", orientation = "rpm-across", load = "rising", lineEnd = "\r\n" } = options;
  const { corner = true, title = true, bom = false } = options;
  requireOneOf("writeTableText: delimiter", delimiter, [",", ";", "\t"]);
  requireOneOf("writeTableText: decimal", decimal, [".", ","]);
  requireOneOf("writeTableText: orientation", orientation, ["rpm-across", "rpm-down"]);
  requireOneOf("writeTableText: load", load, ["rising", "falling"]);
  requireOneOf("writeTableText: lineEnd", lineEnd, ["\r\n", "\n"]);
  const { storage } = options;
  const table = storage ? quantiseTable(given, { storage }) : given;
  const write = (value: number) => writeNumber(value, decimal);
  const rpm = axisIn(table.rpm, "rpm", options.units?.rpm);
  const cells = cellsIn(table, options);
  const columns = rpm.values.length;
  const rows = table.load.breakpoints.map((_, row) => [...cells.values.subarray(row * columns, (row + 1) * columns)]);

  let lines: string[][];
  if (table.load.quantity === "single-row") {
    const pair = [rpm, { label: cells.label, values: rows[0]! }].map(({ label, values }) => [
      ...(corner ? [label] : []),
      ...values.map(write),
    ]);
    lines = orientation === "rpm-across" ? pair : transpose(pair);
  } else {
    const side = axisIn(table.load, "load", options.units?.load);
    const ends = orientation === "rpm-across" ? ["down", "across"] : ["across", "down"];
    const axes = [`${side.label} ${ends[0]}`, `${rpm.label} ${ends[1]}`];
    const label = `${cells.label}: ${(orientation === "rpm-across" ? axes : axes.reverse()).join(" \\ ")}`;
    const body = side.values.map((value, row) => [write(value), ...rows[row]!.map(write)]);
    lines = [[corner ? label : "", ...rpm.values.map(write)], ...(load === "rising" ? body : body.reverse())];
    if (orientation === "rpm-down") lines = transpose(lines);
  }
  const titled: OutField[][] = title ? [[{ quoted: writableName(table.name) }]] : [];
  return {
    text: (bom ? "\uFEFF" : "") + joinFields([...titled, ...lines], delimiter, lineEnd),
    rounding: storage ? quantiseReport(given, table, { storage }) : null,
  };
}

const transpose = (rows: readonly string[][]): string[][] => rows[0]!.map((_, at) => rows.map((row) => row[at]!));

function writableName(name: string): string {
  for (let at = 0; at < name.length; at++) {
    const code = name.charCodeAt(at);
    if (code < 32 && (code < 9 || code > 13))
      throw new FuelwrightError(
        "name-not-writable",
        `writeTableText: the table's name must be text, got a control character at place ${at + 1}; rename the table`,
        { at },
      );
  }
  return guardText(name);
}

function axisIn({ quantity, breakpoints }: Axis, side: "rpm" | "load", unit: string | undefined) {
  const { label } = axisQuantities[quantity];
  const choices = axisUnits(quantity);
  const fitting = requireFittingUnit(`writeTableText: units.${side} of ${label}`, unit ?? choices[0]!, choices);
  const { fromLibrary } = axisUnitChange(quantity, fitting);
  const values = breakpoints.map(fromLibrary);
  const at = values.findIndex((value, place) => !Number.isFinite(value) || (place > 0 && value <= values[place - 1]!));
  if (at >= 0)
    throw new FuelwrightError(
      "axis-not-rising",
      `writeTableText: ${label} ${breakpoints[at]} gives ${values[at]} in ${fitting}, no breakpoint of its own; ` +
        "write it in another unit",
      { at, unit: fitting },
    );
  return { values, label: quantity === "rpm" ? label : `${label} (${fitting})` };
}

function cellsIn(table: FuelTable, { units, stoichiometricRatio }: WriteTableText) {
  const { quantity } = table;
  const { label } = cellQuantities[quantity];
  const choices = cellUnits(quantity);
  const unit = requireFittingUnit(`writeTableText: units.cells of ${label}`, units?.cells ?? choices[0]!, choices);
  const { fromLibrary } = cellUnitChange("writeTableText", quantity, unit, stoichiometricRatio);
  const values = table.cells.map(fromLibrary);
  const at = values.findIndex((value) => !Number.isFinite(value));
  if (at >= 0)
    throw new FuelwrightError(
      "number-too-large",
      `writeTableText: the cell at ${cellPlace(table, at)}, ${table.cells[at]}, has no finite value in ${unit}; ` +
        "write it in another unit",
      { at, unit },
    );
  return { values, label: cellLabel(quantity, label, unit, stoichiometricRatio) };
}

/** Says the unit wherever there is a choice, so that it never has to be guessed from the numbers. */
function cellLabel(quantity: CellQuantity, label: string, unit: string, ratio: number | undefined): string {
  if (unit === "AFR") return `air-fuel ratio (${ratio} stoichiometric)`;
  if (unit === "equivalence ratio" || unit === "factor") return unit;
  return `${label} (${quantity === "lambda" ? "ratio" : unit})`;
}
