import { type CellNote, cellNote } from "../fuel/cell-note.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { sayRpm } from "../values/plausible.ts";

/** The parts that can run out. */
export type PartId = "injectors" | "pump" | "intake" | "storage";

/** The ways in which a cell meets a limit. */
export type CeilingKind =
  | "static"
  | "above-planning"
  | "under-smallest-pulse"
  | "under-dead-time"
  | "pump-short"
  | "beyond-intake"
  | "outside-storage";

/** Cells that meet one limit. */
export interface Ceiling {
  readonly kind: CeilingKind;
  readonly part: PartId;
  /** Words to stand beside the hatch. */
  readonly sentence: string;
  readonly cells: readonly CellNote[];
}

/** How a part stands: `unknown` where it isn't described. */
export type Verdict = "in-hand" | "at-limit" | "gives-out" | "unknown";

/** How one part stands over the whole table. */
export interface PartVerdict {
  readonly part: PartId;
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly basis: Basis;
  /** What each cell takes of what the part can give: 1 is all of it. Null where that can't be said. */
  readonly share: Float64Array | null;
  /** The cell that takes most. `value` is its share. */
  readonly worst: CellNote | null;
  /** How much more fuel or air than in the worst cell the part could give, in percent; negative: too little. */
  readonly inHandPercent: number | null;
  readonly assumptions: readonly Assumption[];
}

/** A part's verdict and the limits its cells may meet. */
export interface PartCeilings {
  readonly verdict: PartVerdict;
  readonly ceilings: readonly Ceiling[];
}

/** The cell of the greatest share. */
export function worstOf(table: Pick<FuelTable, "rpm" | "load">, share: Float64Array): CellNote {
  let worst = 0;
  for (let at = 1; at < share.length; at++) if (share[at]! > share[worst]!) worst = at;
  return cellNote(table, worst, share[worst]!);
}

/** "at 6,000 rpm and 100 kPa", for sentences. */
export function placeOf(table: Pick<FuelTable, "rpm" | "load">, { rpm, load }: CellNote): string {
  const column = table.rpm.quantity === "rpm" ? sayRpm(rpm) : rpm;
  return table.load.quantity === "single-row"
    ? `at ${column} ${table.rpm.unit}`
    : `at ${column} ${table.rpm.unit} and ${load} ${table.load.unit}`;
}

/** The verdict on a part that isn't described. */
export function unknownPart(part: PartId, sentence: string): PartCeilings {
  return {
    verdict: {
      part,
      verdict: "unknown",
      sentence,
      basis: "given",
      share: null,
      worst: null,
      inHandPercent: null,
      assumptions: [],
    },
    ceilings: [],
  };
}
