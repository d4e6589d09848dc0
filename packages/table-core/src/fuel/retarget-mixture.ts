import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireWithin } from "../values/require.ts";
import { type CellFuel, cellFuel, requireRpmAxis } from "./cell-fuel.ts";
import { type CellNote, notesOf } from "./cell-note.ts";
import { lambdaCells, type ManifoldPressures, planningOf } from "./conditions.ts";
import { type InjectorLimits, injectorLimits } from "./injector-limits.ts";
import { type Fuelling, mixed, scaleFuel } from "./scale-fuel.ts";

/** What {@link retargetMixture} works with. */
export interface RetargetMixture {
  /** The mixture the table makes now: lambda, or a lambda table over the same quantities. */
  readonly from: number | FuelTable;
  /** The mixture wanted. */
  readonly to: number | FuelTable;
  /** Engine, fuel, injectors and the rest: a `Build`. */
  readonly build: Fuelling;
  /** Where to; left out: the whole table. Its feather and the table's locks count. */
  readonly region?: Region;
  /** For the trims of an in-line unit: the factory's pulses. Without them the trims are an estimate. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
  /** From which share of the load axis on load counts as high; default 0.8. */
  readonly highLoadShare?: number;
}

/** What a new target does in each cell, row-major [load][rpm]. */
export interface RetargetReport extends InjectorLimits {
  /** `computed`, or `estimated` for trims without base pulse. */
  readonly basis: Basis;
  /** `cells`; `target` where the controller holds efficiencies: its target table is what changes. */
  readonly changed: "cells" | "target";
  /** The old target. */
  readonly lambdaBefore: Float64Array;
  /** The new one. */
  readonly lambdaAfter: Float64Array;
  readonly fuelChangePercent: Float64Array;
  /** As fractions; null where the table alone says nothing of pulses. */
  readonly dutyBefore: Float64Array | null;
  /** See `dutyBefore`. */
  readonly dutyAfter: Float64Array | null;
  /** Leaner than before at high load: detonation. `value` is lambda after. */
  readonly leanerAtHighLoad: readonly CellNote[];
  /** Leaner than lambda 1 in the upper half of the load axis, and leaner than before. `value` is lambda after. */
  readonly leanUnderLoad: readonly CellNote[];
  /** Trims without base pulse: least and greatest trim that would be right. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
  readonly assumptions: readonly Assumption[];
}

const operation = "retargetMixture";

/** Above this share of the load axis the engine works; common practice, for a warning only. */
const UNDER_LOAD_SHARE = 0.5;
const HIGH_LOAD_SHARE = 0.8;

/** Two mixtures closer than this are the same. */
const SAME_LAMBDA = 1e-9;

/**
 * Carries a fuel table from one target mixture to another, whole or by region.
 *
 * Fuel mass changes by lambda before over lambda after: pulse widths through the injector, so that dead time stays dead;
 * fuel masses and factors by the ratio; trims of an in-line unit through the factory's base pulse (without it: an estimate
 * with its band). Efficiency tables stay, since the controller reads the mixture from its target: the report says so.
 * Cells of weight 0, and where both mixtures agree, come out bit for bit. O(cells).
 *
 * A leaner mixture under load makes an engine detonate, which destroys it: `leanerAtHighLoad` and `leanUnderLoad` name such cells.
 *
 * @returns the new table, same axes and unit, and a report
 * @throws FuelwrightError `wrong-quantity` for a lambda table (edit it as the target it is), `not-positive`,
 *   `axes-do-not-match`, `pulse-negative`, `no-injection-pressure`
 */
export function retargetMixture(
  table: FuelTable,
  settings: RetargetMixture,
): { readonly table: FuelTable; readonly report: RetargetReport } {
  if (table.quantity === "lambda")
    throw new FuelwrightError("wrong-quantity", `${operation}: ${table.id} is a target itself; set its cells instead`, {
      table: table.id,
    });
  requireRpmAxis(operation, table);
  const from = lambdaCells(operation, "from", settings.from, table);
  const to = lambdaCells(operation, "to", settings.to, table);
  const weights = editWeights(table, settings.region);
  if (table.quantity === "volumetric-efficiency") return retargetEfficiency(table, settings, { from, to, weights });
  const { build, basePulse, manifoldKpa } = settings;
  const scaled = scaleFuel(operation, table, {
    build,
    factors: from.map((lambda, at) => lambda / to[at]!),
    weights,
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  });
  return {
    table: scaled.table,
    report: reportOf(table, settings, from, {
      basis: scaled.basis,
      changed: "cells",
      fuelChangePercent: scaled.fuelChangePercent,
      before: scaled.before,
      after: scaled.after,
      ...(scaled.band && { band: scaled.band }),
      assumptions: scaled.assumptions,
    }),
  };
}

interface Plan {
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly weights: Float64Array;
}

/** Efficiencies stay: the controller divides by its target, which is replaced. */
function retargetEfficiency(table: FuelTable, settings: RetargetMixture, { from, to, weights }: Plan) {
  const { build, manifoldKpa } = settings;
  const lambdaAfter = from.map((lambda, at) => mixed(lambda, to[at]!, weights[at]!));
  const meter = (cells: Float64Array) =>
    cellFuel(operation, table, {
      build,
      injectors: build.injectors,
      target: { ...table, quantity: "lambda", unit: "lambda", cells },
      ...(manifoldKpa !== undefined && { manifoldKpa }),
    });
  const before = meter(from);
  return {
    table,
    report: reportOf(table, settings, from, {
      basis: "computed",
      changed: "target",
      fuelChangePercent: lambdaAfter.map((lambda, at) => (from[at]! / lambda - 1) * 100),
      before,
      after: meter(lambdaAfter),
      assumptions: before.assumptions,
    }),
  };
}

function reportOf(
  table: FuelTable,
  { build, highLoadShare = HIGH_LOAD_SHARE }: RetargetMixture,
  from: Float64Array,
  found: Pick<RetargetReport, "basis" | "changed" | "fuelChangePercent" | "band" | "assumptions"> & {
    readonly before: CellFuel | null;
    readonly after: CellFuel | null;
  },
): RetargetReport {
  requireWithin(`${operation}: highLoadShare`, highLoadShare, 0, 1);
  const { before, after, ...figures } = found;
  const lambdaAfter = from.map((lambda, at) => lambda / (1 + found.fuelChangePercent[at]! / 100));
  const load = table.load.breakpoints;
  const span = load.at(-1)! - load[0]!;
  const columns = table.rpm.breakpoints.length;
  const above = (at: number, share: number) => load[Math.floor(at / columns)]! >= load[0]! + share * span;
  const leaner = (at: number) => lambdaAfter[at]! > from[at]! + SAME_LAMBDA;
  return {
    ...figures,
    lambdaBefore: from,
    lambdaAfter,
    dutyBefore: before?.duty ?? null,
    dutyAfter: after?.duty ?? null,
    leanerAtHighLoad: notesOf(table, lambdaAfter, (_, at) => leaner(at) && above(at, highLoadShare)),
    leanUnderLoad: notesOf(
      table,
      lambdaAfter,
      (lambda, at) => leaner(at) && lambda > 1 + SAME_LAMBDA && above(at, UNDER_LOAD_SHARE),
    ),
    ...injectorLimits(table, after, planningOf(build), build.injectors.smallestPulseMs),
  };
}
