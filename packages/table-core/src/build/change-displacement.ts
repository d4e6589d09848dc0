import { type ManifoldPressures, planningOf } from "../fuel/conditions.ts";
import { type InjectorLimits, injectorLimits } from "../fuel/injector-limits.ts";
import { scaleFuel } from "../fuel/scale-fuel.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requirePositive } from "../values/require.ts";
import type { Build } from "./build.ts";

/** What a change of parts that move air does to a table; the limits are those after it. */
export interface PartChangeReport extends InjectorLimits {
  readonly basis: Basis;
  /** True: to be taken as a start only, until a log says better. */
  readonly firstGuess: boolean;
  /** `cells`; `constants` where the controller holds the figure itself; `nothing` where the axis takes it in. */
  readonly changed: "cells" | "constants" | "nothing";
  /** Air, and fuel at the same lambda, new over old in each cell. */
  readonly airFactor: Float64Array;
  /** Fuel mass, after against before, in percent. */
  readonly fuelChangePercent: Float64Array;
  /** As fractions; null where the table alone says nothing of pulses. */
  readonly dutyBefore: Float64Array | null;
  /** See `dutyBefore`. */
  readonly dutyAfter: Float64Array | null;
  /** Trims without base pulse: least and greatest trim that would be right. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
  readonly sentence: string;
  readonly assumptions: readonly Assumption[];
}

/** What {@link changeDisplacement} works with. */
export interface ChangeDisplacement {
  readonly fromCc: number;
  readonly toCc: number;
  readonly build: Build;
  readonly region?: Region;
  readonly basePulse?: FuelTable;
  readonly manifoldKpa?: ManifoldPressures;
}

/**
 * Carries a table over to another displacement: at the same efficiency and lambda, air and fuel of a cylinder scale with it.
 *
 * The scaling is exact; that the larger engine breathes as well is not, above all at high rpm through the same parts.
 * Efficiencies, lambda and factors stay (the controller's displacement changes), and so does a table over air charge, whose
 * axis takes the change in.
 *
 * @throws FuelwrightError `not-positive`, and as `rescaleForInjectors`
 */
export function changeDisplacement(
  table: FuelTable,
  settings: ChangeDisplacement,
): { readonly table: FuelTable; readonly report: PartChangeReport } {
  const from = requirePositive("changeDisplacement: fromCc", settings.fromCc);
  const to = requirePositive("changeDisplacement: toCc", settings.toCc);
  const ratio = to / from;
  const onAxis = table.load.quantity === "air-charge";
  const inController = ["volumetric-efficiency", "lambda", "factor"].includes(table.quantity);
  const kept = onAxis || inController;
  return changeAir("changeDisplacement", table, settings, {
    airFactor: new Float64Array(table.cells.length).fill(ratio),
    changed: onAxis ? "nothing" : inController ? "constants" : "cells",
    kept,
    basis: "computed",
    firstGuess: false,
    sentence: onAxis
      ? "The table runs along air charge, which takes the displacement in: cells stay, higher ones are reached."
      : inController
        ? `The cells stay; the controller's displacement becomes ${to} cc.`
        : `Fuel of each cell is multiplied by ${ratio.toFixed(4)}.`,
    assumptions: [
      {
        id: "same-efficiency",
        text: "The engine is taken to breathe as well as before at every cell.",
        basis: "estimated",
        matters: "Through the same valves and throttle it breathes worse at high rpm: cells there come out too rich.",
      },
    ],
  });
}

/** Multiplies the air of each cell, and with it the fuel; the part of both changes that is the same. */
export function changeAir(
  operation: string,
  table: FuelTable,
  settings: Pick<ChangeDisplacement, "build" | "region" | "basePulse" | "manifoldKpa">,
  plan: Pick<PartChangeReport, "airFactor" | "changed" | "basis" | "firstGuess" | "sentence" | "assumptions"> & {
    /** Cells that stay although the air changes. */
    readonly kept: boolean;
  },
): { readonly table: FuelTable; readonly report: PartChangeReport } {
  const { build, region, basePulse, manifoldKpa } = settings;
  const { kept, ...told } = plan;
  if (kept) {
    const constants = plan.changed === "constants" && table.quantity === "volumetric-efficiency";
    return {
      table,
      report: {
        ...told,
        // The controller works the fuel out from its constants: the cells stay, the fuel doesn't.
        fuelChangePercent: plan.airFactor.map((factor) => (constants ? (factor - 1) * 100 : 0)),
        dutyBefore: null,
        dutyAfter: null,
        ...injectorLimits(table, null, planningOf(build)),
      },
    };
  }
  const scaled = scaleFuel(operation, table, {
    build,
    factors: plan.airFactor,
    weights: editWeights(table, region),
    ...(basePulse && { basePulse }),
    ...(manifoldKpa !== undefined && { manifoldKpa }),
  });
  return {
    table: scaled.table,
    report: {
      ...told,
      basis: scaled.basis === "estimated" ? "estimated" : plan.basis,
      fuelChangePercent: scaled.fuelChangePercent,
      dutyBefore: scaled.before?.duty ?? null,
      dutyAfter: scaled.after?.duty ?? null,
      ...(scaled.band && { band: scaled.band }),
      ...injectorLimits(table, scaled.after, planningOf(build), build.injectors.smallestPulseMs),
      assumptions: [...plan.assumptions, ...scaled.assumptions],
    },
  };
}
