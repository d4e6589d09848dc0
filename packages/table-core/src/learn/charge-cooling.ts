import { ZERO_CELSIUS_K } from "../air/air-charge.ts";
import type { Fuel } from "../fuel/fuel.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePositive, requireWithin } from "../values/require.ts";

/** What evaporating fuel does to the charge. */
export interface ChargeCooling {
  /** How much cooler air and fuel get, K. */
  readonly dropK: number;
  readonly chargeTemperatureC: number;
  /** Heat taken from each kilogram of air, kJ. */
  readonly heatKjPerKgAir: number;
  /** How much denser that makes the charge at the same pressure, percent. */
  readonly denserPercent: number;
}

/** kJ/(kg K): dry air near room temperature, and liquid fuel (petrol 2.0 to 2.2, alcohols to 2.5). Handbook figures. */
const AIR_HEAT_CAPACITY = 1.005;
const FUEL_HEAT_CAPACITY = 2;

/**
 * How far fuel that evaporates in the air cools the charge: latent heat against the heat that air and fuel hold. O(1).
 *
 * `evaporatedShare` is how much of the fuel evaporates in the air before the valve closes: 1 (default) is the most there can
 * be; what boils off hot walls cools the walls. Left out: vapour pressure, which stops alcohols long before their figure is
 * reached, and heat from the walls.
 *
 * @param settings - fuel with its latent heat; lambda; `airTemperatureC` before, default 25
 * @example chargeCooling({ fuel: fuels.petrol, lambda: 0.9 }).dropK
 * @throws FuelwrightError `fuel-heat-missing`, `not-positive`, `out-of-range`
 * @see J. B. Heywood, Internal Combustion Engine Fundamentals (1988), ch. 6 (energy balance of the mixture)
 */
export function chargeCooling({
  fuel,
  lambda,
  airTemperatureC = 25,
  evaporatedShare = 1,
}: {
  readonly fuel: Fuel;
  readonly lambda: number;
  readonly airTemperatureC?: number;
  readonly evaporatedShare?: number;
}): ChargeCooling {
  requirePositive("chargeCooling: lambda", lambda);
  requireWithin("chargeCooling: airTemperatureC", airTemperatureC, -60, 400);
  requireWithin("chargeCooling: evaporatedShare", evaporatedShare, 0, 1);
  if (fuel.latentHeatKjPerKg === undefined)
    throw new FuelwrightError(
      "fuel-heat-missing",
      "chargeCooling: fuel.latentHeatKjPerKg must be given, got nothing; give it, or start from one of fuels",
      { missing: "latentHeatKjPerKg" },
    );
  const air = lambda * fuel.stoichiometricRatio;
  const heatKjPerKgAir = (evaporatedShare * fuel.latentHeatKjPerKg) / air;
  const dropK = heatKjPerKgAir / (AIR_HEAT_CAPACITY + FUEL_HEAT_CAPACITY / air);
  const chargeTemperatureC = airTemperatureC - dropK;
  const kelvin = airTemperatureC + ZERO_CELSIUS_K;
  return { dropK, chargeTemperatureC, heatKjPerKgAir, denserPercent: (dropK / Math.max(1, kelvin - dropK)) * 100 };
}
