import {
  enrichmentFor,
  type ThrottleTransient,
  type TransientRun,
  throttleTransient,
  typicalWidebandRange,
} from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import "../../elements/line-chart/line-chart.ts";
import type { ChartSeries } from "../../elements/line-chart/line-chart.ts";
import { figure } from "../../store/display.ts";
import { checkField, choiceField, numberField } from "../table/forms/fields.ts";
import { fuelField, loadField, mixtureField, speedField, tableField } from "./common-fields.ts";
import { explain, figures } from "./explain.ts";
import { mixtureAxis, percent, sayLambda, seconds } from "./say.ts";
import { sliderField } from "./slider-field.ts";
import type { Scene } from "./trial.ts";

/** Within these the mixture counts as held. */
const HELD = 0.03;
/** Richer than this, petrol in a cylinder misfires: an order of magnitude, common practice. */
const HARDLY_BURNS = 0.6;

/** The throttle opens or shuts: what the film on the walls does to the mixture, and what enrichment does about it. */
export function movingView(scene: Scene): TemplateResult {
  const { trial, load, change } = scene;
  const low = trial.lowLoad ?? load.from + 0.15 * (load.to - load.from);
  const high = trial.highLoad ?? load.from + 0.9 * (load.to - load.from);
  const opening = trial.move === "tip-in";
  const film = trial.films[trial.wall];
  const { lambda } = scene.tried.mixture;
  const before = scene.at({ load: opening ? low : high });
  const after = scene.at({ load: opening ? high : low });
  const settings: ThrottleTransient = {
    airBeforeGramsPerSecond: before.airGramsPerSecond,
    airAfterGramsPerSecond: after.airGramsPerSecond,
    rampS: trial.rampS,
    lambda,
    fuel: scene.fuel,
    film,
    wideband: { delayS: trial.delayS, lagS: trial.lagS },
    lastsS: trial.wall === "cold" ? 6 : 3,
  };
  const plain = throttleTransient(settings);
  const enrichment = { percent: trial.tipInPercent, decayS: trial.tipInDecayS };
  const run = trial.enriched
    ? throttleTransient({ ...settings, ...(opening ? { tipIn: enrichment } : { liftOff: enrichment }) })
    : plain;
  const fits = enrichmentFor(film);
  const word = opening ? "Tip-in enrichment" : "Fuel taken away on lift-off";
  return html`<div class="bench">
    <section class="sheet set" aria-label="What is tried">
      <h2>The throttle moves</h2>
      ${tableField(scene)}
      ${choiceField(
        "The throttle",
        trial.move,
        [
          ["tip-in", "opens (tip-in)"],
          ["lift-off", "shuts (lift-off)"],
        ],
        (move) => change({ move }),
        "",
        "try-throttle",
      )}
      ${choiceField(
        "Intake walls",
        trial.wall,
        [
          ["warm", "warm"],
          ["cold", "cold"],
        ],
        (wall) => change({ wall }),
        "",
        "try-walls",
      )}
      <hr />
      ${checkField(word, trial.enriched, (enriched) => change({ enriched }))}
      ${
        trial.enriched
          ? html`${sliderField({
              label: opening ? "Added, of the rise in fuel" : "Taken away, of the fall",
              explain: "try-added",
              value: trial.tipInPercent,
              unitText: "%",
              decimals: 0,
              min: 0,
              max: 200,
              step: 1,
              say: (value) => `${figure(value, 0)} %`,
              change: (tipInPercent) => change({ tipInPercent }),
            })}
            ${sliderField({
              label: "Dies away in",
              explain: "try-decay",
              value: trial.tipInDecayS,
              unitText: "s",
              decimals: 2,
              min: 0.02,
              max: 2,
              step: 0.01,
              say: seconds,
              change: (tipInDecayS) => change({ tipInDecayS }),
            })}
            <button class="word" @click=${() => change({ tipInPercent: fits.percent, tipInDecayS: fits.decayS })}>
              Show what fits these walls</button>`
          : nothing
      }
      <hr />
      ${speedField(scene)} ${loadField(scene, "Light load", low, (lowLoad) => change({ lowLoad }))}
      ${loadField(scene, "High load", high, (highLoad) => change({ highLoad }))}
      <details><summary class="quiet">Mixture, fuel, walls and sensor</summary>
        ${mixtureField(scene)} ${fuelField(scene)} ${wallFields(scene)}
      </details>
    </section>
    <div>
      <div class="verdict" role="status">${verdict(scene, plain, run, opening).map((sentence) => html`<p>${sentence}</p>`)}</div>
      ${figures("What happened", [
        [
          "leanest in the cylinder",
          sayLambda(run.leanest.lambda, scene),
          run.leanest.lambda > 1.005 * lambda ? `at ${seconds(run.leanest.atS)}` : "",
        ],
        [
          "richest in the cylinder",
          sayLambda(run.richest.lambda, scene),
          run.richest.lambda < 0.995 * lambda ? `at ${seconds(run.richest.atS)}` : "",
        ],
        opening
          ? ["leanest on the wideband", sayLambda(run.shownLeanest, scene)]
          : ["richest on the wideband", sayLambda(run.shownRichest, scene)],
        ["lean by more than 5 %", seconds(run.leanForS)],
        ["rich by more than 5 %", seconds(run.richForS)],
        ["film on the walls", `${figure(1000 * run.filmG[0]!, 0)} mg`, `to ${figure(1000 * run.filmG.at(-1)!, 0)} mg`],
      ])}
      ${charts(scene, plain, run, lambda)}
      <div class="whys">
        ${explain({
          title: "What the walls do",
          text: `${percent(film.wallShare)} of the fuel lands on the intake's walls and leaves them in about ${seconds(film.evaporationS)}. At rest as much leaves as lands, and nobody notices. When the throttle opens the film must first grow: the engine goes without. When it shuts, the film is fuel that nobody asked for.`,
          source:
            "C. F. Aquino, SAE 810494 (1981). The figures of these walls are typical orders of magnitude, from memory.",
          leavesOut:
            "how the walls' figures change with load and heat, the filling of the manifold, and the controller's own delay.",
        })}
        ${explain({
          title: "What enrichment does",
          text: `It fills the film so that the cylinder needn't. These walls ask for ${figure(fits.percent, 0)} % of the rise, dying away in ${seconds(fits.decayS)}: share/(1 − share) and (1 − share) of the time. Cold walls ask for more, and for longer.`,
          source:
            "the film's own equation, solved for the flow to inject; the evidence of a log suggests the same figures on its leaf.",
          leavesOut: "fuel sprayed onto a shut valve, and everything a dyno would show.",
        })}
        ${explain({
          title: "What a wideband shows",
          text: `Later by ${seconds(trial.delayS)}, smoothed over ${seconds(trial.lagS)}: the cylinder reaches ${sayLambda(opening ? run.leanest.lambda : run.richest.lambda, scene)}, the sensor shows ${sayLambda(opening ? run.shownLeanest : run.shownRichest, scene)}. It shows nothing beyond its range, here ${sayLambda(typicalWidebandRange[0], scene)} to ${sayLambda(typicalWidebandRange[1], scene)}. A short spike can hide altogether, so a transient is tuned by how the engine pulls as well.`,
          source: "transport as a pure delay, the sensor as a first-order lag; both figures typical.",
          leavesOut: "mixing on the way, false air, and that the delay grows as the flow falls.",
        })}
      </div>
    </div>
  </div>`;
}

function wallFields({ trial, change }: Scene) {
  const film = trial.films[trial.wall];
  const put = (part: Partial<typeof film>) => change({ films: { ...trial.films, [trial.wall]: { ...film, ...part } } });
  return html`
    ${numberField({ label: "Lands on the walls", explain: "try-film-share", value: 100 * film.wallShare, unitText: "%", decimals: 0, min: 0, max: 90, change: (value) => put({ wallShare: value / 100 }) })}
    ${numberField({ label: "Leaves them in", explain: "try-film-time", value: film.evaporationS, unitText: "s", decimals: 2, min: 0.02, max: 10, change: (evaporationS) => put({ evaporationS }) })}
    ${numberField({ label: "Throttle takes", explain: "try-ramp", value: trial.rampS, unitText: "s", decimals: 2, min: 0, max: 2, change: (rampS) => change({ rampS }) })}
    ${numberField({ label: "Sensor delay", explain: "try-delay", value: trial.delayS, unitText: "s", decimals: 2, min: 0, max: 2, change: (delayS) => change({ delayS }) })}
    ${numberField({ label: "Sensor lag", explain: "try-lag", value: trial.lagS, unitText: "s", decimals: 2, min: 0, max: 2, change: (lagS) => change({ lagS }) })}`;
}

/** What changed, and why, in sentences. */
function verdict(scene: Scene, plain: TransientRun, run: TransientRun, opening: boolean): string[] {
  const { lambda } = scene.tried.mixture;
  const { trial } = scene;
  const off = (value: number) => value / lambda - 1;
  const lean = sayLambda(run.leanest.lambda, scene);
  const rich = sayLambda(run.richest.lambda, scene);
  const still = Math.abs(off(plain.leanest.lambda)) < HELD && Math.abs(off(plain.richest.lambda)) < HELD;
  if (still) return ["The load hardly changes: the film has nothing to do. Set the two loads further apart."];
  if (!trial.enriched)
    return opening
      ? [
          `The cylinder goes lean to ${lean} while ${sayLambda(lambda, scene)} is asked for, more than 5 % off for ${seconds(run.leanForS)}: part of the added fuel first wets the walls.`,
          "Switch the enrichment on, and tune it until the lean spike goes. Under load such a spike is a flat spot, or detonation.",
        ]
      : [
          `The cylinder goes rich to ${rich}: the walls give off fuel that the little air no longer needs.`,
          `${run.richest.lambda < HARDLY_BURNS ? "So rich a mixture hardly burns. " : ""}Taking fuel away as the throttle shuts helps as far as an injector can: it can't take back what is on the walls.`,
        ];
  const change = opening
    ? `With ${figure(trial.tipInPercent, 0)} % over ${seconds(trial.tipInDecayS)} the leanest moment goes from ${sayLambda(plain.leanest.lambda, scene)} to ${lean}.`
    : `With ${figure(trial.tipInPercent, 0)} % taken away over ${seconds(trial.tipInDecayS)} the richest moment goes from ${sayLambda(plain.richest.lambda, scene)} to ${rich}.`;
  const tooLean = off(run.leanest.lambda) > HELD;
  const tooRich = off(run.richest.lambda) < -HELD;
  if (!tooLean && !tooRich)
    return [
      change,
      opening
        ? "The spike is gone: what lands on the walls is replaced as fast as it lands."
        : "The mixture holds: the walls give what the injector holds back.",
    ];
  if (tooLean && tooRich)
    return [
      change,
      run.richest.atS < run.leanest.atS
        ? "First too rich, then lean: less of it, but dying away more slowly."
        : "First lean, then too rich: more of it, but dying away faster.",
    ];
  if (tooLean)
    return [change, opening ? moreOrLonger(scene) : "Now it goes lean: too much is taken away, or for too long."];
  return [
    change,
    opening
      ? `Now it goes rich, to ${rich} at ${seconds(run.richest.atS)}: less of it, or shorter. Fuel that isn't needed washes oil off the bore.`
      : "Still rich: take more away, or for longer, as far as the injector can.",
  ];
}

