import { airCharge, chargeTemperature, DRY_AIR_GAS_CONSTANT, ZERO_CELSIUS_K } from "../air/air-charge.ts";
import { vapourShare } from "../air/humidity.ts";
import { barometricPressure, type Place } from "../air/place.ts";
import { lookupMany } from "../lookup/lookup-many.ts";
import { sameAxis } from "../values/axis.ts";
import type { Assumption } from "../values/basis.ts";
import { FuelwrightError, within } from "../values/errors.ts";
import { cellPlace, type FuelTable } from "../values/fuel-table.ts";
import { requirePositive } from "../values/require.ts";
import type { Fuel } from "./fuel.ts";
import { injectionPressure, type Rail } from "./rail.ts";

/** What the operations on fuel need to know of an engine and where it runs. A `Build` fits. */
export interface FuellingConditions {
  readonly engine: {
    readonly displacementCc: number;
    readonly cylinders: number;
    readonly injectionsPerCycle: 1 | 2;
    /** 1 where it is left out. */
    readonly injectorsPerCylinder?: number;
    readonly volumetricEfficiencyPercent?: number;
    readonly chargeTemperatureC?: number;
  };
  readonly fuel: Fuel;
  readonly rail: Rail;
  readonly battery: { readonly volts: number };
  readonly place: Place;
  readonly planning?: { readonly dutyPercent: number };
}

/** Manifold pressure in kPa, absolute: one for all cells, or one for each as rows [load][rpm] or row-major. */
export type ManifoldPressures = number | readonly ArrayLike<number>[] | Float64Array;

/** Volumetric efficiency where neither table nor build says one: common practice for a four-stroke at full throttle. */
export const ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT = 85;

/** Planning ceiling of injector duty where none is given; common practice is 80 to 85 %. */
export const COMMON_PLANNING_DUTY_PERCENT = 85;

/** The build's planning duty as a fraction. */
export const planningOf = (build: Pick<FuellingConditions, "planning">) =>
  (build.planning?.dutyPercent ?? COMMON_PLANNING_DUTY_PERCENT) / 100;

/** Manifold pressure at light load, as a share of outside pressure, to see how much an assumed one matters. */
const LIGHT_LOAD_SHARE = 0.35;

/** Manifold pressure of each cell, and what else it might be. */
export interface CellPressures {
  readonly manifoldKpa: Float64Array;
  /** Another plausible set, where the first is assumed. */
  readonly alternativeKpa?: Float64Array;
  readonly assumptions: readonly Assumption[];
}

/**
 * Manifold pressure of each cell: the load axis where it says it, otherwise what is given, otherwise an assumption.
 *
 * Over air charge: from the gas law at the engine's volumetric efficiency. Over throttle position, or with no load axis:
 * outside pressure, at which a fixed rail has the least pressure to give and pulses are longest.
 */
export function manifoldPressures(
  operation: string,
  table: Pick<FuelTable, "rpm" | "load">,
  build: FuellingConditions,
  given?: ManifoldPressures,
): CellPressures {
  const columns = table.rpm.breakpoints.length;
  const count = columns * table.load.breakpoints.length;
  const { quantity, breakpoints } = table.load;
  if (quantity === "manifold-pressure") {
    const manifoldKpa = new Float64Array(count);
    breakpoints.forEach((kpa, row) => {
      manifoldKpa.fill(kpa, row * columns, (row + 1) * columns);
    });
    return { manifoldKpa, assumptions: [] };
  }
  if (given !== undefined) return { manifoldKpa: givenPressures(operation, given, count, columns), assumptions: [] };
  const barometricKpa = barometricPressure(build.place);
  const light = new Float64Array(count).fill(barometricKpa * LIGHT_LOAD_SHARE);
  if (quantity === "air-charge") {
    const efficiency = build.engine.volumetricEfficiencyPercent ?? ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT;
    const charge = chargeTemperature(build.engine, build.place);
    const perMg =
      (DRY_AIR_GAS_CONSTANT * (charge.temperatureC + ZERO_CELSIUS_K)) /
      (1000 * (build.engine.displacementCc / build.engine.cylinders) * (1 - vapourShare(build.place)));
    const pressureAt = (percent: number) =>
      Float64Array.from(
        { length: count },
        (_, at) => (breakpoints[Math.floor(at / columns)]! * perMg) / (percent / 100),
      );
    return {
      manifoldKpa: pressureAt(efficiency),
      alternativeKpa: pressureAt(efficiency * 1.15),
      assumptions: [
        {
          id: "manifold-from-air-charge",
          text: `Manifold pressure is worked out from the air charge at a volumetric efficiency of ${efficiency} %.`,
          basis: "estimated",
        },
        ...charge.assumptions,
      ],
    };
  }
  return {
    manifoldKpa: new Float64Array(count).fill(barometricKpa),
    alternativeKpa: light,
    assumptions: [
      {
        id: "manifold-outside-pressure",
        text: `The table says no manifold pressure; outside pressure, ${barometricKpa.toFixed(1)} kPa, is taken in every cell.`,
        basis: "estimated",
      },
    ],
  };
}

