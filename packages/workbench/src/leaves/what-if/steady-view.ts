import { mixtureOptima, mixtureResponse } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import "../../elements/line-chart/line-chart.ts";
import type { ChartChooseEvent, ChartMark, ChartSeries } from "../../elements/line-chart/line-chart.ts";
import { figure, percentChange } from "../../store/display.ts";
import { choiceField } from "../table/forms/fields.ts";
import { fuelField, loadField, mixtureField, speedField, tableField } from "./common-fields.ts";
import {
  coolingCurve,
  coolingK,
  flameC,
  flameCurve,
  flameOverInlet,
  flameOverPressure,
  inletTemperatures,
  lambdas,
  mixtureOfMost,
  pressures,
  responseCurve,
} from "./curves.ts";
import { explain, figures } from "./explain.ts";
import { mixtureAxis, percent, say, sayLambda, scaleOf } from "./say.ts";
import { sliderField } from "./slider-field.ts";
import type { Scene } from "./trial.ts";

/** One point of the table at rest: what a mixture takes, and what it does. */
export function steadyView(scene: Scene): TemplateResult {
  const { desk, trial, build, fuel, own, tried, change } = scene;
  const { preferences } = desk;
  const airC = trial.airC ?? build.place.temperatureC;
  const share = trial.evaporatedPercent / 100;
  const { lambda } = tried.mixture;
  const conditions = { state: trial.flameFuelState, inletC: trial.flameInletC, pressureKpa: trial.flamePressureKpa };
  const flame = flameC(fuel, lambda, conditions);
  const cooling = coolingK(fuel, lambda, airC, share);
  const { powerPercent, consumptionPercent } = mixtureResponse(lambda);
  const against = (now: number, before: number) => (now === before ? "" : percentChange(before, now));
  return html`<div class="bench">
    <section class="sheet set" aria-label="What is tried">
      <h2>At one point</h2>
      ${tableField(scene)} ${speedField(scene)} ${loadField(scene, "Load", tried.load, (load) => change({ load }))}
      ${mixtureField(scene)}
      <hr />
      ${fuelField(scene)}
      ${sliderField({
        label: "Air before the fuel",
        explain: "try-air",
        value: airC,
        unit: "°C",
        desk,
        decimals: 0,
        min: -20,
        max: 60,
        step: 1,
        say: (celsius) => say(celsius, "°C", 0, preferences),
        change: (celsius) => change({ airC: celsius }),
      })}
      ${sliderField({
        label: "Evaporates in the air",
        explain: "try-evaporates",
        value: trial.evaporatedPercent,
        unitText: "%",
        decimals: 0,
        min: 0,
        max: 100,
        step: 5,
        say: (value) => `${figure(value, 0)} %`,
        change: (evaporatedPercent) => change({ evaporatedPercent }),
      })}
    </section>
    <div>
      ${leanUnderLoad(scene)}
      ${figures("At this point", [
        ["fuel, cylinder and cycle", `${figure(tried.askedMg, 1)} mg`, against(tried.askedMg, own.askedMg)],
        ["pulse", `${figure(tried.pulseMs, 2)} ms`, against(tried.pulseMs, own.pulseMs)],
        ["duty", percent(tried.duty), tried.duty >= 1 ? "never closes" : ""],
        ["fuel flow, engine", `${figure(tried.kilogramsPerHour, 2)} kg/h`, `${figure(tried.litresPerHour, 2)} L/h`],
        ["lambda", figure(lambda, 3)],
        ["air–fuel ratio", `${figure(tried.mixture.afr, 2)} : 1`],
        ["equivalence ratio", figure(tried.mixture.equivalence, 3)],
        ["air, cylinder and cycle", `${figure(tried.airMg, 0)} mg`],
        Number.isFinite(cooling) ? ["charge cooled by", `${figure(cooling, 1)} K`] : null,
        Number.isFinite(flame) ? ["flame", say(flame, "°C", 0, preferences)] : null,
        ["power", `${figure(powerPercent, 1)} %`, "of the best mixture"],
        ["fuel for the work", `${figure(consumptionPercent, 1)} %`, "of the thriftiest"],
      ])}
      ${overMixture(scene, airC, share)} ${whys(scene, { airC, share, flame, cooling })} ${flameChamber(scene)}
    </div>
  </div>`;
}

