import {
  type Build,
  buildOfStage,
  cellDemand,
  fullLoadEfficiency,
  type IntakeSolution,
  type Manifold,
  solveIntake,
  type ThrottleBody,
} from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { ChartSeries } from "../../elements/line-chart/line-chart.ts";
import { figure } from "../../store/display.ts";
import { helpOn } from "../help-on.ts";
import { assumptionList } from "./assumptions.ts";
import type { BuildContext } from "./context.ts";
import { fixed, say, sayGain } from "./say.ts";

/** Parts that could go in, and where they are described. */
interface Candidate {
  readonly name: string;
  readonly throttleBody?: ThrottleBody;
  readonly manifold?: Manifold;
}

/** Sets of intake parts beside the present one: of a step that changed them, and of the stages. */
function candidates({ desk, asked }: BuildContext): readonly Candidate[] {
  const before = desk.bench.replay.states[0]!.build;
  const { build } = desk.bench.replay.state;
  const differs = (part: "throttleBody" | "manifold") => JSON.stringify(before[part]) !== JSON.stringify(build[part]);
  const changed = differs("throttleBody") || differs("manifold");
  const stepped: Candidate[] =
    changed && asked.when === "before" ? [{ name: "the parts that the steps put in", ...partsOf(build) }] : [];
  const staged = (asked.state.build.stages ?? []).filter(({ throttleBody, manifold }) => throttleBody || manifold);
  // First the stage that has both: there is the most to compare.
  return [...stepped, ...staged].sort((a, b) => count(b) - count(a));
}

const partsOf = ({ throttleBody, manifold }: Build) => ({
  ...(throttleBody && { throttleBody }),
  ...(manifold && { manifold }),
});
const count = ({ throttleBody, manifold }: Candidate) =>
  Number(throttleBody !== undefined) + Number(manifold !== undefined);

/** Throttle body and manifold apart and together: stock, one alone, the other alone, both. */
export function intakeCompare(context: BuildContext, chosen: number, choose: (at: number) => void) {
  const { desk, asked } = context;
  const { build } = asked.state;
  const all = candidates(context);
  const candidate = all[Math.min(chosen, all.length - 1)];
  if (!candidate || (!build.throttleBody && !build.manifold))
    return html`<p class="quiet">Describe the throttle body or the manifold above, and another one in a stage: then stock, each alone
      and both stand here side by side.</p>`;
  const { throttleBody, manifold } = candidate;
  const sets: readonly (readonly [string, Partial<Build>])[] = [
    ["as it is", {}],
    ...(throttleBody ? [["throttle body alone", { throttleBody }] as const] : []),
    ...(manifold ? [["manifold alone", { manifold }] as const] : []),
    ...(throttleBody && manifold ? [["both", { throttleBody, manifold }] as const] : []),
  ];
  const rpm = rpmsOf(build.engine.revLimitRpm);
  const solved = asked.work(`intake ${all.indexOf(candidate)} ${candidate.name}`, (settings) => {
    const curve = fullLoadEfficiency(settings, cellDemand(settings));
    return sets.map(([, parts]) =>
      solveIntake({
        build: buildOfStage(build, { name: "compared", ...parts }),
        rpm,
        ...(curve && { volumetricEfficiencyPercent: curve }),
      }),
    );
  });
  return html`
    ${
      all.length > 1
        ? html`<div class="row short"><span class="named">Parts of ${helpOn("parts-of", "Parts of")}</span><select aria-label="Parts of" @change=${(event: Event) => choose((event.target as HTMLSelectElement).selectedIndex)}>
            ${all.map(({ name }, at) => html`<option ?selected=${at === all.indexOf(candidate)}>${name}</option>`)}</select></div>`
        : html`<p class="quiet">With the parts of ${candidate.name}.</p>`
    }
    ${
      solved.ok
        ? comparison(
            desk,
            sets.map(([name]) => name),
            solved.value,
          )
        : html`<p class="quiet">${solved.sentence}</p>`
    }`;
}

/** Every 500 rpm from 1,000 up, and the rev limit. */
function rpmsOf(limit: number): number[] {
  const rpms: number[] = [];
  for (let rpm = 1000; rpm < limit; rpm += 500) rpms.push(rpm);
  return [...rpms, limit];
}

function comparison(desk: BuildContext["desk"], names: readonly string[], solutions: readonly IntakeSolution[]) {
  const tops = solutions.map(({ points }) => points.at(-1)!);
  const stock = tops[0]!;
  const series: ChartSeries[] = solutions.map(({ points }, at) => ({
    name: names[at]!,
    points: { x: points.map(({ rpm }) => rpm), y: points.map(({ lossPercent }) => lossPercent) },
  }));
  return html`
    <div class="scroll" tabindex="0" role="group" aria-label="Stock, each part alone and both"><table class="figures wide numbers">
      <caption>At full throttle and ${figure(stock.rpm, 0)} rpm</caption>
      <thead><tr><td></td><th scope="col">air lost</th><th scope="col">at the valve</th><th scope="col">air drawn</th><th scope="col">against now</th></tr></thead>
      <tbody>${tops.map(
        (point, at) => html`<tr><th scope="row">${names[at]}</th><td>${fixed(point.lossPercent, 1)} %</td>
          <td>${say(desk, point.manifoldKpa, "kPa", 1)}</td><td>${fixed(point.airGramsPerSecond, 1)} g/s</td>
          <td>${at === 0 ? "" : sayGain(point.airGramsPerSecond / stock.airGramsPerSecond)}${point.choked ? ", chokes" : ""}</td></tr>`,
      )}</tbody></table></div>
    <fw-line-chart label="Air lost" .x=${{ label: "Engine speed", unit: "rpm" }} .y=${{ label: "Air lost", unit: "%", zero: true }}
      .series=${series} .rules=${[{ axis: "y", at: 5, label: "common practice" }]}></fw-line-chart>
    ${names.length > 3 ? html`<p class="quiet">The two stand in series: the tighter one decides, and a larger one before or behind it gains little.</p>` : nothing}
    ${assumptionList(solutions[0]!.assumptions, "estimated")}`;
}
