import { requireWithin } from "../values/require.ts";

/** Air at a height of the standard atmosphere. */
export interface StandardAir {
  readonly temperatureC: number;
  readonly pressureKpa: number;
  readonly densityKgPerM3: number;
}

// ISO 2533:1975 and US Standard Atmosphere 1976, troposphere. R* is the value of the standard, not today's CODATA figure.
const SEA_LEVEL_K = 288.15;
const SEA_LEVEL_KPA = 101.325;
const LAPSE_K_PER_M = 0.0065;
const MOLAR_MASS = 28.9644;
const GAS_CONSTANT = 8314.32;
const EXPONENT = (9.80665 * MOLAR_MASS) / (GAS_CONSTANT * LAPSE_K_PER_M);

/** Heights the troposphere's formula is used for, and that an engine is run at. */
const LOWEST_M = -500;
const HIGHEST_M = 11_000;

/**
 * Temperature, pressure and density of the standard atmosphere at a height.
 *
 * @param place - `altitudeM`, geopotential metres above sea level, -500..11000
 * @example standardAtmosphere({ altitudeM: 1500 }).pressureKpa // 84.556
 * @throws FuelwrightError `out-of-range`
 * @see ISO 2533:1975, Standard Atmosphere
 */
export function standardAtmosphere({ altitudeM }: { readonly altitudeM: number }): StandardAir {
  requireWithin("standardAtmosphere: altitudeM", altitudeM, LOWEST_M, HIGHEST_M);
  const kelvin = SEA_LEVEL_K - LAPSE_K_PER_M * altitudeM;
  const pressureKpa = SEA_LEVEL_KPA * (kelvin / SEA_LEVEL_K) ** EXPONENT;
  const densityKgPerM3 = (pressureKpa * 1000 * MOLAR_MASS) / (GAS_CONSTANT * kelvin);
  return { temperatureC: kelvin - 273.15, pressureKpa, densityKgPerM3 };
}

/**
 * The height in geopotential metres at which the standard atmosphere has this pressure.
 *
 * @throws FuelwrightError `out-of-range` outside 22.7..107.5 kPa
 * @see ISO 2533:1975
 */
export function pressureAltitude({ pressureKpa }: { readonly pressureKpa: number }): number {
  requireWithin("pressureAltitude: pressureKpa", pressureKpa, 22.7, 107.5);
  return (SEA_LEVEL_K / LAPSE_K_PER_M) * (1 - (pressureKpa / SEA_LEVEL_KPA) ** (1 / EXPONENT));
}