function leanUnderLoad({ tried, load, loadUnit }: Scene) {
  const loaded = loadUnit === "kPa" ? tried.manifoldKpa >= 70 : tried.load >= load.from + 0.7 * (load.to - load.from);
  return loaded && tried.mixture.lambda > 1
    ? html`<p class="warns">Lean at this load. A real engine may detonate here and melt a piston: try it on this page only.</p>`
    : nothing;
}

/** Four curves over one mixture axis, the chosen point on each. */
function overMixture(scene: Scene, airC: number, share: number): TemplateResult {
  const { desk, trial, fuel, tried, change } = scene;
  const { axis, show } = mixtureAxis(scene, [lambdas[0]!, lambdas.at(-1)!]);
  const { lambda } = tried.mixture;
  const mark: ChartMark = { x: show(lambda) };
  const xs = lambdas.map(show);
  const line = (name: string, values: readonly number[]): ChartSeries => ({ name, points: { x: xs, y: values } });
  const flames = flameCurve(fuel, trial.flameFuelState, trial.flameInletC, trial.flamePressureKpa);
  const coolings = coolingCurve(fuel, airC, share);
  const powers = responseCurve.map(({ powerPercent }) => powerPercent);
  const consumptions = responseCurve.map(({ consumptionPercent }) => consumptionPercent);
  const flows = lambdas.map((each) => scene.at({ lambda: each }).litresPerHour);
  const heat = scaleOf("°C", desk.preferences);
  const flameFigures = flames.map(heat.show);
  const choose = (event: Event) => {
    const { x } = event as ChartChooseEvent;
    const nearest = xs.reduce((best, at, i) => (Math.abs(at - x) < Math.abs(xs[best]! - x) ? i : best), 0);
    change({ lambda: lambdas[nearest]! });
  };
  const known = (values: readonly number[]) => values.some((value) => Number.isFinite(value));
  return html`<div class="charts" @fw-chart-choose=${choose}>
      ${
        known(flames)
          ? html`<fw-line-chart choosable no-table no-x-figures style="--fw-chart-height: 120px" label="Flame temperature"
              .x=${axis} .y=${{ label: "Flame temperature", unit: heat.unit }}
              .series=${[line("flame", flameFigures)]} .mark=${{ ...mark, text: sayLambda(lambda, scene) }}></fw-line-chart>`
          : html`<p class="quiet">Composition and heating value of ${fuel.name} are not known: no flame can be worked out.</p>`
      }
      ${
        known(coolings)
          ? html`<fw-line-chart choosable no-table no-x-figures style="--fw-chart-height: 84px" label="Charge cooled by evaporation"
              .x=${axis} .y=${{ label: "Charge cooled by evaporation", unit: "K", zero: true }}
              .series=${[line("cooling", coolings)]} .mark=${mark}></fw-line-chart>`
          : nothing
      }
      <fw-line-chart choosable no-table no-x-figures style="--fw-chart-height: 96px" label="Power"
        .x=${axis} .y=${{ label: "of the best mixture's", unit: "%" }} .mark=${mark}
        .rules=${[{ axis: "x", at: show(mixtureOptima.power), label: "most" }]}
        .series=${[line("power", powers)]}></fw-line-chart>
      <fw-line-chart choosable no-table no-x-figures style="--fw-chart-height: 96px" label="Fuel for the work"
        .x=${axis} .y=${{ label: "of the thriftiest mixture's", unit: "%" }} .mark=${mark}
        .rules=${[{ axis: "x", at: show(mixtureOptima.consumption), label: "least" }]}
        .series=${[line("fuel for the work", consumptions)]}></fw-line-chart>
      <fw-line-chart choosable no-table style="--fw-chart-height: 104px" label="Fuel flow of the engine"
        .x=${axis} .y=${{ label: "Fuel flow of the engine", unit: "L/h", zero: true }}
        .series=${[line("flow", flows)]} .mark=${mark}></fw-line-chart>
    </div>
    <details class="quiet"><summary>The curves as a table</summary>
      <div class="scroll" tabindex="0" role="region" aria-label="The curves as a table"><table>
        <thead><tr><th scope="col">${axis.label}</th><th scope="col">flame, ${heat.unit}</th><th scope="col">cooling, K</th>
          <th scope="col">power, %</th><th scope="col">fuel for the work, %</th><th scope="col">flow, L/h</th></tr></thead>
        <tbody>${lambdas.map((each, at) =>
          at % 5 === 0
            ? html`<tr><td>${figure(show(each), 3)}</td><td>${figure(flameFigures[at]!, 0)}</td><td>${figure(coolings[at]!, 1)}</td>
                <td>${figure(powers[at]!, 1)}</td><td>${figure(consumptions[at]!, 1)}</td><td>${figure(flows[at]!, 2)}</td></tr>`
            : nothing,
        )}</tbody></table></div></details>`;
}

