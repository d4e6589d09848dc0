import {
  airTemperatureFactors,
  type CorrectedFuel,
  correctForTemperature,
  type FuelTable,
  lookup,
  type SteadyState,
  typicalWarmUp,
} from "@fuelwright/table-core";
import { html, type TemplateResult } from "lit";
import "../../elements/line-chart/line-chart.ts";
import { figure, percentChange } from "../../store/display.ts";
import { loadField, mixtureField, speedField, tableField } from "./common-fields.ts";
import { explain } from "./explain.ts";
import { mixtureAxis, moreOrLess, percent, say, sayLambda, scaleOf } from "./say.ts";
import { sliderField } from "./slider-field.ts";
import type { Scene } from "./trial.ts";

/** Engine temperature that counts as warm, °C. */
const WARM_C = 85;

/** The corrections that lie over the base table: the job's own where it has them. */
function corrections(scene: Scene): { readonly warmUp: FuelTable; readonly airTemperature: FuelTable } {
  const own = (axis: FuelTable["rpm"]["quantity"]) =>
    Object.values(scene.desk.shown.tables).find(
      ({ rpm, quantity }) => rpm.quantity === axis && (quantity === "factor" || quantity === "trim"),
    );
  return {
    warmUp: own("coolant-temperature") ?? typicalWarmUp(),
    airTemperature: own("air-temperature") ?? airTemperatureFactors(scene.build.place.temperatureC),
  };
}

interface Case {
  readonly name: string;
  readonly airC: number;
  readonly coolantC: number;
  readonly corrected: CorrectedFuel;
  readonly given: SteadyState;
}

/** Warm-up and air-temperature corrections over the base table: what the engine gets in the cold and in the heat. */
export function temperatureView(scene: Scene): TemplateResult {
  const { desk, trial, build, change } = scene;
  const { preferences } = desk;
  const tables = corrections(scene);
  const tunedAtC = build.place.temperatureC;
  const { lambda } = scene.tried.mixture;
  const correct = (airC: number, coolantC: number) =>
    correctForTemperature({ massMg: scene.tried.askedMg, lambda, tunedAtC, airC, coolantC, ...tables });
  const caseAt = (name: string, airC: number, coolantC: number): Case => {
    const corrected = correct(airC, coolantC);
    return { name, airC, coolantC, corrected, given: scene.at({ lambda: corrected.commandedLambda }) };
  };
  const temperature = (celsius: number) => say(celsius, "°C", 0, preferences);
  const cases = [
    caseAt("Started cold", -5, -5),
    caseAt("Warm engine", -5, WARM_C),
    caseAt("Started cold", 30, 30),
    caseAt("Warm engine", 30, WARM_C),
    caseAt("As set here", trial.outsideC, trial.coolantC),
  ];
  const row = (label: string, value: (one: Case) => string, main = false) =>
    html`<tr class=${main ? "main" : ""}><th scope="row">${label}</th>${cases.map((one) => html`<td>${value(one)}</td>`)}</tr>`;
  const slider = (label: string, value: number, max: number, put: (celsius: number) => void) =>
    sliderField({
      label,
      value,
      unit: "°C",
      desk,
      decimals: 0,
      min: -20,
      max,
      step: 1,
      say: temperature,
      change: put,
    });
  const cold = cases[1]!.corrected;
  const hot = cases[3]!.corrected;
  return html`<div class="bench">
    <section class="sheet set" aria-label="What is tried">
      <h2>Cold and hot</h2>
      ${tableField(scene)}
      ${slider("Outside air", trial.outsideC, 50, (outsideC) => change({ outsideC }))}
      ${slider("Engine", trial.coolantC, 110, (coolantC) => change({ coolantC }))}
      <hr />
      ${speedField(scene)} ${loadField(scene, "Load", scene.tried.load, (load) => change({ load }))} ${mixtureField(scene)}
      <p class="quiet">The base table is taken to be right on a day of ${temperature(tunedAtC)}, the place on the Build leaf.</p>
    </section>
    <div>
      <div class="scroll" tabindex="0" role="region" aria-label="What the engine gets"><table>
        <thead><tr><td></td>${cases.map(({ name, airC }) => html`<th scope="col">${name}<br />${temperature(airC)}</th>`)}</tr></thead>
        <tbody>
          ${row("air, against the day it was tuned", ({ corrected }) => percentChange(1, corrected.airFactor))}
          ${row("air-temperature correction", ({ corrected }) => `× ${figure(corrected.airTemperatureFactor, 3)}`)}
          ${row("warm-up correction", ({ corrected }) => `× ${figure(corrected.warmUpFactor, 3)}`)}
          ${row("fuel, cylinder and cycle", ({ corrected }) => `${figure(corrected.massMg, 1)} mg`)}
          ${row("pulse", ({ given }) => `${figure(given.pulseMs, 2)} ms`)}
          ${row("duty", ({ given }) => percent(given.duty))}
          ${row("mixture, corrections off", ({ corrected }) => sayLambda(corrected.uncorrectedLambda, scene))}
          ${row("mixture, as corrected", ({ corrected }) => sayLambda(corrected.lambda, scene), true)}
        </tbody></table></div>
      ${curves(scene, tables, correct)}
      <div class="whys">
        ${explain({
          title: "Why air temperature counts",
          text: `Cold air is denser: at ${temperature(-5)} there is ${moreOrLess(1, cold.airFactor)} of it than on the day of tuning, at ${temperature(30)} ${moreOrLess(1, hot.airFactor)}. With the correction off the same table gives ${sayLambda(cold.uncorrectedLambda, scene)} in the cold and ${sayLambda(hot.uncorrectedLambda, scene)} in the heat.`,
          source: `the gas law. The correction over the table is “${tables.airTemperature.name}”.`,
          leavesOut:
            "heat soak after a stop, when the air is hotter than the sensor says; controllers that measure air correct by themselves.",
        })}
        ${explain({
          title: "Why a cold engine needs more",
          text: `Only the part that evaporates burns, and in the cold that is little: the rest wets walls and washes the bores. The figure says how rich all the fuel would be together; what burns is leaner. Started at ${temperature(-5)} the fuel is ${figure(cases[0]!.corrected.massMg, 1)} mg instead of ${figure(scene.tried.askedMg, 1)} mg.`,
          source: `the correction over the table is “${tables.warmUp.name}”; typical figures are from memory, to start from.`,
          leavesOut: "cranking enrichment, the seconds after the start, and how much of the fuel really evaporates.",
        })}
      </div>
    </div>
  </div>`;
}

