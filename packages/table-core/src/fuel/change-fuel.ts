import type { Assumption, Basis } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import type { ManifoldPressures } from "./conditions.ts";
import { planningOf } from "./conditions.ts";
import type { Fuel } from "./fuel.ts";
import type { InjectorSpec } from "./injector.ts";
import { type InjectorLimits, injectorLimits } from "./injector-limits.ts";
import { type Fuelling, scaleFuel } from "./scale-fuel.ts";

/** What {@link changeFuel} works with. */
export interface ChangeFuel {
  readonly from: Fuel;
  readonly to: Fuel;
  /** Engine, injectors, rail and the rest; its own fuel doesn't count. */
  readonly build: Fuelling;
  /** For the trims of an in-line unit. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it. */
  readonly manifoldKpa?: ManifoldPressures;
}

/** What a change of fuel does; the limits are those under the new fuel. */
export interface ChangeFuelReport extends InjectorLimits {
  readonly basis: Basis;
  /** `cells`; `fuel-constants` where the controller works the mass out from its stoichiometric ratio. */
  readonly changed: "cells" | "fuel-constants";
  /** New fuel mass over old for the same air and lambda. */
  readonly massFactor: number;
  /** The same by volume: what pump and tank see. */
  readonly volumeFactor: number;
  /** Injector flow by mass, new over old: the root of the densities. */
  readonly flowFactor: number;
  /** Kilograms of air for one of fuel, old and new. */
  readonly stoichiometricRatio: { readonly from: number; readonly to: number };
  /** Fuel mass, after against before, in percent. */
  readonly fuelChangePercent: Float64Array;
  /** As fractions; null where the table alone says nothing of pulses. */
  readonly dutyBefore: Float64Array | null;
  /** See `dutyBefore`. */
  readonly dutyAfter: Float64Array | null;
  /** Trims without base pulse: least and greatest trim that would be right. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
  readonly cautions: readonly string[];
  readonly assumptions: readonly Assumption[];
}

const operation = "changeFuel";

/**
 * Carries a table over to another fuel at the same air and lambda: mass by the stoichiometric ratios, injector flow by the
 * densities.
 *
 * Pulse widths and trims go through the injector. Efficiencies, lambda and factors stay, since the controller holds the
 * stoichiometric ratio: the report says which constants change. An injector without test density is taken as rated with the old
 * fuel. Locked cells stay.
 *
 * @returns the new table and a report
 * @throws FuelwrightError as `rescaleForInjectors`
 */
export function changeFuel(
  table: FuelTable,
  settings: ChangeFuel,
): { readonly table: FuelTable; readonly report: ChangeFuelReport } {
  const { from, to, build, basePulse, manifoldKpa } = settings;
  const massFactor = from.stoichiometricRatio / to.stoichiometricRatio;
  const constants = {
    massFactor,
    volumeFactor: (massFactor * from.densityKgPerL) / to.densityKgPerL,
    flowFactor: Math.sqrt(to.densityKgPerL / from.densityKgPerL),
    stoichiometricRatio: { from: from.stoichiometricRatio, to: to.stoichiometricRatio },
    cautions: cautionsFor(from, to),
  };
  const count = table.cells.length;
  if (["volumetric-efficiency", "factor", "lambda"].includes(table.quantity)) {
    const change = table.quantity === "volumetric-efficiency" ? (massFactor - 1) * 100 : 0;
    return {
      table,
      report: {
        basis: "computed",
        changed: "fuel-constants",
        ...constants,
        fuelChangePercent: new Float64Array(count).fill(change),
        dutyBefore: null,
        dutyAfter: null,
        ...injectorLimits(table, null, planningOf(build)),
        assumptions: [],
      },
    };
  }
  const rated = build.injectors.testDensityKgPerL;
  const injectors: InjectorSpec = { ...build.injectors, testDensityKgPerL: rated ?? from.densityKgPerL };
  const same = massFactor === 1 && from.densityKgPerL === to.densityKgPerL;
  const scaled = scaleFuel(operation, table, {
    build: { ...build, injectors, fuel: from },
    ...(!same && { next: { ...build, injectors, fuel: to } }),
    factors: new Float64Array(count).fill(massFactor),
    weights: editWeights(table),
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  });
  return {
    table: scaled.table,
    report: {
      basis: scaled.basis,
      changed: "cells",
      ...constants,
      fuelChangePercent: scaled.fuelChangePercent,
      dutyBefore: scaled.before?.duty ?? null,
      dutyAfter: scaled.after?.duty ?? null,
      ...(scaled.band && { band: scaled.band }),
      ...injectorLimits(table, scaled.after, planningOf(build), build.injectors.smallestPulseMs),
      assumptions: [...scaled.assumptions, ...(rated === undefined ? [ratedWithOldFuel(from)] : [])],
    },
  };
}

const ratedWithOldFuel = (from: Fuel): Assumption => ({
  id: "rated-with-old-fuel",
  text: `The injector's flow is taken as measured with ${from.name}; no test density is given.`,
  basis: "estimated",
  matters: "What counts here is the ratio of the two fuels' densities, which does not depend on it.",
});

/** What goes with another fuel beside the arithmetic; common practice. */
function cautionsFor(from: Fuel, to: Fuel): readonly string[] {
  const oxygen = (fuel: Fuel) => fuel.composition?.oxygen ?? 0;
  const cautions = [
    "The first start on another fuel is made cold, with a wideband sensor, by a competent person; vapour burns.",
    "Sensors and gauges that read an air-fuel ratio mean that of one fuel: work in lambda.",
  ];
  if (oxygen(to) > oxygen(from))
    cautions.push(
      "Alcohols attack some seals, hoses and metals: check every part of the fuel system.",
      "Alcohols start badly in the cold: warm-up and cranking need more fuel than the ratio says.",
    );
  if (to.stoichiometricRatio > from.stoichiometricRatio)
    cautions.push("A fuel that resists detonation less may need less ignition advance before any load.");
  return cautions;
}
