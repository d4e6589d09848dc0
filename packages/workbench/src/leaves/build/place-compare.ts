import {
  type CeilingReport,
  comparePlaces,
  type Place,
  type PlaceComparison,
  standardAtmosphere,
} from "@fuelwright/table-core";
import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { pageStyles } from "../page-styles.ts";
import { numberField } from "../table/forms/fields.ts";
import { type Asked, attempt, type Outcome } from "./asked.ts";
import { assumptionList } from "./assumptions.ts";
import { buildStyles } from "./build-tools.styles.ts";
import { partNames } from "./part-names.ts";
import { say, sayGain } from "./say.ts";
import { sayVerdict } from "./say-verdict.ts";

/** A pass over the mountains, for the demo to begin with. */
const PASS_M = 2000;
const pass: Place = {
  altitudeM: PASS_M,
  temperatureC: Math.round(standardAtmosphere({ altitudeM: PASS_M }).temperatureC),
};

/** The same job at the shop and elsewhere: air, power, ceilings, and what the mixture does with which controller. */
@customElement("fw-place-compare")
export class PlaceCompare extends LitElement {
  static override styles = [elementTokens, pageStyles, buildStyles];

  @property({ attribute: false }) desk!: Desk;
  @property({ attribute: false }) asked!: Asked;
  /** null until something is said of it; the demo has a place to begin with. */
  @state() private chosen: Place | null = null;

  private get place(): Place | null {
    return this.chosen ?? (this.desk.job.invented ? pass : null);
  }

  /** Worked out anew when place, table or build change, and only then. */
  private report: Outcome<PlaceComparison> | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has("asked") && !changed.has("chosen") && this.hasUpdated) return;
    const { place } = this;
    const {
      settings,
      state: { build },
    } = this.asked;
    this.report = place && attempt(() => comparePlaces({ ...(settings ?? { build }), to: place }));
  }

  protected override render() {
    const { desk, place, report } = this;
    const { altitudeM, temperatureC } = desk.job.build.place;
    const put = (part: Partial<Place>) => (this.chosen = { altitudeM, temperatureC, ...place, ...part });
    return html`
      ${numberField({ label: "Altitude there", explain: "altitude", value: place?.altitudeM ?? null, unit: "m", desk, decimals: 0, min: -430, max: 5500, change: (altitudeM) => put({ altitudeM }) })}
      ${numberField({ label: "Air temperature there", explain: "air-temperature", value: place?.temperatureC ?? null, unit: "°C", desk, decimals: 0, min: -45, max: 60, change: (temperatureC) => put({ temperatureC }) })}
      ${numberField({
        label: "Humidity there",
        explain: "humidity",
        value: place?.relativeHumidityPercent ?? null,
        unitText: "%",
        decimals: 0,
        min: 0,
        max: 100,
        hint: place?.relativeHumidityPercent === undefined ? "Empty: dry air." : "",
        change: (relativeHumidityPercent) => put({ relativeHumidityPercent }),
        clear: () => {
          if (!place) return;
          const { relativeHumidityPercent: _, ...rest } = place;
          this.chosen = rest;
        },
      })}
      <div role="status">${report === null ? html`<p class="quiet">Say where, and what changes there stands here.</p>` : report.ok ? this.outcome(report.value) : html`<div class="warns">${report.sentence}</div>`}</div>`;
  }

  private outcome(found: PlaceComparison) {
    const { desk } = this;
    const {
      barometricKpa,
      chargeTemperatureC,
      airFactor,
      powerFactor,
      powerWithinRange,
      injectorFlowFactor,
      ceilings,
    } = found;
    return html`
      <table class="figures wide places" aria-label="Here and there">
        <thead><tr><td></td><th scope="col">here</th><th scope="col">there</th></tr></thead>
        <tbody>
          <tr><th scope="row">barometer</th><td>${say(desk, barometricKpa.from, "kPa", 1)}</td><td>${say(desk, barometricKpa.to, "kPa", 1)}</td></tr>
          <tr><th scope="row">air at the valve</th><td>${say(desk, chargeTemperatureC.from, "°C", 0)}</td><td>${say(desk, chargeTemperatureC.to, "°C", 0)}</td></tr>
          <tr><th scope="row">air at full throttle</th><td></td><td>${sayGain(airFactor)}</td></tr>
          <tr><th scope="row">power</th><td></td><td>${sayGain(powerFactor)}${powerWithinRange ? "" : "*"}</td></tr>
          <tr><th scope="row">injector flow</th><td></td><td>${sayGain(injectorFlowFactor)}</td></tr>
          ${ceilings ? html`${verdicts(ceilings.from, ceilings.to)}` : nothing}
        </tbody></table>
      <h3>With nothing changed, the mixture</h3>
      <ul class="rests">${found.controllers.map(
        ({ sentence, lambdaFactor }) => html`<li class=${lambdaFactor > 1.01 ? "leaner" : ""}>${sentence}</li>`,
      )}</ul>
      ${assumptionList(found.assumptions, found.basis)}
      <p class="quiet">Power by SAE J1349 (2004), air by the ISO 2533 standard atmosphere.${powerWithinRange ? "" : " * outside the range for which that standard holds."}</p>`;
  }
}

function verdicts(from: CeilingReport, to: CeilingReport) {
  return from.parts
    .filter(({ verdict }) => verdict !== "unknown")
    .map((part) => {
      const there = to.parts.find((other) => other.part === part.part)!;
      return html`<tr><th scope="row">${partNames[part.part].toLowerCase()}</th><td>${sayVerdict(part, from.ceilings).words}</td>
        <td>${sayVerdict(there, to.ceilings).words}</td></tr>`;
    });
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-place-compare": PlaceCompare;
  }
}