/** Both corrections, and the mixture over the air's temperature with and without. */
function curves(
  scene: Scene,
  { warmUp, airTemperature }: ReturnType<typeof corrections>,
  correct: (airC: number, coolantC: number) => CorrectedFuel,
): TemplateResult {
  const { trial, desk } = scene;
  const heat = scaleOf("°C", desk.preferences);
  const { axis, show } = mixtureAxis(scene, [0.65, 1.3]);
  const celsius = Array.from({ length: 36 }, (_, at) => -20 + at * 2);
  const engine = Array.from({ length: 66 }, (_, at) => -20 + at * 2);
  const factor = (table: FuelTable, at: number) => {
    const value = lookup(table, { rpm: at });
    return table.quantity === "trim" ? 1 + value / 100 : value;
  };
  const warm = celsius.map((at) => correct(at, WARM_C));
  return html`<div class="charts" style="margin-top: var(--space-4)">
    <fw-line-chart label="Mixture of a warm engine" style="--fw-chart-height: 130px" .x=${{ label: "Outside air", unit: heat.unit }}
      .y=${{ label: axis.label, leastSpan: 0.1 }} .mark=${{ x: heat.show(trial.outsideC) }}
      .series=${[
        { name: "as corrected", points: { x: celsius.map(heat.show), y: warm.map(({ lambda }) => show(lambda)) } },
        {
          name: "corrections off",
          points: { x: celsius.map(heat.show), y: warm.map(({ uncorrectedLambda }) => show(uncorrectedLambda)) },
        },
      ]}></fw-line-chart>
    <div class="pair">
      <fw-line-chart label=${warmUp.name} style="--fw-chart-height: 110px" .x=${{ label: "Engine", unit: heat.unit }} .y=${{ label: "factor" }}
        .mark=${{ x: heat.show(trial.coolantC) }} .series=${[{ name: "factor", points: { x: engine.map(heat.show), y: engine.map((at) => factor(warmUp, at)) } }]}></fw-line-chart>
      <fw-line-chart label=${airTemperature.name} style="--fw-chart-height: 110px" .x=${{ label: "Outside air", unit: heat.unit }} .y=${{ label: "factor" }}
        .mark=${{ x: heat.show(trial.outsideC) }} .series=${[{ name: "factor", points: { x: celsius.map(heat.show), y: celsius.map((at) => factor(airTemperature, at)) } }]}></fw-line-chart>
    </div>
  </div>`;
}