interface Found {
  readonly airC: number;
  readonly share: number;
  readonly flame: number;
  readonly cooling: number;
}

/** Why richer runs cooler, where power peaks, what it costs: with the figures of this point. */
function whys(scene: Scene, { airC, share, flame, cooling }: Found): TemplateResult {
  const { desk, trial, fuel } = scene;
  const { preferences } = desk;
  const flames = flameCurve(fuel, trial.flameFuelState, trial.flameInletC, trial.flamePressureKpa);
  const hottest = mixtureOfMost(flames);
  const most = Math.max(...flames);
  const best = mixtureOptima.power;
  const thrifty = mixtureOptima.consumption;
  const atBest = scene.at({ lambda: best });
  const atThrifty = scene.at({ lambda: thrifty });
  const coolerBy = most - flame;
  return html`<div class="whys four">
    ${
      Number.isFinite(flame)
        ? explain({
            title: "Why richer runs cooler",
            text: `The flame is hottest at ${sayLambda(hottest, scene)}, slightly rich. Richer than that, fuel has no oxygen left to burn with and only has to be heated; leaner, the spare air has to be. Here it is ${figure(coolerBy, 0)} K below its hottest.`,
            source:
              "chemical equilibrium of ten gases at constant pressure (Gordon & McBride, NASA RP-1311; gas data as in GRI-Mech 3.0).",
            leavesOut:
              "heat lost to the walls, rising pressure, and time: a real flame is several hundred degrees cooler.",
          })
        : nothing
    }
    ${explain({
      title: "Where power peaks",
      text: `At ${sayLambda(best, scene)}: a little more fuel than the air can burn uses all the oxygen, also where mixing is poor. At ${sayLambda(1, scene)} there is ${figure(mixtureResponse(1).powerPercent, 0)} % of that power.`,
      source:
        "the usual shape of published curves (Heywood 1988, ch. 9 and 15), from memory and not checked; typical, full throttle.",
      leavesOut: "your engine. It can differ by several percent, an air-cooled one may need it richer to live.",
    })}
    ${explain({
      title: "What it costs",
      text: `Most power takes ${figure(atBest.litresPerHour, 1)} L/h at this point; the mixture that needs least fuel for the same work, ${sayLambda(thrifty, scene)}, takes ${figure(atThrifty.litresPerHour, 1)} L/h. The best power needs ${figure(mixtureResponse(best).consumptionPercent - 100, 0)} % more fuel for each kilowatt-hour.`,
      source: "arithmetic on the same power curve: the same air, less fuel as lambda rises.",
      leavesOut: "throttling: for the same power a lean engine opens its throttle further and pumps less.",
    })}
    ${
      Number.isFinite(cooling)
        ? explain({
            title: "What evaporation does",
            text: `Boiling ${figure(share * 100, 0)} % of the fuel in the air takes ${figure(cooling, 0)} K out of the charge, from ${say(airC, "°C", 0, preferences)} to ${say(airC - cooling, "°C", 0, preferences)}. A cooler charge is denser and detonates later. Methanol and ethanol take far more heat, and there is more of them.`,
            source: "energy balance with the latent heat of the fuel; heat capacities from handbooks.",
            leavesOut:
              "that cold air soon holds no more vapour: alcohols never reach their full figure, and fuel on hot walls cools the walls.",
          })
        : nothing
    }
  </div>`;
}

