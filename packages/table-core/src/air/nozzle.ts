import { requirePositive, requireWithin } from "../values/require.ts";
import { DRY_AIR_GAS_CONSTANT } from "./air-charge.ts";

/** Ratio of specific heats of air. */
const GAMMA = 1.4;

/** Pressure behind a nozzle over that before it, below which more suction draws no more air. */
export const CRITICAL_PRESSURE_RATIO = (2 / (GAMMA + 1)) ** (GAMMA / (GAMMA - 1));

/** Mass flux times √(R T0)/p0 of a choked nozzle. */
export const CHOKED_FLUX_COEFFICIENT = Math.sqrt(GAMMA) * (2 / (GAMMA + 1)) ** ((GAMMA + 1) / (2 * (GAMMA - 1)));

/** Isentropic flow at a Mach number, against air at rest. */
export interface IsentropicRatios {
  readonly pressureRatio: number;
  readonly temperatureRatio: number;
  /** Area over that of the throat where the flow would be at Mach 1; infinite at rest. */
  readonly areaRatio: number;
}

/**
 * Pressure, temperature and area ratios of isentropic flow of a perfect gas, γ = 1.4.
 *
 * @param mach - 0 or above
 * @throws FuelwrightError `out-of-range`
 * @see NACA Report 1135 (1953), Equations, Tables and Charts for Compressible Flow
 */
export function isentropicRatios(mach: number): IsentropicRatios {
  requireWithin("isentropicRatios: mach", mach, 0, 100);
  const rise = 1 + ((GAMMA - 1) / 2) * mach * mach;
  return {
    temperatureRatio: 1 / rise,
    pressureRatio: rise ** (-GAMMA / (GAMMA - 1)),
    areaRatio: ((2 * rise) / (GAMMA + 1)) ** ((GAMMA + 1) / (2 * (GAMMA - 1))) / mach,
  };
}

/** Air through an ideal nozzle. */
export interface NozzleFlow {
  /** kg/(s m²), which is mg/(s mm²) too. */
  readonly massFlux: number;
  /** 1 where it is choked. */
  readonly machAtThroat: number;
  /** More suction behind it draws no more air. */
  readonly choked: boolean;
}

/**
 * Mass flow of air through each square metre of an ideal converging nozzle; choked from the critical pressure ratio on.
 *
 * @param air - `upstreamKpa` and `temperatureC` at rest before it, `downstreamKpa` behind it; no flow where that is higher
 * @example nozzleFlow({ upstreamKpa: 101.325, temperatureC: 20, downstreamKpa: 85 }).massFlux // 180.4
 * @throws FuelwrightError `not-positive`, `out-of-range`
 * @see NACA Report 1135 (1953)
 */
export function nozzleFlow(air: {
  readonly upstreamKpa: number;
  readonly temperatureC: number;
  readonly downstreamKpa: number;
}): NozzleFlow {
  requirePositive("nozzleFlow: upstreamKpa", air.upstreamKpa);
  requireWithin("nozzleFlow: downstreamKpa", air.downstreamKpa, 0, Number.MAX_VALUE);
  const kelvin = requirePositive("nozzleFlow: temperatureC + 273.15", air.temperatureC + 273.15);
  const ratio = air.downstreamKpa / air.upstreamKpa;
  if (ratio >= 1) return { massFlux: 0, machAtThroat: 0, choked: false };
  return {
    massFlux: massFlux(air.upstreamKpa, kelvin, air.downstreamKpa),
    machAtThroat: ratio <= CRITICAL_PRESSURE_RATIO ? 1 : machFor(ratio),
    choked: ratio <= CRITICAL_PRESSURE_RATIO,
  };
}

/** kg/(s m²), pressures in kPa, unchecked: for solving. 0 against higher pressure. */
export function massFlux(upstreamKpa: number, kelvin: number, downstreamKpa: number): number {
  const scale = (upstreamKpa * 1000) / Math.sqrt(DRY_AIR_GAS_CONSTANT * kelvin);
  const ratio = downstreamKpa / upstreamKpa;
  if (ratio >= 1) return 0;
  if (ratio <= CRITICAL_PRESSURE_RATIO) return CHOKED_FLUX_COEFFICIENT * scale;
  // expm1 keeps the small differences near no flow: 1 - r^k without cancellation.
  const logRatio = Math.log(ratio);
  const expansion = -Math.expm1(((GAMMA - 1) / GAMMA) * logRatio);
  return scale * Math.exp(logRatio / GAMMA) * Math.sqrt(((2 * GAMMA) / (GAMMA - 1)) * expansion);
}

/** Mach number at which isentropic flow has this pressure ratio. */
function machFor(pressureRatio: number): number {
  const rise = Math.expm1((-(GAMMA - 1) / GAMMA) * Math.log(pressureRatio));
  return Math.sqrt((2 / (GAMMA - 1)) * rise);
}
