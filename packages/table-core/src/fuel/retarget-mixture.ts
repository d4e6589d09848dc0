import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireWithin } from "../values/require.ts";
import { cellFuel, deliveriesOf, requireRpmAxis } from "./cell-fuel.ts";
import { type CellNote, notesOf } from "./cell-note.ts";
import {
  basePulseCells,
  COMMON_PLANNING_DUTY_PERCENT,
  type FuellingConditions,
  injectionPressures,
  lambdaCells,
  type ManifoldPressures,
  manifoldPressures,
} from "./conditions.ts";
import type { InjectorSpec } from "./injector.ts";
import { trimEstimate } from "./trim-estimate.ts";

/** What {@link retargetMixture} works with. */
export interface RetargetMixture {
  /** The mixture the table makes now: lambda, or a lambda table over the same quantities. */
  readonly from: number | FuelTable;
  /** The mixture wanted. */
  readonly to: number | FuelTable;
  /** Engine, fuel, injectors and the rest: a `Build`. */
  readonly build: FuellingConditions & { readonly injectors: InjectorSpec };
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
export interface RetargetReport {
  /** `computed`, or `estimated` for trims without base pulse. */
  readonly basis: Basis;
  /** `cells`; `target` where the controller holds efficiencies: its target table is what changes. */
  readonly changed: "cells" | "target";
  readonly lambdaBefore: Float64Array;
  readonly lambdaAfter: Float64Array;
  readonly fuelChangePercent: Float64Array;
  /** As fractions; null where the table alone says nothing of pulses. */
  readonly dutyBefore: Float64Array | null;
  readonly dutyAfter: Float64Array | null;
  /** Leaner than before at high load: detonation. `value` is lambda after. */
  readonly leanerAtHighLoad: readonly CellNote[];
  /** Leaner than lambda 1 in the upper half of the load axis, and leaner than before. `value` is lambda after. */
  readonly leanUnderLoad: readonly CellNote[];
  /** Always open after the change. `value` is the duty. */
  readonly static: readonly CellNote[];
  /** Above the planning ceiling after the change, still closing. `value` is the duty. */
  readonly abovePlanning: readonly CellNote[];
  /** Under the shortest pulse that repeats, after the change. `value` is the pulse in ms. */
  readonly underSmallestPulse: readonly CellNote[];
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
  const changes = (at: number) => weights[at]! > 0 && Math.abs(from[at]! - to[at]!) > 0;
  const plan = { from, to, weights, changes };
  switch (table.quantity) {
    case "volumetric-efficiency":
      return retargetEfficiency(table, settings, plan);
    case "factor":
      return retargetFactor(table, settings, plan);
    case "trim":
      return settings.basePulse ? retargetMetered(table, settings, plan) : estimateTrims(table, settings, plan);
    default:
      return retargetMetered(table, settings, plan);
  }
}

interface Plan {
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly weights: Float64Array;
  readonly changes: (at: number) => boolean;
}

type Result = ReturnType<typeof retargetMixture>;

const blended = (old: number, next: number, weight: number) => (weight === 1 ? next : old + weight * (next - old));

/** Pulse widths, fuel masses, and trims on their base pulse. */
function retargetMetered(table: FuelTable, settings: RetargetMixture, plan: Plan): Result {
  const { build } = settings;
  const before = meter(table, settings);
  const deliveryAt = deliveriesOf(build.injectors, build, before.pressureKpa);
  const { injectionsPerCycle } = build.engine;
  const each = build.engine.injectorsPerCylinder ?? 1;
  const base = table.quantity === "trim" ? basePulseCells(operation, settings.basePulse!, table) : null;
  const cells = table.cells.map((cell, at) => {
    if (!plan.changes(at)) return cell;
    const mass = before.askedMg[at]! * (plan.from[at]! / plan.to[at]!);
    if (table.quantity === "fuel-mass") return blended(cell, mass, plan.weights[at]!);
    // A cell that delivers nothing has no mixture to change.
    if (!(mass > 0)) return cell;
    const pulse = deliveryAt(at).pulseMs(mass / each, injectionsPerCycle);
    return blended(cell, base ? (pulse / base[at]! - 1) * 100 : pulse, plan.weights[at]!);
  });
  const next = withCells(table, cells, operation);
  const after = meter(next, settings);
  const fuelChangePercent = after.askedMg.map((mass, at) =>
    before.askedMg[at]! > 0 && plan.changes(at) ? (mass / before.askedMg[at]! - 1) * 100 : 0,
  );
  return {
    table: next,
    report: reportOf(table, settings, plan, {
      basis: "computed",
      changed: "cells",
      fuelChangePercent,
      dutyBefore: before.duty,
      dutyAfter: after.duty,
      pulseAfter: after.pulseMs,
      assumptions: before.assumptions,
    }),
  };
}

const meter = (table: FuelTable, { build, basePulse, manifoldKpa }: RetargetMixture, target?: FuelTable) =>
  cellFuel(operation, table, {
    build,
    injectors: build.injectors,
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
    ...(target && { target }),
  });

/** Efficiencies stay: the controller divides by its target, which is replaced. */
function retargetEfficiency(table: FuelTable, settings: RetargetMixture, plan: Plan): Result {
  const asTarget = (cells: Float64Array): FuelTable => ({ ...table, quantity: "lambda", unit: "lambda", cells });
  const lambdaAfter = plan.from.map((lambda, at) =>
    plan.changes(at) ? blended(lambda, plan.to[at]!, plan.weights[at]!) : lambda,
  );
  const before = meter(table, settings, asTarget(plan.from));
  const after = meter(table, settings, asTarget(lambdaAfter));
  return {
    table,
    report: reportOf(table, settings, plan, {
      basis: "computed",
      changed: "target",
      fuelChangePercent: lambdaAfter.map((lambda, at) => (plan.from[at]! / lambda - 1) * 100),
      dutyBefore: before.duty,
      dutyAfter: after.duty,
      pulseAfter: after.pulseMs,
      assumptions: before.assumptions,
    }),
  };
}

/** Factors multiply a fuel mass. */
function retargetFactor(table: FuelTable, settings: RetargetMixture, plan: Plan): Result {
  const cells = table.cells.map((cell, at) =>
    plan.changes(at) ? blended(cell, cell * (plan.from[at]! / plan.to[at]!), plan.weights[at]!) : cell,
  );
  return {
    table: withCells(table, cells, operation),
    report: reportOf(table, settings, plan, {
      basis: "computed",
      changed: "cells",
      fuelChangePercent: cells.map((cell, at) => (table.cells[at]! > 0 ? (cell / table.cells[at]! - 1) * 100 : 0)),
      dutyBefore: null,
      dutyAfter: null,
      pulseAfter: null,
      assumptions: [
        {
          id: "factor-on-mass",
          text: "The factors are taken to multiply fuel mass.",
          basis: "estimated",
          matters: "Factors on the whole pulse would have to change less, by the share of dead time.",
        },
      ],
    }),
  };
}

/** Trims without their base pulse: by the ratio, with the band that dead time leaves open. */
function estimateTrims(table: FuelTable, settings: RetargetMixture, plan: Plan): Result {
  const { build } = settings;
  const pressures = manifoldPressures(operation, table, build, settings.manifoldKpa);
  const deliveryAt = deliveriesOf(
    build.injectors,
    build,
    injectionPressures(operation, table, build, pressures.manifoldKpa),
  );
  const estimate = trimEstimate(table, {
    oldAt: deliveryAt,
    newAt: deliveryAt,
    injections: build.engine.injectionsPerCycle,
    massFactor: (at) => (plan.changes(at) ? plan.from[at]! / plan.to[at]! : 1),
    planningDuty: (build.planning?.dutyPercent ?? COMMON_PLANNING_DUTY_PERCENT) / 100,
  });
  const mixed = (next: Float64Array) =>
    table.cells.map((cell, at) => (plan.changes(at) ? blended(cell, next[at]!, plan.weights[at]!) : cell));
  const cells = mixed(estimate.cells);
  return {
    table: withCells(table, cells, operation),
    report: {
      ...reportOf(table, settings, plan, {
        basis: "estimated",
        changed: "cells",
        fuelChangePercent: cells.map((trim, at) => ((100 + trim) / (100 + table.cells[at]!) - 1) * 100),
        dutyBefore: null,
        dutyAfter: null,
        pulseAfter: null,
        assumptions: [
          ...(cells.some((cell, at) => cell !== table.cells[at]) ? [estimate.assumption] : []),
          ...(build.rail.kind === "fixed" ? pressures.assumptions : []),
        ],
      }),
      band: { low: mixed(estimate.band.low), high: mixed(estimate.band.high) },
    },
  };
}

function reportOf(
  table: FuelTable,
  { build, highLoadShare = HIGH_LOAD_SHARE }: RetargetMixture,
  { from }: Plan,
  found: Pick<
    RetargetReport,
    "basis" | "changed" | "fuelChangePercent" | "dutyBefore" | "dutyAfter" | "assumptions"
  > & {
    readonly pulseAfter: Float64Array | null;
  },
): RetargetReport {
  requireWithin(`${operation}: highLoadShare`, highLoadShare, 0, 1);
  const { pulseAfter, ...figures } = found;
  const lambdaAfter = from.map((lambda, at) => lambda / (1 + found.fuelChangePercent[at]! / 100));
  const load = table.load.breakpoints;
  const span = load.at(-1)! - load[0]!;
  const columns = table.rpm.breakpoints.length;
  const above = (at: number, share: number) => load[Math.floor(at / columns)]! >= load[0]! + share * span;
  const leaner = (at: number) => lambdaAfter[at]! > from[at]! + SAME_LAMBDA;
  const planning = (build.planning?.dutyPercent ?? COMMON_PLANNING_DUTY_PERCENT) / 100;
  const smallest = build.injectors.smallestPulseMs ?? 0;
  const none = new Float64Array(0);
  const duty = found.dutyAfter ?? none;
  return {
    ...figures,
    lambdaBefore: from,
    lambdaAfter,
    leanerAtHighLoad: notesOf(table, lambdaAfter, (_, at) => leaner(at) && above(at, highLoadShare)),
    leanUnderLoad: notesOf(
      table,
      lambdaAfter,
      (lambda, at) => leaner(at) && lambda > 1 + SAME_LAMBDA && above(at, UNDER_LOAD_SHARE),
    ),
    static: notesOf(table, duty, (share) => share >= 1),
    abovePlanning: notesOf(table, duty, (share) => share > planning && share < 1),
    underSmallestPulse: notesOf(table, pulseAfter ?? none, (pulse) => pulse > 0 && pulse < smallest),
  };
}
