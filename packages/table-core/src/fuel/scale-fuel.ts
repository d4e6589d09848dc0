import type { Assumption, Basis } from "../values/basis.ts";
import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { type CellFuel, cellFuel, deliveriesOf, requireRpmAxis } from "./cell-fuel.ts";
import {
  basePulseCells,
  type FuellingConditions,
  injectionPressures,
  type ManifoldPressures,
  manifoldPressures,
  planningOf,
} from "./conditions.ts";
import type { InjectorSpec } from "./injector.ts";
import { trimEstimate } from "./trim-estimate.ts";

/** Conditions with the injectors that deliver under them. A `Build` fits. */
export type Fuelling = FuellingConditions & { readonly injectors: InjectorSpec };

/** What {@link scaleFuel} works with. */
export interface ScaleFuel {
  /** What the table meters fuel for now. */
  readonly build: Fuelling;
  /** What it is to meter fuel for; left out: the same. */
  readonly next?: Fuelling;
  /** New fuel mass over old in each cell. */
  readonly factors: Float64Array;
  /** 0..1; cells of weight 0 come out bit for bit. */
  readonly weights: Float64Array;
  readonly basePulse?: FuelTable;
  readonly manifoldKpa?: ManifoldPressures;
}

/** A table whose fuel was multiplied. */
export interface ScaledFuel {
  readonly table: FuelTable;
  readonly basis: Basis;
  readonly fuelChangePercent: Float64Array;
  /** Null where the table alone says nothing of pulses. */
  readonly before: CellFuel | null;
  readonly after: CellFuel | null;
  /** Trims without base pulse: least and greatest trim that would be right. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
  readonly assumptions: readonly Assumption[];
}

/**
 * Multiplies the fuel mass of each cell, through whatever the table holds.
 *
 * Pulse widths: through the injector, so that dead time stays dead. Trims: through the factory's base pulse; without it an
 * estimate with its band. Fuel masses, efficiencies and factors: by the factor. Lambda: kept.
 *
 * @throws FuelwrightError as `cellFuel`
 */
export function scaleFuel(operation: string, table: FuelTable, settings: ScaleFuel): ScaledFuel {
  requireRpmAxis(operation, table);
  switch (table.quantity) {
    case "pulse-width":
    case "fuel-mass":
      return scaleMetered(operation, table, settings);
    case "trim":
      return settings.basePulse ? scaleMetered(operation, table, settings) : estimateTrims(operation, table, settings);
    case "lambda":
      return {
        table,
        basis: "computed",
        fuelChangePercent: new Float64Array(table.cells.length),
        before: null,
        after: null,
        assumptions: [],
      };
    default:
      return scaleCellsAlone(operation, table, settings);
  }
}

/** From old to new by a weight, exact at both ends. */
export const mixed = (old: number, next: number, weight: number) => (weight === 1 ? next : old + weight * (next - old));

const changer =
  ({ factors, weights, next, build }: ScaleFuel) =>
  (at: number) =>
    weights[at]! > 0 && (factors[at] !== 1 || (next !== undefined && next !== build));

function scaleMetered(operation: string, table: FuelTable, settings: ScaleFuel): ScaledFuel {
  const { build, next = build, factors, weights } = settings;
  const changes = changer(settings);
  const before = meter(operation, table, settings, build);
  const nextAt = deliveriesOf(next.injectors, next, pressuresUnder(operation, table, settings, next));
  const { injectionsPerCycle } = next.engine;
  const each = next.engine.injectorsPerCylinder ?? 1;
  const base = table.quantity === "trim" ? basePulseCells(operation, settings.basePulse!, table) : null;
  const cells = table.cells.map((cell, at) => {
    if (!changes(at)) return cell;
    const mass = before.askedMg[at]! * factors[at]!;
    if (table.quantity === "fuel-mass") return mixed(cell, mass, weights[at]!);
    // A cell that delivers nothing has no fuel to change.
    if (!(mass > 0)) return cell;
    const pulse = nextAt(at).pulseMs(mass / each, injectionsPerCycle);
    return mixed(cell, base ? (pulse / base[at]! - 1) * 100 : pulse, weights[at]!);
  });
  const scaled = withCells(table, cells, operation);
  const after = meter(operation, scaled, settings, next);
  return {
    table: scaled,
    basis: "computed",
    fuelChangePercent: after.askedMg.map((mass, at) =>
      before.askedMg[at]! > 0 && changes(at) ? (mass / before.askedMg[at]! - 1) * 100 : 0,
    ),
    before,
    after,
    assumptions: before.assumptions,
  };
}

/** Efficiencies and factors: the factor is all there is. */
function scaleCellsAlone(operation: string, table: FuelTable, settings: ScaleFuel): ScaledFuel {
  const changes = changer(settings);
  const cells = table.cells.map((cell, at) =>
    changes(at) ? mixed(cell, cell * settings.factors[at]!, settings.weights[at]!) : cell,
  );
  return {
    table: withCells(table, cells, operation),
    basis: "computed",
    fuelChangePercent: cells.map((cell, at) => (table.cells[at]! > 0 ? (cell / table.cells[at]! - 1) * 100 : 0)),
    before: null,
    after: null,
    assumptions: table.quantity === "factor" ? [factorOnMass] : [],
  };
}

function estimateTrims(operation: string, table: FuelTable, settings: ScaleFuel): ScaledFuel {
  const { build, next = build, factors, weights } = settings;
  const changes = changer(settings);
  const estimate = trimEstimate(table, {
    oldAt: deliveriesOf(build.injectors, build, pressuresUnder(operation, table, settings, build)),
    newAt: deliveriesOf(next.injectors, next, pressuresUnder(operation, table, settings, next)),
    injections: next.engine.injectionsPerCycle,
    massFactor: (at) => factors[at]!,
    planningDuty: planningOf(next),
  });
  const blend = (values: Float64Array) =>
    table.cells.map((cell, at) => (changes(at) ? mixed(cell, values[at]!, weights[at]!) : cell));
  const cells = blend(estimate.cells);
  const moved = cells.some((cell, at) => cell !== table.cells[at]);
  return {
    table: withCells(table, cells, operation),
    basis: "estimated",
    fuelChangePercent: cells.map((trim, at) =>
      table.cells[at]! > -100 ? ((100 + trim) / (100 + table.cells[at]!) - 1) * 100 : 0,
    ),
    before: null,
    after: null,
    band: { low: blend(estimate.band.low), high: blend(estimate.band.high) },
    assumptions: [
      ...(moved ? [estimate.assumption] : []),
      ...(build.rail.kind === "fixed"
        ? manifoldPressures(operation, table, build, settings.manifoldKpa).assumptions
        : []),
    ],
  };
}

const pressuresUnder = (operation: string, table: FuelTable, { manifoldKpa }: ScaleFuel, build: Fuelling) =>
  injectionPressures(operation, table, build, manifoldPressures(operation, table, build, manifoldKpa).manifoldKpa);

const meter = (operation: string, table: FuelTable, { basePulse, manifoldKpa }: ScaleFuel, build: Fuelling) =>
  cellFuel(operation, table, {
    build,
    injectors: build.injectors,
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  });

const factorOnMass: Assumption = {
  id: "factor-on-mass",
  text: "The factors are taken to multiply fuel mass.",
  basis: "estimated",
  matters: "Factors on the whole pulse would have to change less, by the share of dead time.",
};