/** What a spike that is left asks for: more, or longer. */
function moreOrLonger({ trial }: Scene): string {
  const fits = enrichmentFor(trial.films[trial.wall]);
  return trial.tipInPercent < 0.9 * fits.percent
    ? "Still lean: more of it."
    : "Still lean: it dies away too soon, the walls are not full yet.";
}

function charts(scene: Scene, plain: TransientRun, run: TransientRun, lambda: number): TemplateResult {
  const { trial } = scene;
  const x = run.timeS;
  const axis = { label: "Time", unit: "s", domain: [0, x.at(-1)!] as const };
  const line = (name: string, y: ArrayLike<number>, look: ChartSeries["look"]): ChartSeries => ({
    name,
    points: { x, y },
    ...(look && { look }),
  });
  const flow = { label: "Fuel", unit: "g/s", zero: true };
  const { axis: mixture, show } = mixtureAxis(scene, [0.65, 1.3]);
  const scale = { label: mixture.label, leastSpan: Math.abs(show(1) - show(0.8)) };
  const moves = [{ axis: "x" as const, at: 0.5, label: trial.move === "tip-in" ? "opens" : "shuts" }];
  return html`<div class="charts">
    <fw-line-chart label="Mixture" style="--fw-chart-height: 190px" no-x-figures .x=${axis} .y=${scale} .rules=${[...moves, { axis: "y", at: show(lambda), label: "asked for" }]}
      .series=${[
        line("in the cylinder", run.cylinderLambda.map(show), "line"),
        ...(trial.enriched
          ? [
              line(
                trial.move === "tip-in" ? "without enrichment" : "nothing taken away",
                plain.cylinderLambda.map(show),
                "dashed",
              ),
            ]
          : []),
        line("on the wideband", run.widebandLambda.map(show), "dotted"),
      ]}></fw-line-chart>
    <fw-line-chart label="Fuel" style="--fw-chart-height: 140px" no-x-figures .x=${axis} .y=${flow} .rules=${moves}
      .series=${[
        line("injected", run.injectedGramsPerSecond, "line"),
        line("into the cylinder", run.deliveredGramsPerSecond, "dashed"),
        line("what the air needs", run.neededGramsPerSecond, "thin"),
      ]}></fw-line-chart>
    <fw-line-chart label="On the walls" style="--fw-chart-height: 110px" .x=${axis} .y=${{ label: "On the walls", unit: "mg", zero: true }} .rules=${moves}
      .series=${[
        line(
          "film",
          run.filmG.map((grams) => grams * 1000),
          "line",
        ),
      ]}></fw-line-chart>
  </div>`;
}
