import { requirePlausible } from "../values/plausible.ts";
import { requireWithin } from "../values/require.ts";
import { standardAtmosphere } from "./standard-atmosphere.ts";

/** Where the engine runs, and in what weather. */
export interface Place {
  /** Metres above sea level. */
  readonly altitudeM: number;
  readonly temperatureC: number;
  readonly relativeHumidityPercent?: number;
  /** As read from a barometer at the place (not reduced to sea level); left out: the standard atmosphere's. */
  readonly barometricKpa?: number;
}

/** A checked, frozen copy. @throws FuelwrightError `out-of-range`, `implausible`, naming the field */
export function createPlace(place: Place, where = "place"): Place {
  return Object.freeze({
    altitudeM: requirePlausible(`${where}.altitudeM`, place?.altitudeM, {
      low: -430,
      high: 5500,
      unit: "m",
      mixUps: [{ unit: "ft", toOwn: (feet) => feet * 0.3048 }],
    }),
    temperatureC: requirePlausible(`${where}.temperatureC`, place.temperatureC, {
      low: -45,
      high: 60,
      unit: "°C",
      mixUps: [
        { unit: "°F", toOwn: (fahrenheit) => ((fahrenheit - 32) * 5) / 9 },
        { unit: "K", toOwn: (kelvin) => kelvin - 273.15 },
      ],
    }),
    ...(place.relativeHumidityPercent !== undefined && {
      relativeHumidityPercent: requireWithin(`${where}.relativeHumidityPercent`, place.relativeHumidityPercent, 0, 100),
    }),
    ...(place.barometricKpa !== undefined && {
      barometricKpa: requirePlausible(`${where}.barometricKpa`, place.barometricKpa, {
        low: 45,
        high: 110,
        unit: "kPa",
        mixUps: [
          { unit: "inHg", toOwn: (inches) => inches * 3.386388640341 },
          { unit: "hPa", toOwn: (hectopascal) => hectopascal / 10 },
          { unit: "psi", toOwn: (psi) => psi * 6.894757293168361 },
          { unit: "mmHg", toOwn: (millimetres) => millimetres * 0.133322387415 },
        ],
      }),
    }),
  });
}

/** Barometric pressure in kPa: the place's own reading, otherwise the standard atmosphere's at its height. */
export function barometricPressure(place: Pick<Place, "altitudeM" | "barometricKpa">): number {
  return place.barometricKpa ?? standardAtmosphere(place).pressureKpa;
}
