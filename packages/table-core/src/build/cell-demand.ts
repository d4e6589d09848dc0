import { type CellFuel, cellFuel } from "../fuel/cell-fuel.ts";
import { lambdaCells, type ManifoldPressures } from "../fuel/conditions.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import type { Build } from "./build.ts";

/** A table with what its quantity needs to be read as fuel. */
export interface DemandSettings {
  readonly build: Build;
  /** Pulse widths, fuel masses, volumetric efficiencies, or trims. */
  readonly table: FuelTable;
  /** The mixture wanted: lambda, or a lambda table. */
  readonly target?: number | FuelTable;
  /** For trims: the factory's pulses. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
}

/** What each cell asks of the parts, row-major [load][rpm]; masses for one cylinder and cycle. */
export interface CellDemand extends CellFuel {
  /** `estimated` as soon as something is assumed, see `assumptions`. */
  readonly basis: Basis;
  /** Fuel the whole engine is asked to get. */
  readonly fuelGramsPerSecond: Float64Array;
  /** The mixture wanted; null when no target is given. */
  readonly lambda: Float64Array | null;
  /** Dry air that goes with the fuel at the target; null without one. */
  readonly airMg: Float64Array | null;
  /** Dry air of the whole engine; null without a target. */
  readonly airGramsPerSecond: Float64Array | null;
}

/**
 * What every cell of a table asks for: fuel mass, pulse, duty, pressure across the injectors, air.
 *
 * Works for every quantity that meters fuel: pulse widths through the injectors, fuel masses as they are, efficiencies by
 * air charge and target, trims through their base pulse. O(cells).
 *
 * @throws FuelwrightError `wrong-quantity`, `wrong-axis`, `base-pulse-missing`, `pulse-negative`, `cell-negative`, `no-injection-pressure`,
 *   `axes-do-not-match`, each naming the table or the cell
 */
export function cellDemand(settings: DemandSettings): CellDemand {
  const { build, table, target, basePulse, manifoldKpa } = settings;
  const operation = "cellDemand";
  const fuel = cellFuel(operation, table, {
    build,
    injectors: build.injectors,
    ...(target !== undefined && { target }),
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  });
  const { breakpoints } = table.rpm;
  const perCycle = build.engine.cylinders / 120_000;
  // mg of a cylinder and cycle as g/s of the engine.
  const flowOf = (mg: number, at: number) => mg * perCycle * breakpoints[at % breakpoints.length]!;
  const lambda = target === undefined ? null : lambdaCells(operation, "target", target, table);
  const airMg = lambda?.map((wanted, at) => fuel.askedMg[at]! * build.fuel.stoichiometricRatio * wanted) ?? null;
  return {
    ...fuel,
    basis: basisOf(fuel.assumptions),
    fuelGramsPerSecond: fuel.askedMg.map(flowOf),
    lambda,
    airMg,
    airGramsPerSecond: airMg?.map(flowOf) ?? null,
  };
}

/** `computed` when nothing was assumed, otherwise `estimated`. */
export function basisOf(assumptions: readonly Assumption[]): Basis {
  return assumptions.length === 0 ? "computed" : "estimated";
}
