import { FuelwrightError } from "../values/errors.ts";
import type { AxisQuantity, CellQuantity } from "../values/quantities.ts";
import { analyseTableText } from "./analyse-table-text.ts";
import type { Layout } from "./find-block.ts";
import type { DecimalSign } from "./number-text.ts";
import type { LineEnd } from "./plain-text.ts";
import type { Direction, Orientation } from "./recognise-axes.ts";
import type { ThousandsSign } from "./recognise-decimal.ts";
import type { Recognised } from "./recognised.ts";
import type { Delimiter } from "./split-fields.ts";
import { takeTable } from "./take-table.ts";

/** What somebody knows better than the text says: each replaces what is recognised under the same name. */
export interface TableTextHints {
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalSign;
  readonly thousands?: ThousandsSign;
  readonly layout?: Layout;
  readonly orientation?: Orientation;
  /** What the cells hold, and in which unit: the library's units, and `AFR` and `equivalence ratio` for lambda. */
  readonly quantity?: CellQuantity;
  readonly unit?: string;
  /** The columns' axis in the table: rpm, or what a one-row correction runs along. */
  readonly rpmQuantity?: AxisQuantity;
  readonly rpmUnit?: string;
  readonly loadQuantity?: AxisQuantity;
  readonly loadUnit?: string;
  /** Of the fuel that AFR is meant for. */
  readonly stoichiometricRatio?: number;
}

/** All that was recognised in the text of a table. */
export interface RecognisedTableText {
  readonly delimiter: Recognised<Delimiter>;
  readonly decimal: Recognised<DecimalSign>;
  readonly thousands: Recognised<ThousandsSign>;
  readonly lineEnd: Recognised<LineEnd>;
  /** Whether a byte order mark stands before the text. */
  readonly bom: Recognised<boolean>;
  /** The first line above the table; empty if there is none. */
  readonly title: Recognised<string>;
  readonly layout: Recognised<Layout>;
  readonly orientation: Recognised<Orientation>;
  /** The words in the corner of the breakpoints; empty if there are none. */
  readonly corner: Recognised<string>;
  /** Lines of units or axis names beside the header; empty if there are none. */
  readonly unitRow: Recognised<string>;
  readonly quantity: Recognised<CellQuantity>;
  readonly unit: Recognised<string>;
  readonly stoichiometricRatio: Recognised<number> | null;
  readonly rpmQuantity: Recognised<AxisQuantity>;
  readonly rpmUnit: Recognised<string>;
  readonly rpmDirection: Recognised<Direction>;
  /** The load's three are null in a one-row table. */
  readonly loadQuantity: Recognised<AxisQuantity> | null;
  readonly loadUnit: Recognised<string> | null;
  readonly loadDirection: Recognised<Direction> | null;
  /** Of cells, as the table will have them. */
  readonly rows: number;
  /** See `rows`. */
  readonly columns: number;
  /** Sentences on what is left out: comments, notes, empty columns. */
  readonly passedOver: readonly string[];
}

/**
 * What a pasted or opened text is taken for, with reasons and alternatives, before anything is taken over.
 *
 * `problem` is what {@link readTableText} would throw with the same hints, or null. To put something right, call again
 * with it as a hint of the same name.
 *
 * @example recogniseTableText("rpm\\kPa;1000;2000\n40;2,1;2,3\n80;3,9;4,2").decimal.value // ","
 * @throws FuelwrightError where no table is found at all: `text-empty`, `text-too-long`, `text-binary`, `text-utf16`,
 *   `quote-not-closed`, `no-table`, `no-axes`, `ragged-rows`, `axis-too-short`, …
 */
export function recogniseTableText(
  text: string,
  hints: TableTextHints = {},
): RecognisedTableText & { readonly problem: FuelwrightError | null } {
  const analysis = analyseTableText("recogniseTableText", text, hints);
  return Object.freeze({ ...analysis.recognised, problem: problemOf(() => takeTable(analysis, { id: "unread" })) });
}

function problemOf(work: () => unknown): FuelwrightError | null {
  try {
    work();
    return null;
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
}
