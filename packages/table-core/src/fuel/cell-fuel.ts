import { chargeTemperature } from "../air/air-charge.ts";
import type { Assumption } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { cellPlace, type FuelTable } from "../values/fuel-table.ts";
import {
  airPerPercent,
  basePulseCells,
  type FuellingConditions,
  howMuch,
  injectionPressures,
  lambdaCells,
  largestDifference,
  type ManifoldPressures,
  manifoldPressures,
  requirePulses,
} from "./conditions.ts";
import { cycleTimeMs } from "./duty-cycle.ts";
import { type Delivery, deliveryOf, type InjectorSpec } from "./injector.ts";

/** What a table alone doesn't say of the fuel in its cells. */
export interface CellFuelSettings {
  readonly build: FuellingConditions;
  readonly injectors: InjectorSpec;
  /** Lambda, or a lambda table: what the mixture is to be. For efficiencies; left out there: 1, stated. */
  readonly target?: number | FuelTable;
  /** For trims: the factory's pulses. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
}

/** Fuel in every cell, row-major [load][rpm], for one cylinder and cycle. */
export interface CellFuel {
  readonly manifoldKpa: Float64Array;
  /** Across the injector. */
  readonly pressureKpa: Float64Array;
  /** Of each injection, whether it fits the cycle or not. */
  readonly pulseMs: Float64Array;
  /** What the table asks for. */
  readonly askedMg: Float64Array;
  /** What the injectors give: as asked, unless they no longer close. */
  readonly deliveredMg: Float64Array;
  /** As a fraction; 1 and above is static. */
  readonly duty: Float64Array;
  readonly assumptions: readonly Assumption[];
}

/**
 * Fuel mass, pulse, pressure and duty of each cell of a table that meters fuel.
 *
 * @throws FuelwrightError `wrong-quantity` for lambda and factor tables, `wrong-axis`, `base-pulse-missing`,
 *   `pulse-negative`, `cell-negative`, `no-injection-pressure`, `axes-do-not-match`
 */
export function cellFuel(operation: string, table: FuelTable, settings: CellFuelSettings): CellFuel {
  requireRpmAxis(operation, table);
  const { build, injectors } = settings;
  const { manifoldKpa, alternativeKpa, assumptions } = manifoldPressures(operation, table, build, settings.manifoldKpa);
  const pressureKpa = injectionPressures(operation, table, build, manifoldKpa);
  const said: Assumption[] = [];
  const { cells } = table;
  let pulses: Float64Array | null = null;
  let masses: Float64Array | null = null;
  switch (table.quantity) {
    case "pulse-width":
      requirePulses(operation, "the pulse", table, cells);
      pulses = cells;
      break;
    case "trim":
      pulses = trimmedPulses(operation, table, settings.basePulse);
      break;
    case "fuel-mass":
      requireNoneNegative(operation, table);
      masses = cells;
      break;
    case "volumetric-efficiency": {
      requireNoneNegative(operation, table);
      const lambda = lambdaCells(operation, "target", settings.target ?? 1, table);
      if (settings.target === undefined) said.push(stoichiometricTarget);
      const charge = chargeTemperature(build.engine, build.place);
      for (const assumption of charge.assumptions)
        if (!said.some(({ id }) => id === assumption.id)) said.push(assumption);
      const perPercent = airPerPercent(build, manifoldKpa);
      masses = cells.map((percent, at) => (percent * perPercent[at]!) / (lambda[at]! * build.fuel.stoichiometricRatio));
      break;
    }
    default:
      throw new FuelwrightError(
        "wrong-quantity",
        `${operation}: ${table.id} holds ${table.quantity} and meters no fuel by itself; give a table of pulse widths, ` +
          "fuel masses, volumetric efficiencies, or trims with their base pulse",
        { table: table.id, quantity: table.quantity },
      );
  }
  if (injectors.testDensityKgPerL === undefined) said.push(ratedWithTheFuel(build.fuel.densityKgPerL));
  const fuel = throughInjectors(table, build, injectors, pressureKpa, pulses ? { pulses } : { masses: masses! });
  if (build.rail.kind === "fixed" || table.quantity === "volumetric-efficiency") {
    const other = alternativeKpa && cellFuel(operation, table, { ...settings, manifoldKpa: alternativeKpa });
    const moves =
      other &&
      largestDifference(
        ...(pulses ? ([fuel.askedMg, other.askedMg] as const) : ([fuel.pulseMs, other.pulseMs] as const)),
      );
    for (const assumption of assumptions)
      if (!said.some(({ id }) => id === assumption.id))
        said.push(moves === undefined || assumption.mattersPercent ? assumption : howMuch(assumption, moves));
  }
  return { manifoldKpa, pressureKpa, ...fuel, assumptions: said };
}

/** Pulses, masses and duty of each cell, from either pulses or masses. */
function throughInjectors(
  table: FuelTable,
  build: FuellingConditions,
  injectors: InjectorSpec,
  pressureKpa: Float64Array,
  from: { readonly pulses: Float64Array } | { readonly masses: Float64Array },
): Pick<CellFuel, "pulseMs" | "askedMg" | "deliveredMg" | "duty"> {
  const deliveryAt = deliveriesOf(injectors, build, pressureKpa);
  const { injectionsPerCycle } = build.engine;
  const each = build.engine.injectorsPerCylinder ?? 1;
  const count = pressureKpa.length;
  const columns = table.rpm.breakpoints.length;
  const pulseMs = new Float64Array(count);
  const askedMg = new Float64Array(count);
  const deliveredMg = new Float64Array(count);
  const duty = new Float64Array(count);
  for (let at = 0; at < count; at++) {
    const delivery = deliveryAt(at);
    const cycleMs = cycleTimeMs(table.rpm.breakpoints[at % columns]!);
    if ("pulses" in from) {
      pulseMs[at] = from.pulses[at]!;
      askedMg[at] = delivery.massMg(pulseMs[at]!, injectionsPerCycle) * each;
    } else {
      askedMg[at] = from.masses[at]!;
      pulseMs[at] = delivery.pulseMs(askedMg[at]! / each, injectionsPerCycle);
    }
    duty[at] = (pulseMs[at]! * injectionsPerCycle) / cycleMs;
    deliveredMg[at] = duty[at]! >= 1 ? delivery.flow * cycleMs * each : askedMg[at]!;
  }
  return { pulseMs, askedMg, deliveredMg, duty };
}

/** The injector at the conditions of each cell, prepared anew only where the pressure changes. */
export function deliveriesOf(
  injectors: InjectorSpec,
  build: Pick<FuellingConditions, "battery" | "fuel">,
  pressureKpa: Float64Array,
): (at: number) => Delivery {
  const prepare = deliveryOf(injectors);
  const { volts } = build.battery;
  const { densityKgPerL } = build.fuel;
  let last = Number.NaN;
  let delivery: Delivery;
  return (at) => {
    const kpa = pressureKpa[at]!;
    if (kpa !== last) {
      delivery = prepare(volts, kpa, densityKgPerL);
      last = kpa;
    }
    return delivery;
  };
}

/** The pulses an in-line unit passes on: the factory's, multiplied. @throws FuelwrightError */
export function trimmedPulses(operation: string, table: FuelTable, basePulse: FuelTable | undefined): Float64Array {
  if (!basePulse)
    throw new FuelwrightError(
      "base-pulse-missing",
      `${operation}: the trims of ${table.id} multiply a pulse that is not known; give basePulse, the factory's pulse widths`,
      { table: table.id },
    );
  const base = basePulseCells(operation, basePulse, table);
  const pulses = table.cells.map((trim, at) => base[at]! * (1 + trim / 100));
  requirePulses(operation, "the trimmed pulse", table, pulses);
  return pulses;
}

/** @throws FuelwrightError `cell-negative` naming the first */
function requireNoneNegative(operation: string, table: FuelTable): void {
  const at = table.cells.findIndex((cell) => cell < 0);
  if (at < 0) return;
  throw new FuelwrightError(
    "cell-negative",
    `${operation}: ${table.id} at ${cellPlace(table, at)} must not be negative, got ${table.cells[at]} ${table.unit}; correct the cell`,
    { at, value: table.cells[at] },
  );
}

/** @throws FuelwrightError `wrong-axis` for a one-row correction over something else than rpm */
export function requireRpmAxis(operation: string, table: FuelTable): void {
  if (table.rpm.quantity === "rpm") return;
  throw new FuelwrightError(
    "wrong-axis",
    `${operation}: ${table.id} runs along ${table.rpm.quantity}, which says nothing of the length of a cycle; give a table over rpm`,
    { table: table.id, quantity: table.rpm.quantity },
  );
}

const stoichiometricTarget: Assumption = {
  id: "target-lambda-1",
  text: "No target mixture is given; lambda 1 is taken in every cell.",
  basis: "estimated",
  matters: "At lambda 0.85 the fuel, and nearly the pulse, is 18 % more.",
  mattersPercent: 18,
};

/** What it means when nobody said which fluid an injector was rated with. */
export function ratedWithTheFuel(densityKgPerL: number): Assumption {
  const mattersPercent = Math.abs(Math.sqrt(densityKgPerL / N_HEPTANE_KG_PER_L) - 1) * 100;
  return {
    id: "rated-with-the-fuel",
    text: "The injector's flow is taken as measured with the fuel it is used with; no test density is given.",
    basis: "estimated",
    matters: `Had it been n-heptane, the flow would be ${mattersPercent.toFixed(1)} % greater.`,
    mattersPercent,
  };
}

/** The usual test fluid, at 20 °C. */
const N_HEPTANE_KG_PER_L = 0.684;
