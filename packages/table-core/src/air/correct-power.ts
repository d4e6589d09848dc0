import type { Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireOneOf, requirePositive, requireWithin } from "../values/require.ts";
import { vapourPressure } from "./humidity.ts";

/** Weather corrections of dyno power; the revisions of SAE J1349 differ by 0.34 % of what they correct. */
export type PowerStandard = "sae-j1349-1990" | "sae-j1349-2004" | "iso-1585" | "din-70020";

const standards: readonly PowerStandard[] = ["sae-j1349-1990", "sae-j1349-2004", "iso-1585", "din-70020"];

/** What {@link correctPower} gives. */
export interface CorrectedPower {
  /** What measured power is multiplied by. */
  readonly factor: number;
  /** Corrected; left out when no power was given. */
  readonly powerKw?: number;
  /** Barometric pressure less water vapour. */
  readonly dryKpa: number;
  /** False where the standard's own range of conditions is left: the factor is then arithmetic only. */
  readonly withinRange: boolean;
  readonly basis: Basis;
}

/**
 * Dyno power of an unsupercharged spark-ignition engine at the standard's reference air.
 *
 * SAE J1349 (June 1990): 1.180 (99/pd) √((t+273)/298) - 0.180; of August 2004, for a mechanical efficiency of 0.85: 1.176 and
 * 0.176. ISO 1585 (as 80/1269/EEC): (99/pd)^1.2 ((t+273)/298)^0.6. DIN 70020 (older, humidity left out): (101.3/p) √((t+273)/293).
 *
 * @param run - `temperatureC` of the inlet air, `barometricKpa` at the place, `relativeHumidityPercent` (default 0), and
 *   optionally the measured `powerKw`
 * @throws FuelwrightError `out-of-range`, `unknown-choice`, `no-dry-air`
 * @see SAE J1349; ISO 1585; DIN 70020
 */
export function correctPower(run: {
  readonly standard: PowerStandard;
  readonly temperatureC: number;
  readonly barometricKpa: number;
  readonly relativeHumidityPercent?: number;
  readonly powerKw?: number;
}): CorrectedPower {
  const { temperatureC, barometricKpa, relativeHumidityPercent = 0, powerKw } = run;
  const standard = requireOneOf("correctPower: standard", run.standard, standards);
  requireWithin("correctPower: temperatureC", temperatureC, -40, 70);
  requireWithin("correctPower: barometricKpa", barometricKpa, 40, 120);
  const dryKpa = barometricKpa - vapourPressure({ temperatureC, relativeHumidityPercent });
  if (dryKpa <= 0)
    throw new FuelwrightError(
      "no-dry-air",
      "correctPower: nothing is left of the air without its vapour; check humidity",
    );
  const factor = factorOf(standard, temperatureC, barometricKpa, dryKpa);
  return {
    factor,
    ...(powerKw !== undefined && { powerKw: requirePositive("correctPower: powerKw", powerKw) * factor }),
    dryKpa,
    withinRange: withinRange(standard, temperatureC, dryKpa, factor),
    basis: "computed",
  };
}

function factorOf(standard: PowerStandard, temperatureC: number, barometricKpa: number, dryKpa: number): number {
  // The standards all write t + 273, so that 25 °C is 298 K exactly.
  const kelvin = temperatureC + 273;
  if (standard === "din-70020") return (101.3 / barometricKpa) * Math.sqrt(kelvin / 293);
  if (standard === "iso-1585") return (99 / dryKpa) ** 1.2 * (kelvin / 298) ** 0.6;
  const gain = standard === "sae-j1349-1990" ? 1.18 : 1.176;
  return gain * (99 / dryKpa) * Math.sqrt(kelvin / 298) - (gain - 1);
}

function withinRange(standard: PowerStandard, temperatureC: number, dryKpa: number, factor: number): boolean {
  if (standard === "iso-1585") return factor >= 0.93 && factor <= 1.07;
  if (standard === "din-70020") return true;
  return temperatureC >= 15 && temperatureC <= 35 && dryKpa >= 90 && dryKpa <= 105;
}
