import { type CellNote, notesOf } from "../fuel/cell-note.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { trim } from "../values/plausible.ts";
import { type CellDemand, cellDemand, type DemandSettings } from "./cell-demand.ts";

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

/** What a table asks of the parts, and which of them can't do it. */
export interface CeilingReport {
  readonly demand: CellDemand;
  readonly parts: readonly PartVerdict[];
  /** Only limits that some cell meets. */
  readonly ceilings: readonly Ceiling[];
  /** The part that gives out first, or would; null when none is described. */
  readonly first: PartVerdict | null;
  /** Fuel that really arrives, for one cylinder and cycle. */
  readonly deliveredMg: Float64Array;
  /** The mixture that really arrives; null without a target. A lean cell under load melts pistons. */
  readonly deliveredLambda: Float64Array | null;
}

/**
 * Which cells pass what the parts can give, which part gives out first, and what mixture then really arrives.
 *
 * Injectors: duty against the planning ceiling (80 to 85 % is common practice), always open at 100 %, pulses too short to
 * repeat. Storage: cells the controller can't hold.
 *
 * @throws FuelwrightError as `cellDemand`
 */
export function checkCeilings(settings: DemandSettings): CeilingReport {
  const demand = cellDemand(settings);
  const found = [injectorCeilings(settings, demand), storageCeilings(settings)];
  const parts = found.map(({ verdict }) => verdict);
  const { lambda, askedMg } = demand;
  const deliveredMg = demand.deliveredMg;
  return {
    demand,
    parts,
    ceilings: found.flatMap(({ ceilings }) => ceilings).filter(({ cells }) => cells.length > 0),
    first: firstToGive(parts),
    deliveredMg,
    deliveredLambda:
      lambda === null
        ? null
        : lambda.map((wanted, at) => (deliveredMg[at]! > 0 ? (wanted * askedMg[at]!) / deliveredMg[at]! : wanted)),
  };
}

interface Found {
  readonly verdict: PartVerdict;
  readonly ceilings: readonly Ceiling[];
}

function injectorCeilings({ build, table }: DemandSettings, demand: CellDemand): Found {
  const { duty, pulseMs, askedMg } = demand;
  const planning = build.planning.dutyPercent / 100;
  const smallest = build.injectors.smallestPulseMs ?? 0;
  const share = duty.map((fraction) => fraction / planning);
  const worst = worstOf(table, share);
  const most = worst ? duty[worst.at]! : 0;
  const percent = trim(most * 100);
  const place = worst ? `at ${worst.rpm} rpm` : "";
  const sentence =
    most >= 1
      ? `The injectors no longer close ${place}: duty ${percent} %.`
      : most > planning
        ? `Duty reaches ${percent} % ${place}, above the planning ceiling of ${build.planning.dutyPercent} %.`
        : `Duty reaches ${percent} % ${place}, below the planning ceiling of ${build.planning.dutyPercent} %.`;
  return {
    verdict: {
      part: "injectors",
      verdict: most >= 1 ? "gives-out" : most > planning ? "at-limit" : "in-hand",
      sentence,
      basis: demand.basis,
      share,
      worst,
      inHandPercent: most > 0 ? (planning / most - 1) * 100 : null,
      assumptions: demand.assumptions,
    },
    ceilings: [
      {
        kind: "static",
        part: "injectors",
        sentence: "The injectors are always open: they give what they can, whatever the cell says.",
        cells: notesOf(table, duty, (fraction) => fraction >= 1),
      },
      {
        kind: "above-planning",
        part: "injectors",
        sentence: `Duty is above the planning ceiling of ${build.planning.dutyPercent} % (80 to 85 % is common practice).`,
        cells: notesOf(table, duty, (fraction) => fraction > planning && fraction < 1),
      },
      {
        kind: "under-smallest-pulse",
        part: "injectors",
        sentence: `The pulse is shorter than the ${smallest} ms that these injectors repeat.`,
        cells: notesOf(table, pulseMs, (pulse, at) => pulse > 0 && pulse < smallest && askedMg[at]! > 0),
      },
      {
        kind: "under-dead-time",
        part: "injectors",
        sentence: "The pulse is no longer than the dead time: nothing is delivered.",
        cells: notesOf(table, pulseMs, (_, at) => askedMg[at] === 0),
      },
    ],
  };
}

function storageCeilings({ table }: DemandSettings): Found {
  const { storage, cells } = table;
  const outside = storage ? notesOf(table, cells, (cell) => cell < storage.min || cell > storage.max) : [];
  const share = storage ? cells.map((cell) => cell / storage.max) : null;
  const worst = share && storage!.max > 0 ? worstOf(table, share) : null;
  const range = storage ? `${storage.min} to ${storage.max} ${table.unit}` : "";
  return {
    verdict: {
      part: "storage",
      verdict: !storage ? "unknown" : outside.length > 0 ? "gives-out" : "in-hand",
      sentence: !storage
        ? "Nothing is said of what the controller can store."
        : outside.length > 0
          ? `${outside.length} cells lie outside what the controller can store, ${range}.`
          : `Every cell fits what the controller can store, ${range}.`,
      basis: "computed",
      share: storage && storage.max > 0 ? share : null,
      worst,
      inHandPercent: worst && worst.value > 0 ? (1 / worst.value - 1) * 100 : null,
      assumptions: [],
    },
    ceilings: [
      { kind: "outside-storage", part: "storage", sentence: `The controller stores ${range}.`, cells: outside },
    ],
  };
}

function worstOf(table: DemandSettings["table"], share: Float64Array): CellNote | null {
  let worst = 0;
  for (let at = 1; at < share.length; at++) if (share[at]! > share[worst]!) worst = at;
  return notesOf(table, share, (_, at) => at === worst)[0] ?? null;
}

/** The part with the least in hand. */
function firstToGive(parts: readonly PartVerdict[]): PartVerdict | null {
  const known = parts.filter(({ inHandPercent }) => inHandPercent !== null);
  return known.reduce<PartVerdict | null>(
    (least, part) => (least === null || part.inHandPercent! < least.inHandPercent! ? part : least),
    null,
  );
}
