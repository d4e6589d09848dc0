import { type CellNote, notesOf } from "../fuel/cell-note.ts";
import type { Ceiling, PartVerdict } from "./ceiling.ts";
import { type CellDemand, cellDemand, type DemandSettings } from "./cell-demand.ts";
import { injectorCeilings } from "./injector-ceilings.ts";
import { intakeCeilings } from "./intake-ceilings.ts";
import { pumpCeilings } from "./pump-ceilings.ts";
import { storageCeilings } from "./storage-ceilings.ts";

/** What a table asks of the parts, and which of them can't do it. */
export interface CeilingReport {
  readonly demand: CellDemand;
  /** Injectors, pump, intake, storage. */
  readonly parts: readonly PartVerdict[];
  /** Only limits that some cell meets. */
  readonly ceilings: readonly Ceiling[];
  /** The part that gives out first, or would; null when none is described. */
  readonly first: PartVerdict | null;
  /** Fuel that really arrives, for one cylinder and cycle: injectors that no longer close, rail pressure that falls. */
  readonly deliveredMg: Float64Array;
  /** The mixture that really arrives; null without a target. A lean cell under load melts pistons. */
  readonly deliveredLambda: Float64Array | null;
  /** Cells that get a leaner mixture than asked, by more than 1 %. `value` is fuel delivered over asked. */
  readonly leaner: readonly CellNote[];
  /** How far rail pressure falls in each cell, in kPa; null when no pump is described. */
  readonly railDropKpa: Float64Array | null;
}

/** Fuel short by less than this is no warning. */
const LEAN_SHARE = 0.99;

/**
 * Which cells pass what the parts can give, which part gives out first, and what mixture then really arrives.
 *
 * Injectors: duty against the planning ceiling (80 to 85 % is common practice), always open at 100 %, pulses too short to
 * repeat. Pump: flow at the pressure of each cell. Intake: air lost at full throttle, load rows out of reach. Storage: cells
 * the controller can't hold.
 *
 * @throws FuelwrightError as `cellDemand`
 */
export function checkCeilings(settings: DemandSettings): CeilingReport {
  const demand = cellDemand(settings);
  const pump = pumpCeilings(settings, demand);
  const found = [injectorCeilings(settings, demand), pump, intakeCeilings(settings, demand), storageCeilings(settings)];
  const parts = found.map(({ verdict }) => verdict);
  const { lambda, askedMg } = demand;
  const { deliveredMg, railDropKpa } = pump;
  const delivered = deliveredMg.map((mg, at) => (askedMg[at]! > 0 ? mg / askedMg[at]! : 1));
  return {
    demand,
    parts,
    ceilings: found.flatMap(({ ceilings }) => ceilings).filter(({ cells }) => cells.length > 0),
    first: firstToGive(parts),
    deliveredMg,
    deliveredLambda:
      lambda === null ? null : lambda.map((wanted, at) => (delivered[at]! > 0 ? wanted / delivered[at]! : wanted)),
    leaner: notesOf(settings.table, delivered, (share) => share < LEAN_SHARE),
    railDropKpa,
  };
}

/** The part with the least in hand. */
function firstToGive(parts: readonly PartVerdict[]): PartVerdict | null {
  const known = parts.filter(({ inHandPercent }) => inHandPercent !== null);
  return known.reduce<PartVerdict | null>(
    (least, part) => (least === null || part.inHandPercent! < least.inHandPercent! ? part : least),
    null,
  );
}