function givenPressures(operation: string, given: ManifoldPressures, count: number, columns: number): Float64Array {
  const where = `${operation}: manifoldKpa`;
  if (typeof given === "number") return new Float64Array(count).fill(requirePositive(where, given));
  const flat = given instanceof Float64Array ? given : Float64Array.from([...given].flatMap((row) => Array.from(row)));
  const ragged = !(given instanceof Float64Array) && [...given].some((row) => row.length !== columns);
  if (flat.length !== count || ragged)
    throw new FuelwrightError(
      "wrong-cell-count",
      `${where} must be one pressure, or one for each of ${count} cells in rows of ${columns}, got ${flat.length}; check the rows`,
      { count, columns, got: flat.length },
    );
  const bad = flat.findIndex((kpa) => !(kpa > 0 && Number.isFinite(kpa)));
  if (bad >= 0) requirePositive(`${where}[${Math.floor(bad / columns)}][${bad % columns}]`, flat[bad]);
  return flat;
}

/**
 * Pressure across the injectors in each cell, in kPa.
 *
 * @throws FuelwrightError `no-injection-pressure` naming the cell
 */
export function injectionPressures(
  operation: string,
  table: Pick<FuelTable, "rpm" | "load">,
  build: Pick<FuellingConditions, "rail" | "place">,
  manifoldKpa: Float64Array,
): Float64Array {
  const barometricKpa = barometricPressure(build.place);
  if (build.rail.kind === "manifold-referenced")
    return new Float64Array(manifoldKpa.length).fill(build.rail.pressureKpa);
  const across = new Float64Array(manifoldKpa.length);
  for (let at = 0; at < across.length; at++) {
    const kpa = build.rail.pressureKpa + barometricKpa - manifoldKpa[at]!;
    across[at] =
      kpa > 0
        ? kpa
        : within(`${operation}: the cell at ${cellPlace(table, at)}`, () =>
            injectionPressure(build.rail, { manifoldKpa: manifoldKpa[at]!, barometricKpa }),
          );
  }
  return across;
}

/**
 * Another table's values in the cells of `table`: its own cells on the same axes, otherwise looked up, the edges held.
 *
 * @throws FuelwrightError `axes-do-not-match` when their load axes run along different quantities
 */
export function cellsOn(operation: string, name: string, other: FuelTable, table: FuelTable): Float64Array {
  if (sameAxis(other.rpm, table.rpm) && sameAxis(other.load, table.load)) return other.cells;
  const oneRow = other.load.quantity === "single-row";
  if (other.rpm.quantity !== table.rpm.quantity || (!oneRow && other.load.quantity !== table.load.quantity))
    throw new FuelwrightError(
      "axes-do-not-match",
      `${operation}: ${name} (${other.id}) must run along ${table.rpm.quantity} and ${table.load.quantity} like ${table.id}, ` +
        `got ${other.rpm.quantity} and ${other.load.quantity}; give a table over the same quantities`,
      { table: table.id, other: other.id },
    );
  const columns = table.rpm.breakpoints.length;
  const count = table.cells.length;
  const rpm = Float64Array.from({ length: count }, (_, at) => table.rpm.breakpoints[at % columns]!);
  const load = Float64Array.from({ length: count }, (_, at) =>
    oneRow ? other.load.breakpoints[0]! : table.load.breakpoints[Math.floor(at / columns)]!,
  );
  return lookupMany(other, { rpm, load });
}

