import { requireWithin } from "../values/require.ts";
import { barometricPressure, type Place } from "./place.ts";

/**
 * Saturation pressure of water vapour over water, in kPa.
 *
 * @param air - `temperatureC`, -40..100
 * @throws FuelwrightError `out-of-range`
 * @see Buck, J. Appl. Meteorol. 20 (1981) 1527, revision of 1996
 */
export function saturationPressure({ temperatureC: t }: { readonly temperatureC: number }): number {
  requireWithin("saturationPressure: temperatureC", t, -60, 100);
  return 0.61121 * Math.exp((18.678 - t / 234.5) * (t / (257.14 + t)));
}

/** Partial pressure of water vapour in kPa; relative humidity over water, default dry. */
export function vapourPressure({
  temperatureC,
  relativeHumidityPercent = 0,
}: Pick<Place, "temperatureC" | "relativeHumidityPercent">): number {
  requireWithin("vapourPressure: relativeHumidityPercent", relativeHumidityPercent, 0, 100);
  return (relativeHumidityPercent / 100) * saturationPressure({ temperatureC });
}

/**
 * The share of the place's air that is water vapour, by volume, 0..1: what is lost to the engine as air to burn with.
 */
export function vapourShare(place: Place): number {
  return vapourPressure(place) / barometricPressure(place);
}
