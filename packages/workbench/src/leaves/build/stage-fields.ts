import { type AirCurvePoint, type FuelSpec, fuels, type Stage } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { injectorFields } from "../injector-fields.ts";
import { choiceField } from "../table/forms/fields.ts";
import { injectorForm } from "../table/forms/injector-form.ts";
import { displacementForm, fuelForm, intakeForm } from "../table/forms/part-forms.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { manifoldFields } from "./manifold-fields.ts";
import { pumpFields } from "./pump-part.ts";
import { textField } from "./say.ts";
import { stepLink } from "./step-link.ts";
import { throttleFields } from "./throttle-fields.ts";

/** What an empty part of a stage means. */
const OF_THE_BUILD = "that of the build counts.";

/** The fields of one stage: only what differs from the build is given. */
export function stageFields(context: BuildContext, at: number, stage: Stage, put: (stage: Stage) => void) {
  const { editor } = context;
  const { build } = editor;
  const path = `stages[${at}]`;
  const set = <K extends keyof Stage>(key: K, value: Stage[K] | undefined) =>
    put(value === undefined ? (without(stage, key) as Stage) : { ...stage, [key]: value });
  const optional = (key: "displacementCc" | "revLimitRpm") => ({
    value: stage[key] ?? null,
    change: (value: number) => set(key, value),
    clear: () => set(key, undefined),
  });
  return html`<div class="fields">
      <div>
        ${textField("Name of the stage", stage.name, (name) => set("name", name))}
        ${textField("What it is about", stage.note ?? "", (note) => set("note", note || undefined), 2000)}
        ${editor.figure(`${path}.displacementCc`, { label: "Displacement of the stage", unit: "cc", decimals: 0, hint: stage.displacementCc === undefined ? `Empty: ${build.engine.displacementCc} cc.` : "", ...optional("displacementCc") })}
        ${editor.figure(`${path}.revLimitRpm`, { label: "Rev limit of the stage", unitText: "rpm", decimals: 0, hint: stage.revLimitRpm === undefined ? `Empty: ${build.engine.revLimitRpm} rpm.` : "", ...optional("revLimitRpm") })}
        ${fuelChoice(stage, (fuel) => set("fuel", fuel))}
        ${editor.figure(`${path}.rail.pressureKpa`, {
          label: "Rail pressure of the stage",
          value: stage.rail?.pressureKpa ?? null,
          unit: "kPa",
          decimals: 0,
          hint: stage.rail ? "" : `Empty: ${build.rail.pressureKpa} kPa.`,
          change: (pressureKpa) => set("rail", { ...build.rail, ...stage.rail, pressureKpa }),
          clear: () => set("rail", undefined),
        })}
        ${airCurve(stage, (curve) => set("airCurve", curve))}
      </div>
      <section aria-label="Throttle body of the stage"><h3 class="first">Throttle body</h3>
        ${throttleFields(context, `${path}.throttleBody`, stage.throttleBody, (body) => set("throttleBody", body), OF_THE_BUILD)}</section>
      <section aria-label="Manifold of the stage"><h3 class="first">Manifold</h3>
        ${manifoldFields(context, `${path}.manifold`, stage.manifold, (manifold) => set("manifold", manifold), OF_THE_BUILD)}</section>
      <section aria-label="Pump of the stage"><h3 class="first">Pump</h3>
        ${pumpFields(context, `${path}.pump`, stage.pump, (pump) => set("pump", pump), OF_THE_BUILD)}</section>
      <section aria-label="Injectors of the stage"><h3 class="first">Injectors</h3>
        ${
          stage.injectors
            ? html`${injectorFields(context.desk, stage.injectors, build.fuel, (injectors) => set("injectors", injectors))}
                <div><button class="word" @click=${() => set("injectors", undefined)}>Take these injectors out</button></div>`
            : html`<p class="quiet">Those of the build.</p>
                <button class="word" @click=${() => set("injectors", { ...context.asked.state.build.injectors, name: `for ${stage.name}`.slice(0, 100) })}>Give it other injectors</button>`
        }</section>
    </div>
    ${editor.sentence(path)}
    ${carryOver(context, stage)}`;
}

/** A step for each part of the stage that the table depends on. */
function carryOver(context: BuildContext, { injectors, throttleBody, manifold, displacementCc, fuel }: Stage) {
  const { build } = context.asked.state;
  const intake = (throttleBody || manifold) && {
    ...((throttleBody ?? build.throttleBody) && { throttleBody: throttleBody ?? build.throttleBody }),
    ...((manifold ?? build.manifold) && { manifold: manifold ?? build.manifold }),
  };
  const links = [
    injectors && stepLink(context, injectorForm, "its injectors", { to: injectors }),
    intake && stepLink(context, intakeForm, "its intake", { to: intake }),
    displacementCc !== undefined && stepLink(context, displacementForm, "its displacement", { toCc: displacementCc }),
    fuel && stepLink(context, fuelForm, "its fuel", { to: fuel }),
  ].filter(Boolean);
  return links.length === 0
    ? nothing
    : html`<div class="words"><span class="quiet">Carry the table over to</span> ${links}</div>`;
}

function fuelChoice({ fuel }: Stage, put: (fuel: FuelSpec | undefined) => void) {
  const names = Object.values(fuels).map(({ name }) => name);
  const other = fuel && !names.includes(fuel.name) ? [fuel.name] : [];
  return choiceField(
    "Fuel of the stage",
    fuel?.name ?? "",
    ["", ...names, ...other].map((name) => [name, name || "that of the build"] as const),
    (name) => put(Object.values(fuels).find((preset) => preset.name === name)),
  );
}

/** What a cam, head or exhaust is expected to do to the air, as points over rpm. */
function airCurve({ airCurve: curve, revLimitRpm }: Stage, put: (curve: readonly AirCurvePoint[] | undefined) => void) {
  if (!curve)
    return html`<button class="word" @click=${() =>
      put(
        [2000, revLimitRpm ?? 6000].map((rpm) => ({ rpm, factor: 1 })),
      )}>Draw what a cam, head or exhaust does</button>`;
  const swap = (at: number, part: Partial<AirCurvePoint>) =>
    put(curve.map((point, other) => (other === at ? { ...point, ...part } : point)));
  const cell = (at: number, key: keyof AirCurvePoint, label: string) =>
    html`<td><input type="number" step="any" aria-label="${label}, point ${at + 1} of the air curve" .value=${String(curve[at]![key])}
      @change=${(event: Event) => {
        const input = event.target as HTMLInputElement;
        swap(at, { [key]: input.valueAsNumber });
        input.value = String(curve[at]![key]);
      }} /></td>`;
  const last = curve.at(-1)!;
  return html`<table class="points" aria-label="Air curve">
      <thead><tr><th scope="col">at rpm</th><th scope="col">times the air</th><td></td></tr></thead>
      <tbody>${curve.map(
        (_, at) => html`<tr>${cell(at, "rpm", "Speed")}${cell(at, "factor", "Air")}
          <td><button class="word" aria-label="Take out point ${at + 1} of the air curve" ?disabled=${curve.length < 2}
            @click=${() => put(curve.toSpliced(at, 1))}>take out</button></td></tr>`,
      )}</tbody></table>
    <p class="quiet">A guess that is drawn, not measured: every figure of the stage moves with it.</p>
    <div class="words"><button class="word" @click=${() => put([...curve, { ...last, rpm: last.rpm + 500 }])}>Add a point</button>
      <button class="word" @click=${() => put(undefined)}>Take the curve out</button></div>`;
}
