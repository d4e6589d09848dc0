import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { say } from "../values/require.ts";
import { analyseTableText } from "./analyse-table-text.ts";
import type { RecognisedTableText, TableTextHints } from "./recognise-table-text.ts";
import { takeTable } from "./take-table.ts";

/** How {@link readTableText} names the table, and hints that replace what it recognises. */
export interface ReadTableText extends TableTextHints {
  readonly id: string;
  /** Left out: the line above the table. */
  readonly name?: string;
}

/**
 * The table in a CSV, TSV or pasted text, in the library's units and with rising axes, and what was recognised in it.
 *
 * Numbers come over exactly as written (a change of unit rounds in the last place). Nothing is repaired: the first cell
 * that is blank, no number, out of order or impossible for its quantity is refused, with line and column as a person counts
 * them. Texts up to {@link LONGEST_TEXT} characters.
 *
 * @param options - `id`, `name`, and any of {@link TableTextHints}
 * @example readTableText("rpm\\kPa,1000,2000\n40,2.1,2.3\n80,3.9,4.2", { id: "main", quantity: "pulse-width" }).table
 * @throws FuelwrightError `bad-options`, `cell-blank`, `cell-not-a-number`, `number-too-large`, `cell-not-positive`, `axis-not-rising`,
 *   `mixed-decimals`, `ragged-rows`, `unit-not-fitting`, `stoichiometric-ratio-missing`, and those of `recogniseTableText`
 */
export function readTableText(
  text: string,
  options: ReadTableText,
): { readonly table: FuelTable; readonly recognised: RecognisedTableText } {
  if (typeof options !== "object" || options === null)
    throw new FuelwrightError(
      "bad-options",
      `readTableText: options must be an object, got ${say(options)}; give at least the table's id, as in { id: "main" }`,
    );
  const { id, name, ...hints } = options;
  const analysis = analyseTableText("readTableText", text, hints);
  const table = takeTable(analysis, { id, ...(name !== undefined && { name }) });
  return { table, recognised: analysis.recognised };
}
