import type { Assumption } from "../values/basis.ts";
import { requirePositive, requireWithin } from "../values/require.ts";
import type { Place } from "./place.ts";

/** Specific gas constant of dry air, J/(kg K). */
export const DRY_AIR_GAS_CONSTANT = 287.05287;

export const ZERO_CELSIUS_K = 273.15;

/** How much warmer the air is at the valve than outside, where nothing better is known. */
export const ASSUMED_CHARGE_WARMING_K = 15;

/** What a cylinder is filled from, and how large it is. */
export interface ChargeConditions {
  /** Of all cylinders together. */
  readonly displacementCc: number;
  readonly cylinders: number;
  /** Absolute, in front of the valve. */
  readonly manifoldKpa: number;
  readonly chargeTemperatureC: number;
  /** Water vapour in the air by volume, 0..1; default 0. See `vapourShare`. */
  readonly vapourShare?: number;
}

/**
 * Dry air drawn by one cylinder in a cycle, in mg, at a volumetric efficiency against the air in the manifold.
 *
 * @example airCharge({ volumetricEfficiencyPercent: 85, displacementCc: 1000, cylinders: 2, manifoldKpa: 95, chargeTemperatureC: 40 })
 * @throws FuelwrightError `not-positive`, `out-of-range`
 * @see Heywood, Internal Combustion Engine Fundamentals (1988), ch. 2
 */
export function airCharge(conditions: ChargeConditions & { readonly volumetricEfficiencyPercent: number }): number {
  requireWithin("airCharge: volumetricEfficiencyPercent", conditions.volumetricEfficiencyPercent, 0, 500);
  return (conditions.volumetricEfficiencyPercent / 100) * fullCharge("airCharge", conditions);
}

/**
 * The volumetric efficiency in percent at which a cylinder draws `airMg` in a cycle: the inverse of {@link airCharge}.
 *
 * @throws FuelwrightError `not-finite`, `not-positive`, `out-of-range`
 */
export function volumetricEfficiency(conditions: ChargeConditions & { readonly airMg: number }): number {
  requireWithin("volumetricEfficiency: airMg", conditions.airMg, 0, Number.MAX_VALUE);
  return (conditions.airMg / fullCharge("volumetricEfficiency", conditions)) * 100;
}

/** mg that fill one cylinder's displacement at manifold pressure and charge temperature. */
function fullCharge(where: string, conditions: ChargeConditions): number {
  const { displacementCc, cylinders, manifoldKpa, chargeTemperatureC, vapourShare = 0 } = conditions;
  requirePositive(`${where}: displacementCc`, displacementCc);
  requirePositive(`${where}: cylinders`, cylinders);
  requirePositive(`${where}: manifoldKpa`, manifoldKpa);
  requireWithin(`${where}: chargeTemperatureC`, chargeTemperatureC, -100, 400);
  requireWithin(`${where}: vapourShare`, vapourShare, 0, 0.9);
  return (
    (manifoldKpa * 1000 * (1 - vapourShare) * (displacementCc / cylinders)) /
    (DRY_AIR_GAS_CONSTANT * (chargeTemperatureC + ZERO_CELSIUS_K))
  );
}

/** Temperature of the air at the valve: as given, otherwise the outside air's and an assumed warming. */
export function chargeTemperature(
  engine: { readonly chargeTemperatureC?: number },
  place: Pick<Place, "temperatureC">,
): { readonly temperatureC: number; readonly assumptions: readonly Assumption[] } {
  if (engine.chargeTemperatureC !== undefined) return { temperatureC: engine.chargeTemperatureC, assumptions: [] };
  const temperatureC = place.temperatureC + ASSUMED_CHARGE_WARMING_K;
  const mattersPercent = (10 / (temperatureC + ZERO_CELSIUS_K)) * 100;
  return {
    temperatureC,
    assumptions: [
      {
        id: "charge-temperature",
        text: `The air is taken to warm by ${ASSUMED_CHARGE_WARMING_K} °C on its way to the valve, to ${temperatureC} °C.`,
        basis: "estimated",
        matters: `Ten degrees either way are ${mattersPercent.toFixed(1)} % of air and fuel.`,
        mattersPercent,
      },
    ],
  };
}
