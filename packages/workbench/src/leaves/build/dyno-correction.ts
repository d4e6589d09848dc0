import { barometricPressure, correctPower, type PowerStandard } from "@fuelwright/table-core";
import { html, LitElement } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { figure } from "../../store/display.ts";
import { pageStyles } from "../page-styles.ts";
import { numberField } from "../table/forms/fields.ts";
import { attempt } from "./asked.ts";
import { buildStyles } from "./build-tools.styles.ts";
import { say } from "./say.ts";

const standards: readonly (readonly [PowerStandard, string])[] = [
  ["sae-j1349-2004", "SAE J1349 (2004)"],
  ["sae-j1349-1990", "SAE J1349 (1990)"],
  ["iso-1585", "ISO 1585"],
  ["din-70020", "DIN 70020, older"],
];

/** Measured power at each standard's reference air. */
@customElement("fw-dyno-correction")
export class DynoCorrection extends LitElement {
  static override styles = [elementTokens, pageStyles, buildStyles];

  @property({ attribute: false }) desk!: Desk;
  @state() private powerKw: number | null = null;
  @state() private temperatureC: number | null = null;
  @state() private barometricKpa: number | null = null;
  @state() private humidity: number | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const { desk } = this;
    const { place } = desk.job.build;
    const air = {
      temperatureC: this.temperatureC ?? place.temperatureC,
      barometricKpa: this.barometricKpa ?? barometricPressure(place),
      relativeHumidityPercent: this.humidity ?? place.relativeHumidityPercent ?? 0,
      ...(this.powerKw !== null && { powerKw: this.powerKw }),
    };
    return html`
      ${numberField({ label: "Power measured", explain: "power-measured", value: this.powerKw, unit: "kW", desk, decimals: 1, min: 0.1, max: 5000, change: (value) => (this.powerKw = value), clear: () => (this.powerKw = null) })}
      ${numberField({ label: "Inlet air", explain: "dyno-air", value: this.temperatureC, unit: "°C", desk, decimals: 1, min: -40, max: 70, hint: this.temperatureC === null ? `Empty: the place's, ${say(desk, place.temperatureC, "°C", 0)}.` : "", change: (value) => (this.temperatureC = value), clear: () => (this.temperatureC = null) })}
      ${numberField({ label: "Barometer at the dyno", explain: "dyno-barometer", value: this.barometricKpa, unit: "kPa", desk, decimals: 1, min: 40, max: 120, hint: this.barometricKpa === null ? `Empty: the place's, ${say(desk, air.barometricKpa, "kPa", 1)}.` : "", change: (value) => (this.barometricKpa = value), clear: () => (this.barometricKpa = null) })}
      ${numberField({ label: "Humidity at the dyno", explain: "dyno-humidity", value: this.humidity, unitText: "%", decimals: 0, min: 0, max: 100, hint: this.humidity === null ? `Empty: ${figure(air.relativeHumidityPercent, 0)} %.` : "", change: (value) => (this.humidity = value), clear: () => (this.humidity = null) })}
      <div role="status"><table class="figures wide numbers" aria-label="Corrected power">
        <thead><tr><th scope="col">standard</th><th scope="col">factor</th><th scope="col">corrected</th></tr></thead>
        <tbody>${standards.map(([standard, name]) => {
          const corrected = attempt(() => correctPower({ standard, ...air }));
          if (!corrected.ok)
            return html`<tr><th scope="row">${name}</th><td colspan="2">${corrected.sentence}</td></tr>`;
          const { factor, powerKw, withinRange } = corrected.value;
          return html`<tr><th scope="row">${name}</th><td>${factor.toFixed(4)}${withinRange ? "" : "*"}</td>
            <td>${powerKw === undefined ? "–" : say(desk, powerKw, "kW", 1)}</td></tr>`;
        })}</tbody></table></div>
      <p class="quiet">Computed. * outside the range for which the standard holds. For engines without supercharger; two runs are compared by one
        standard only. DIN 70020 leaves humidity out.</p>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-dyno-correction": DynoCorrection;
  }
}
