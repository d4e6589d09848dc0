import { mixtureResponseRange, readMixture, sayMixture } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure, mixtureName } from "../../store/display.ts";
import { choiceField } from "../table/forms/fields.ts";
import { sayLambda } from "./say.ts";
import { sliderField } from "./slider-field.ts";
import { fuelChoices, type Scene } from "./trial.ts";

/** Which table is tried, where there are several; and why it could not be used. */
export function tableField(scene: Scene): TemplateResult {
  const { tables, table, problem, change } = scene;
  return html`${
    tables.length > 1
      ? choiceField(
          "Table",
          table?.id ?? tables[0]!.id,
          tables.map(({ id, name }) => [id, name] as const),
          (id) => change({ table: id, rpm: null, load: null }),
        )
      : nothing
  }${
    problem
      ? html`<p class="warns">${problem} The air is estimated instead.</p>`
      : table
        ? nothing
        : html`<p class="quiet">The job has no fuel table yet: the air is estimated.</p>`
  }`;
}

export const speedField = (scene: Scene): TemplateResult =>
  sliderField({
    label: "Engine speed",
    explain: "try-speed",
    value: scene.tried.rpm,
    unitText: "rpm",
    decimals: 0,
    min: scene.rpm.from,
    max: scene.rpm.to,
    step: 50,
    say: (rpm) => `${figure(rpm, 0)} rpm`,
    change: (rpm) => scene.change({ rpm }),
  });

/** A load on the table's axis. */
export function loadField(scene: Scene, label: string, value: number, change: (load: number) => void): TemplateResult {
  const unit = scene.loadUnit;
  return sliderField({
    label,
    explain: "try-load",
    value,
    ...(unit === "kPa" ? { unit, desk: scene.desk } : { unitText: unit }),
    decimals: unit === "mg" ? 0 : 1,
    min: scene.load.from,
    max: scene.load.to,
    step: (scene.load.to - scene.load.from) / 160,
    say: (load) => `${figure(load, 1)} ${unit}`,
    change,
  });
}

/** The mixture in the person's way of saying it; rich at the left of the slider in each. */
export function mixtureField(scene: Scene): TemplateResult {
  const { desk, fuel, tried, own, trial, change } = scene;
  const { mixture } = desk.preferences;
  return html`${sliderField({
    label: "Mixture",
    explain: "try-mixture",
    value: tried.mixture.lambda,
    unitText: mixtureName(mixture),
    decimals: mixture === "afr" ? 2 : 3,
    min: mixtureResponseRange[0],
    max: mixtureResponseRange[1],
    step: 0.005,
    shown: {
      show: (lambda) => sayMixture(lambda, mixture, fuel),
      read: (shown) => readMixture(shown, mixture, fuel),
    },
    say: (lambda) => sayLambda(lambda, scene),
    change: (lambda) => change({ lambda }),
  })}
  <button class="word" ?disabled=${trial.lambda === null} @click=${() => change({ lambda: null })}>
    As the table has it: ${sayLambda(own.targetLambda, scene)}</button>`;
}

export function fuelField({ build, fuel, change }: Scene): TemplateResult {
  const choices = fuelChoices(build.fuel);
  return choiceField(
    "Fuel",
    fuel.name,
    choices.map(({ name }) => [name, name === build.fuel.name ? `${name} (the job's)` : name] as const),
    (name) => change({ fuel: name === build.fuel.name ? null : name }),
    "",
    "try-fuel",
  );
}
