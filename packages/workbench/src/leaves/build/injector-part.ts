import {
  checkStep,
  type DemandSettings,
  type InjectorSpec,
  type Region,
  type Step,
  sizeInjectors,
} from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { addStep, changeStep, makeStep } from "../../store/commands.ts";
import { injectorFields } from "../injector-fields.ts";
import { injectorForm } from "../table/forms/injector-form.ts";
import { assumptionList } from "./assumptions.ts";
import type { BuildContext } from "./context.ts";
import { lookAtCells } from "./look-at-cells.ts";
import { help, say } from "./say.ts";
import { stepLink } from "./step-link.ts";

type InjectorStep = Extract<Step, { kind: "rescale-for-injectors" }>;

/** The injectors that are asked, in a few words. */
export function injectorWords({ desk, asked }: BuildContext): string {
  const { name, flowGramsPerSecond, ratedPressureKpa } = asked.state.build.injectors;
  const flow = say(desk, flowGramsPerSecond, "g/s", 2, asked.state.build.fuel);
  return `${name}, ${flow} at ${say(desk, ratedPressureKpa, "kPa", 0)}`;
}

/** The injectors that come out and those that go in, and the sizes that would do. */
export function injectorPart(context: BuildContext) {
  const { desk, editor } = context;
  const { build } = editor;
  return html`<div class="fields">
      <section aria-label="Injectors going out"><h3 class="first">Going out</h3>
        <p class="quiet">What the table was made for.</p>
        ${injectorFields(desk, build.injectors, build.fuel, (injectors) => editor.putParts({ injectors }, "the injectors going out"))}
        ${editor.sentence("injectors")}
      </section>
      ${goingIn(context)}
      ${sizing(context)}
    </div>`;
}

function goingIn(context: BuildContext) {
  const { desk } = context;
  const step = desk.job.steps.findLast((other): other is InjectorStep => other.kind === "rescale-for-injectors");
  if (!step)
    return html`<section aria-label="Injectors going in"><h3 class="first">Going in</h3>
      <p class="quiet">None yet: the injectors stay as they are.</p>
      <div class="do"><button @click=${() => beginChange(context)}>Change the injectors</button></div>
      <p class="quiet">Then the table is carried over, and the step can be opened from here.</p></section>`;
  const { fuel } = desk.bench.stateBefore(step.id).build;
  return html`<section aria-label="Injectors going in"><h3 class="first">Going in</h3>
    <p class="quiet">Step ${desk.job.steps.indexOf(step) + 1}${step.on ? "" : ", switched off"}; the table follows each figure.</p>
    ${injectorFields(desk, step.settings.to as InjectorSpec, fuel, (to) => {
      desk.attempt(() => {
        const changed = checkStep({ ...step, settings: { ...step.settings, to } });
        desk.perform(changeStep(changed, "Change the injectors going in"));
      });
    })}
    <div class="words">${stepLink(context, injectorForm, "Carry the table over")}</div></section>`;
}

function beginChange({ desk }: BuildContext) {
  const start = injectorForm.start(desk);
  if (typeof start === "string") {
    desk.say(`${start} The injectors going in are then given with the step.`, "refused");
    return;
  }
  desk.perform(
    addStep(makeStep(desk.job, "rescale-for-injectors", undefined, start.settings as never), "Change the injectors"),
  );
}

/** The window of sizes, the cells that set it, and more rail pressure in the place of other injectors. */
function sizing(context: BuildContext) {
  const { editor, asked } = context;
  const { planning } = editor.build;
  const size = asked.work("injector sizing", (settings) => {
    const idleRegion = idleOf(settings);
    return sizeInjectors({ ...settings, ...(idleRegion && { idleRegion }) });
  });
  return html`<section aria-label="Size of injectors"><h3 class="first">Size</h3>
    ${editor.figure("planning.dutyPercent", {
      label: "Planning ceiling, duty",
      value: planning.dutyPercent,
      unitText: "%",
      decimals: 0,
      hint: "80 to 85 % is common practice.",
      help: help(
        "Planning ceiling, duty",
        "Most of the cycle that an injector may be open, with something left for heat, low voltage and wear.",
        "80 to 85 % is common practice",
      ),
      change: (dutyPercent) => editor.putParts({ planning: { dutyPercent } }, "the planning ceiling"),
    })}
    ${editor.sentence("planning")}
    ${size.ok ? sizeWindow(context, size.value) : html`<p class="quiet">${size.sentence}</p>`}
  </section>`;
}

/** The columns up to idle, if the table has some. */
function idleOf({ build, table }: DemandSettings): Region | null {
  const { idleRpm } = build.engine;
  const lowest = table.rpm.breakpoints[0]!;
  return idleRpm !== undefined && lowest <= idleRpm ? { rpm: [lowest, idleRpm] } : null;
}

function sizeWindow(
  { desk, asked }: BuildContext,
  { smallest, largest, fits, sentence, rail, assumptions, basis }: ReturnType<typeof sizeInjectors>,
) {
  const { fuel } = asked.state.build;
  const row = (name: string, end: typeof smallest, why: string) =>
    end
      ? html`<tr><th scope="row">${name}</th><td>${say(desk, end.flowGramsPerSecond, "g/s", 2, fuel)}</td>
          <td><button class="word" @click=${() => lookAtCells(desk, asked, [end.cell])}>${why}</button></td></tr>`
      : nothing;
  return html`${fits ? nothing : html`<div class="warns">${sentence}</div>`}
    <table class="figures" aria-label="Sizes that do"><tbody>
      ${row("smallest", smallest, smallest ? `full load at ${smallest.cell.rpm} rpm` : "")}
      ${row("largest", largest, largest ? `shortest pulse at ${largest.cell.rpm} rpm` : "")}
    </tbody></table>
    <p class="quiet">Rated as the present ones are. Larger than needed costs idle${
      idleOf(asked.settings!) ? "" : ": without an idle speed every cell that asks for fuel counts for the largest"
    }.</p>
    ${rail ? html`<div class="warns">${rail.sentence}</div>` : nothing}
    ${assumptionList(assumptions, basis)}`;
}
