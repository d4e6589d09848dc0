import { FuelwrightError } from "../values/errors.ts";
import { requireFinite, say } from "../values/require.ts";
import { joinFields } from "./join-fields.ts";
import { type DecimalSign, writeNumber } from "./number-text.ts";

/** How {@link writeBlockText} writes; everything may be left out. */
export interface WriteBlockText {
  /** Breakpoints to write beside the cells, a blank corner between them. */
  readonly withAxes?: { readonly across: readonly number[]; readonly down: readonly number[] };
  /** Default: a tab, which every spreadsheet takes as the next cell. */
  readonly delimiter?: "," | ";" | "\t";
  readonly decimal?: DecimalSign;
}

/**
 * Rows of numbers as text for a clipboard, at full precision; {@link readBlockText} reads the same numbers back.
 *
 * @example writeBlockText([[2.1, 2.3]], { withAxes: { across: [1000, 2000], down: [40] } })
 * @throws FuelwrightError `bad-block`, `not-finite`, naming the place
 */
export function writeBlockText(rows: readonly (readonly number[])[], options: WriteBlockText = {}): string {
  const { withAxes, delimiter = "\t", decimal = "." } = options;
  const columns = withAxes?.across.length ?? rows[0]?.length ?? 0;
  const ragged = rows.findIndex((row) => row.length !== columns);
  if (columns === 0 || rows.length === 0 || ragged >= 0 || (withAxes && withAxes.down.length !== rows.length))
    throw new FuelwrightError(
      "bad-block",
      `writeBlockText: rows must be of one length, one for each breakpoint, got ${say(rows)}; check the block`,
      { ragged, columns },
    );
  const write = (values: readonly number[], where: string) =>
    values.map((value, at) => writeNumber(requireFinite(`writeBlockText: ${where}[${at}]`, value), decimal));
  const down = withAxes && write(withAxes.down, "withAxes.down");
  const lines = rows.map((row, at) => [...(down ? [down[at]!] : []), ...write(row, `rows[${at}]`)]);
  if (withAxes) lines.unshift(["", ...write(withAxes.across, "withAxes.across")]);
  return joinFields(lines, delimiter, "\n");
}