/** The flame over what comes before it: charge temperature and pressure. */
function flameChamber(scene: Scene): TemplateResult {
  const { desk, trial, fuel, tried, change } = scene;
  const { preferences } = desk;
  const { lambda } = tried.mixture;
  const { flameFuelState: state, flameInletC: inletC, flamePressureKpa: pressureKpa } = trial;
  if (!Number.isFinite(flameC(fuel, lambda, { state, inletC, pressureKpa }))) return html``;
  const overInlet = flameOverInlet(fuel, lambda, state, pressureKpa);
  const overPressure = flameOverPressure(fuel, lambda, state, inletC);
  const heat = scaleOf("°C", preferences);
  const force = scaleOf("kPa", preferences);
  const lowerHeat = fuel.lowerHeatingValueMjPerKg!;
  const weaker = flameC({ ...fuel, lowerHeatingValueMjPerKg: lowerHeat * 0.98 }, lambda, {
    state,
    inletC,
    pressureKpa,
  });
  const now = flameC(fuel, lambda, { state, inletC, pressureKpa });
  return html`<section class="sheet" aria-label="The flame" style="margin-top: var(--space-4)"><h2>The flame, before it burns</h2>
    <p class="quiet">Handbooks start at ${say(25, "°C", 0, preferences)} and ${say(101.325, "kPa", 1, preferences)}. In an engine the charge has been squeezed first: some ${say(400, "°C", 0, preferences)}
      and ${say(1500, "kPa", 0, preferences)} are typical at the spark.</p>
    <div class="pair">
      <div>
        ${sliderField({
          label: "Charge when it lights",
          explain: "try-charge",
          value: inletC,
          unit: "°C",
          desk,
          decimals: 0,
          min: -20,
          max: 500,
          step: 5,
          say: (celsius) => say(celsius, "°C", 0, preferences),
          change: (flameInletC) => change({ flameInletC }),
        })}
        <fw-line-chart label="Flame over charge temperature" style="--fw-chart-height: 120px"
          .x=${{ label: "Charge", unit: heat.unit }} .y=${{ label: "", unit: heat.unit }} .mark=${{ x: heat.show(inletC) }}
          .series=${[{ name: "flame", points: { x: inletTemperatures.map(heat.show), y: overInlet.map(heat.show) } }]}></fw-line-chart>
      </div>
      <div>
        ${sliderField({
          label: "Pressure when it lights",
          explain: "try-pressure",
          value: pressureKpa,
          unit: "kPa",
          desk,
          decimals: 0,
          min: 50,
          max: 4000,
          step: 10,
          say: (kpa) => say(kpa, "kPa", 0, preferences),
          change: (flamePressureKpa) => change({ flamePressureKpa }),
        })}
        <fw-line-chart label="Flame over pressure" style="--fw-chart-height: 120px"
          .x=${{ label: "Pressure", unit: force.unit }} .y=${{ label: "", unit: heat.unit }} .mark=${{ x: force.show(pressureKpa) }}
          .series=${[{ name: "flame", points: { x: pressures.map(force.show), y: overPressure.map(heat.show) } }]}></fw-line-chart>
      </div>
    </div>
    ${choiceField(
      "The fuel arrives as",
      state,
      [
        ["vapour", "vapour"],
        ["liquid", "drops that must boil first"],
      ],
      (flameFuelState) => change({ flameFuelState }),
      "",
      "try-arrives",
    )}
    <p class="quiet">A hotter charge makes a hotter flame, by less than its own rise. Pressure keeps hot gas from falling apart into
      CO, H2 and OH, which would take heat. The heating value of ${fuel.name}, ${figure(lowerHeat, 1)} MJ/kg, is nominal: 2 % less is
      ${figure(now - weaker, 0)} K.</p>
  </section>`;
}
