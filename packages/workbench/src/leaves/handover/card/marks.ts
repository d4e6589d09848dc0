import type { FuelTable } from "@fuelwright/table-core";
import { firstGuesses } from "../../../store/first-guesses.ts";
import type { CardContext } from "./card-context.ts";

/** What is to be known of a cell beside its figure, with the sign that says it on any printer. */
export const signs = {
  ceiling: { sign: "!", words: "at a ceiling of the hardware, see Ceilings" },
  guess: { sign: "?", words: "a first guess, until a log has corrected it" },
  extrapolated: { sign: "~", words: "extrapolated: nothing has measured it" },
  locked: { sign: "L", words: "locked: edits leave it as it is" },
} as const;

export type Sign = keyof typeof signs;

/** The signs of each cell, row-major, in the order of {@link signs}. */
export function signsOf(context: CardContext, table: FuelTable): readonly ReadonlySet<Sign>[] {
  const cells = Array.from(table.cells, () => new Set<Sign>());
  const { marks } = context.ceilingsOf(table);
  for (const { at, kind } of marks) if (kind === "ceiling") cells[at]?.add("ceiling");
  for (const { at, words } of firstGuesses(context.replay, table, context.job.steps.length))
    cells[at]?.add(words.startsWith("extrapolated") ? "extrapolated" : "guess");
  for (const { at, kind } of marks) if (kind === "locked") cells[at]?.add("locked");
  return cells;
}

export const signText = (of: ReadonlySet<Sign>): string => [...of].map((sign) => signs[sign].sign).join("");
