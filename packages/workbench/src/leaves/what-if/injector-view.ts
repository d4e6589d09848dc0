import {
  type Build,
  cellDemand,
  checkCeilings,
  createInjector,
  createTable,
  type FuelTable,
  FuelwrightError,
  raiseDemand,
  scaleCells,
} from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import "../../elements/line-chart/line-chart.ts";
import { figure } from "../../store/display.ts";
import { loadField, mixtureField, speedField, tableField } from "./common-fields.ts";
import { remembered } from "./curves.ts";
import { explain, figures } from "./explain.ts";
import { mixtureAxis, percent, sayLambda } from "./say.ts";
import { sliderField } from "./slider-field.ts";
import type { Scene } from "./trial.ts";

const HIGHEST = 3;

/** Raise demand until an injector no longer closes, and see the mixture go lean while the commanded one stays. */
export function injectorView(scene: Scene): TemplateResult {
  const { trial, build, change, tried } = scene;
  const smaller = withFlow(build, trial.flowPercent);
  const { lambda } = tried.mixture;
  const run = raiseDemand({
    build: smaller,
    rpm: tried.rpm,
    pressureKpa: tried.pressureKpa,
    massMg: tried.askedMg,
    lambda,
    highest: HIGHEST,
    at: trial.demand,
  });
  const { chosen } = run;
  const x = run.demand.map((factor) => factor * 100);
  const axis = { label: "Demand", unit: "% of now", domain: [50, HIGHEST * 100] as const };
  const { axis: mixture, show } = mixtureAxis(scene, [0.65, 1.3]);
  const mark = { x: trial.demand * 100 };
  const beyond = (from: number | null, label: string) =>
    from === null ? [] : [{ axis: "x" as const, from: from * 100, to: HIGHEST * 100, label }];
  return html`<div class="bench">
    <section class="sheet set" aria-label="What is tried">
      <h2>Too small an injector</h2>
      ${tableField(scene)}
      ${sliderField({
        label: "Demand",
        explain: "try-demand",
        value: trial.demand,
        unitText: "% of now",
        decimals: 0,
        min: 0.5,
        max: HIGHEST,
        step: 0.01,
        shown: { show: (factor) => factor * 100, read: (shown) => shown / 100 },
        say: (factor) => `${figure(factor * 100, 0)} % of now`,
        change: (demand) => change({ demand }),
      })}
      ${sliderField({
        label: "Injector",
        explain: "try-injector",
        value: trial.flowPercent,
        unitText: "% of the job's",
        decimals: 0,
        min: 40,
        max: 150,
        step: 1,
        say: (value) => `${figure(value, 0)} % of the job's flow`,
        change: (flowPercent) => change({ flowPercent }),
      })}
      <p class="quiet">${build.injectors.name}: ${figure(smaller.injectors.flowGramsPerSecond, 3)} g/s at ${figure(smaller.injectors.ratedPressureKpa, 0)} kPa${
        trial.flowPercent === 100 ? "" : ", changed for this trial only"
      }.</p>
      <hr />
      ${speedField(scene)} ${loadField(scene, "Load", tried.load, (load) => change({ load }))} ${mixtureField(scene)}
    </section>
    <div>
      <div class="verdict" role="status">${verdict(scene, run).map((sentence) => html`<p>${sentence}</p>`)}</div>
      ${figures("At this demand", [
        ["fuel asked for", `${figure(chosen.askedMg, 1)} mg`],
        ["fuel that arrives", `${figure(chosen.deliveredMg, 1)} mg`],
        ["pulse", `${figure(chosen.pulseMs, 2)} ms`, `of ${figure(tried.cycleMs, 1)} ms`],
        ["duty", percent(chosen.duty), chosen.duty >= 1 ? "never closes" : ""],
        ["commanded", sayLambda(lambda, scene)],
        ["in the cylinder", sayLambda(chosen.deliveredLambda, scene)],
      ])}
      <div class="charts">
        <fw-line-chart label="Mixture" style="--fw-chart-height: 180px" no-x-figures .x=${axis} .y=${{ label: mixture.label, leastSpan: 0.1 }} .mark=${mark}
          .ranges=${beyond(run.staticFrom, "never closes")}
          .series=${[
            { name: "in the cylinder", points: { x, y: run.deliveredLambda.map(show) } },
            { name: "commanded", points: { x, y: run.demand.map(() => show(lambda)) } },
          ]}></fw-line-chart>
        <fw-line-chart label="Duty" style="--fw-chart-height: 130px" .x=${axis} .y=${{ label: "Duty", unit: "%", zero: true }} .mark=${mark}
          .ranges=${beyond(run.staticFrom, "never closes")}
          .rules=${[{ axis: "y", at: build.planning.dutyPercent, label: "planning ceiling" }]}
          .series=${[{ name: "duty", points: { x, y: run.duty.map((share) => 100 * Math.min(1, share)) } }]}></fw-line-chart>
      </div>
      ${wholeTable(scene, smaller)}
      <div class="whys">
        ${explain({
          title: "Why it goes lean",
          text: `A cycle at ${figure(tried.rpm, 0)} rpm lasts ${figure(tried.cycleMs, 1)} ms. A pulse longer than that has no time to end: the injector stays open and gives what it can, whatever the table says. The controller believes its own figure; only a wideband shows the other.`,
          source:
            "injector flow by Bernoulli, duty by arithmetic; the planning ceiling of 80 to 85 % is common practice.",
          leavesOut: "a pump or regulator that gives out first, and hot, foaming fuel.",
        })}
        ${explain({
          title: "Why it jumps rich for a moment",
          text: "Each opening loses its dead time. An injector that no longer closes loses none, so that at the very edge a little more arrives than was asked for. From there on nothing is added.",
          source: "the definition of dead time.",
          leavesOut:
            "that close to the edge real injectors close late and irregularly: why nobody plans above the ceiling.",
        })}
      </div>
    </div>
  </div>`;
}

const withFlow = remembered((build: Build, percentOfOwn: number): Build => {
  if (percentOfOwn === 100) return build;
  const flow = (build.injectors.flowGramsPerSecond * percentOfOwn) / 100;
  return { ...build, injectors: createInjector({ ...build.injectors, flowGramsPerSecond: flow }) };
});

function verdict(scene: Scene, run: ReturnType<typeof raiseDemand>): string[] {
  const { chosen, planningFrom, staticFrom, leanFrom } = run;
  const { planning } = scene.build;
  const commanded = scene.tried.mixture.lambda;
  const limit = (from: number | null) => (from === null ? null : `${figure(from * 100, 0)} % of now`);
  if (chosen.duty >= 1 && chosen.deliveredLambda > commanded)
    return [
      `The injectors never close. Commanded is ${sayLambda(commanded, scene)}; in the cylinder it is ${sayLambda(chosen.deliveredLambda, scene)}.`,
      `It goes lean from a demand of ${limit(leanFrom)}. No figure in the table can help: larger injectors, more pressure, or less air can.`,
    ];
  if (chosen.duty >= 1)
    return [
      "The injectors have just stopped closing: a little more arrives than is asked for, and from here on nothing is added.",
    ];
  if (chosen.duty > planning.dutyPercent / 100)
    return [
      `Above the planning ceiling of ${figure(planning.dutyPercent, 0)} %, and still in control. Nothing is left for a cold day or a low battery.`,
    ];
  if (staticFrom === null)
    return [
      planningFrom === null
        ? `These injectors are large enough for ${figure(HIGHEST, 0)} times the demand. Make them smaller, or raise the engine speed.`
        : `The planning ceiling is reached at ${limit(planningFrom)}; they close up to ${figure(HIGHEST * 100, 0)} % of now.`,
    ];
  return [
    `In hand. The planning ceiling comes at ${limit(planningFrom)}, the end at ${limit(staticFrom)}. Raise the demand.`,
  ];
}

/** How the whole table fares with this demand and these injectors. */
function wholeTable(scene: Scene, smaller: Build) {
  const { table, trial, desk, build } = scene;
  if (!table) return nothing;
  const { roles } = desk.job;
  const { tables } = desk.shown;
  const target = roles.target === undefined ? undefined : tables[roles.target];
  const base = roles.basePulse === undefined ? undefined : tables[roles.basePulse];
  const found = ceilingsAt(build, smaller, table, target, base, trial.demand);
  if (found === null) return nothing;
  const { cells, notClosing, leanest } = found;
  return html`<p class="quiet" style="margin-top: var(--space-3)">Over the whole table at this demand ${
    notClosing === 0 ? `no cell of ${cells} is static.` : `${notClosing} of ${cells} cells are static.`
  } ${leanest ? `The leanest gets ${sayLambda(leanest.lambda, scene)} instead of ${sayLambda(leanest.wanted, scene)}, at ${leanest.place}.` : ""}</p>`;
}

const ceilingsAt = remembered(
  (
    build: Build,
    smaller: Build,
    table: FuelTable,
    target: FuelTable | undefined,
    basePulse: FuelTable | undefined,
    demand: number,
  ) => {
    try {
      const settings = { build, table, ...(target && { target }), ...(basePulse && { basePulse }) };
      const asked = cellDemand(settings);
      const { storage: _, ...rest } = table;
      const masses = createTable({ ...rest, quantity: "fuel-mass", unit: "mg", cells: asked.askedMg, locked: [] });
      const raised = scaleCells(masses, { factor: demand });
      const report = checkCeilings({
        build: smaller,
        table: raised,
        target: target ?? 1,
        manifoldKpa: asked.manifoldKpa,
      });
      const wanted = report.demand.lambda!;
      const columns = table.rpm.breakpoints.length;
      let worst = -1;
      report.deliveredLambda!.forEach((lambda, at) => {
        const off = lambda / wanted[at]!;
        if (off > 1 + 1e-9 && (worst < 0 || off > report.deliveredLambda![worst]! / wanted[worst]!)) worst = at;
      });
      const leanest =
        worst < 0
          ? null
          : {
              lambda: report.deliveredLambda![worst]!,
              wanted: wanted[worst]!,
              place: `${figure(table.rpm.breakpoints[worst % columns]!, 0)} rpm`,
            };
      const notClosing = report.ceilings.find(({ kind }) => kind === "static")?.cells.length ?? 0;
      return { cells: table.cells.length, notClosing, leanest };
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return null;
    }
  },
);
