import { barometricPressure, type Place } from "@fuelwright/table-core";
import { html } from "lit";
import { figure } from "../../store/display.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { help, say } from "./say.ts";

/** Where the engine runs, in a few words. */
export const placeWords = ({ desk, editor: { build } }: BuildContext): string =>
  `${say(desk, build.place.altitudeM, "m", 0)}, ${say(desk, build.place.temperatureC, "°C", 0)}, battery ${figure(build.battery.volts, 1)} V`;

/** The fields of place, weather and battery. */
export function placeFields({ desk, editor }: BuildContext) {
  const { place, battery } = editor.build;
  const put = (part: Partial<Place>) => editor.putParts({ place: { ...place, ...part } }, "the place");
  const optional = (key: "relativeHumidityPercent" | "barometricKpa") => ({
    value: place[key] ?? null,
    change: (value: number) => put({ [key]: value }),
    clear: () => editor.putParts({ place: without(place, key) as Place }, "the place"),
  });
  return html`<div class="fields"><div>
      ${editor.figure("battery.volts", {
        label: "Battery, running",
        value: battery.volts,
        unitText: "V",
        decimals: 1,
        help: help(
          "Battery, running",
          "At the injectors and the pump with the engine running: dead time and pump flow go with it.",
        ),
        change: (volts) => editor.putParts({ battery: { volts } }, "the battery"),
      })}
      ${editor.figure("place.altitudeM", { label: "Altitude", explain: "altitude", value: place.altitudeM, unit: "m", decimals: 0, change: (altitudeM) => put({ altitudeM }) })}
      ${editor.figure("place.temperatureC", { label: "Air temperature", explain: "air-temperature", value: place.temperatureC, unit: "°C", decimals: 0, change: (temperatureC) => put({ temperatureC }) })}
    </div><div>
      ${editor.figure("place.barometricKpa", {
        label: "Barometric pressure",
        unit: "kPa",
        decimals: 1,
        hint:
          place.barometricKpa === undefined
            ? `Empty: ${say(desk, barometricPressure(place), "kPa", 1)}, the standard atmosphere's. Computed.`
            : "",
        help: help(
          "Barometric pressure",
          "As a barometer reads at the place, not reduced to sea level as weather reports give it.",
          "ISO 2533 standard atmosphere where empty",
        ),
        ...optional("barometricKpa"),
      })}
      ${editor.figure("place.relativeHumidityPercent", { label: "Humidity", explain: "humidity", unitText: "%", decimals: 0, hint: place.relativeHumidityPercent === undefined ? "Empty: dry air. At 30 °C, damp air holds up to 4 % vapour in the place of air." : "", ...optional("relativeHumidityPercent") })}
    </div></div>
    ${editor.sentence("place")}${editor.sentence("battery")}`;
}