/** A mixture in every cell: one lambda, or a lambda table looked up there. @throws FuelwrightError */
export function lambdaCells(
  operation: string,
  name: string,
  mixture: number | FuelTable,
  table: FuelTable,
): Float64Array {
  if (typeof mixture === "number")
    return new Float64Array(table.cells.length).fill(requirePositive(`${operation}: ${name}`, mixture));
  if (mixture?.quantity !== "lambda")
    throw new FuelwrightError(
      "wrong-quantity",
      `${operation}: ${name} must be a lambda or a table of lambda, got ${mixture?.quantity}; give a target table`,
      { name, quantity: mixture?.quantity },
    );
  const cells = cellsOn(operation, name, mixture, table);
  cells.forEach((lambda, at) => {
    if (!(lambda > 0))
      throw new FuelwrightError(
        "not-positive",
        `${operation}: ${name} at ${cellPlace(table, at)} must be above 0, got ${lambda}; check that table`,
        { name, at, lambda },
      );
  });
  return cells;
}

/** The factory's pulse in every cell. @throws FuelwrightError `wrong-quantity`, `pulse-negative` */
export function basePulseCells(operation: string, base: FuelTable, table: FuelTable): Float64Array {
  if (base.quantity !== "pulse-width")
    throw new FuelwrightError(
      "wrong-quantity",
      `${operation}: basePulse (${base.id}) must be a pulse-width table, got ${base.quantity}; give the pulses of the factory controller`,
      { table: base.id, quantity: base.quantity },
    );
  const cells = cellsOn(operation, "basePulse", base, table);
  requirePulses(operation, `basePulse (${base.id})`, table, cells);
  return cells;
}

/** Refuses pulses below zero, naming the first cell. @throws FuelwrightError `pulse-negative` */
export function requirePulses(
  operation: string,
  what: string,
  table: Pick<FuelTable, "rpm" | "load">,
  pulses: Float64Array,
): void {
  const at = pulses.findIndex((ms) => !(ms >= 0));
  if (at < 0) return;
  throw new FuelwrightError(
    "pulse-negative",
    `${operation}: ${what} at ${cellPlace(table, at)} must not be negative, got ${pulses[at]} ms; correct the cell`,
    { at, ms: pulses[at] },
  );
}

/** The largest relative difference between two sets of cells, in percent; cells of 0 don't count. */
export function largestDifference(solved: Float64Array, other: Float64Array): number {
  let most = 0;
  for (let at = 0; at < solved.length; at++)
    if (solved[at]! > 0) most = Math.max(most, Math.abs(other[at]! / solved[at]! - 1) * 100);
  return most;
}

/** An assumed manifold pressure, with what another one would change. */
export function howMuch(assumption: Assumption, mattersPercent: number): Assumption {
  return {
    ...assumption,
    matters: `At another plausible manifold pressure a cell would differ by at most ${mattersPercent.toFixed(2)} %.`,
    mattersPercent,
  };
}

/** Dry air in mg a cylinder draws in a cycle at 1 % of volumetric efficiency, for each cell. */
export function airPerPercent(build: FuellingConditions, manifoldKpa: Float64Array): Float64Array {
  const { displacementCc, cylinders } = build.engine;
  const charge = chargeTemperature(build.engine, build.place);
  const perKpa = airCharge({
    volumetricEfficiencyPercent: 1,
    displacementCc,
    cylinders,
    manifoldKpa: 1,
    chargeTemperatureC: charge.temperatureC,
    vapourShare: vapourShare(build.place),
  });
  return manifoldKpa.map((kpa) => kpa * perKpa);
}
