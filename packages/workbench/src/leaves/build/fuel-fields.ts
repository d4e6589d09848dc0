import {
  blendFuel,
  type Composition,
  type Fuel,
  type FuelSpec,
  fuels,
  stoichiometricRatio,
} from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { figure } from "../../store/display.ts";
import { choiceField, numberField } from "../table/forms/fields.ts";
import { fuelForm } from "../table/forms/part-forms.ts";
import { attempt } from "./asked.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { fixed, help, textField } from "./say.ts";
import { stepLink } from "./step-link.ts";

const presets = Object.values(fuels);

const ratio = (fuel: Fuel) => `${fixed(fuel.stoichiometricRatio, 2)} : 1`;

/** What the fuel is, in a few words. */
export const fuelWords = ({ editor: { build } }: BuildContext): string =>
  `${build.fuel.name}, ${ratio(build.fuel)}, ${fixed(build.fuel.densityKgPerL, 3)} kg/L`;

/** The share of ethanol that a blend's name says, or null. */
function ethanolShare({ name }: Fuel): number | null {
  if (name === fuels.petrol.name) return 0;
  const match = /^E(\d+(?:\.\d+)?)$/.exec(name);
  return match ? Number(match[1]) : null;
}

/** The fields of the fuel: a preset, a share of ethanol, its figures, or its composition. */
export function fuelFields(context: BuildContext) {
  const { desk, editor } = context;
  const { fuel } = editor.build;
  const putFuel = (next: FuelSpec) => editor.putParts({ fuel: next }, "the fuel");
  const named = (next: FuelSpec): FuelSpec =>
    // A preset that was changed is no longer that preset.
    presets.some(({ name }) => name === next.name) ? { ...next, name: `${next.name}, own figures` } : next;
  const put = (part: Partial<Fuel>) => putFuel(named({ ...fuel, ...part }));
  const names = presets.map(({ name }) => [name, name] as const);
  const known = presets.some(({ name }) => name === fuel.name);
  const optional = (key: "lowerHeatingValueMjPerKg" | "latentHeatKjPerKg") => ({
    value: fuel[key] ?? null,
    change: (value: number) => put({ [key]: value }),
    clear: () => putFuel(named(without(fuel, key) as FuelSpec)),
  });
  return html`<div class="fields"><div>
      ${choiceField("Fuel", fuel.name, known ? names : [...names, [fuel.name, fuel.name] as const], (name) => {
        const preset = presets.find((other) => other.name === name);
        if (preset) putFuel(preset);
      })}
      ${numberField({
        label: "Ethanol in petrol",
        value: ethanolShare(fuel),
        unitText: "% vol",
        decimals: 1,
        min: 0,
        max: 100,
        help: help(
          "Ethanol in petrol",
          "Share by volume, as pumps say it; ratio, density and heats of the blend are worked out by mass.",
          "properties of pure ethanol and a nominal petrol",
        ),
        change: (ethanolVolumePercent) => putFuel(blendFuel({ ethanolVolumePercent })),
        clear: () => desk.say("Give a share from 0 to 100 %, or choose a fuel.", "refused"),
      })}
      ${textField("Name of the fuel", fuel.name, (name) => putFuel({ ...fuel, name }), 60)}
      <p class="quiet">${cautionOf(fuel)}</p>
    </div><div>
      ${editor.figure("fuel.stoichiometricRatio", {
        label: "Stoichiometric ratio",
        value: fuel.stoichiometricRatio,
        unitText: ": 1",
        decimals: 2,
        hint: ratioHint(fuel),
        help: help(
          "Stoichiometric ratio",
          "Kilograms of air to a kilogram of fuel at lambda 1.",
          "follows from the composition",
        ),
        change: (stoichiometricRatio) => put({ stoichiometricRatio }),
      })}
      ${editor.figure("fuel.densityKgPerL", { label: "Density", explain: "density", value: fuel.densityKgPerL, unitText: "kg/L", decimals: 3, hint: "At about 15 °C.", change: (densityKgPerL) => put({ densityKgPerL }) })}
      ${editor.figure("fuel.lowerHeatingValueMjPerKg", { label: "Heating value, lower", explain: "heating-value", unitText: "MJ/kg", decimals: 1, hint: fuel.lowerHeatingValueMjPerKg === undefined ? "Empty: that of petrol, for the power estimate." : "", ...optional("lowerHeatingValueMjPerKg") })}
      ${editor.figure("fuel.latentHeatKjPerKg", { label: "Latent heat", explain: "latent-heat", unitText: "kJ/kg", decimals: 0, hint: fuel.latentHeatKjPerKg === undefined ? "Empty: charge cooling is not shown." : "", ...optional("latentHeatKjPerKg") })}
    </div><div>${compositionFields(editor, fuel, putFuel)}</div></div>
    ${editor.sentence("fuel")}
    <div class="words">${stepLink(context, fuelForm, "Carry the table over to another fuel")}</div>`;
}

/** Atoms of the fuel; a change of them gives the ratio anew. */
function compositionFields(editor: BuildContext["editor"], fuel: Fuel, putFuel: (fuel: FuelSpec) => void) {
  const { composition } = fuel;
  if (!composition)
    return html`<button class="word" @click=${() =>
      putFuel({ ...fuel, composition: { ...fuels.petrol.composition! } })}>Give its composition</button>`;
  const put = (part: Partial<Composition>) => {
    const name = presets.some((preset) => preset.name === fuel.name) ? `${fuel.name}, own composition` : fuel.name;
    putFuel({ ...without(fuel, "stoichiometricRatio"), name, composition: { ...composition, ...part } });
  };
  const atom = (key: keyof Composition, label: string) =>
    editor.figure(`fuel.composition.${key}`, {
      label,
      value: composition[key],
      unitText: "atoms",
      decimals: 3,
      change: (value) => put({ [key]: value }),
    });
  return html`<h3 class="first">Composition</h3>
    ${atom("carbon", "Carbon")} ${atom("hydrogen", "Hydrogen")} ${atom("oxygen", "Oxygen")}
    <p class="quiet">Atoms of a molecule, or their proportions. The stoichiometric ratio follows.</p>
    <button class="word" @click=${() => putFuel(without(fuel, "composition"))}>Take the composition out</button>`;
}

function ratioHint({ composition, stoichiometricRatio: given }: Fuel): string {
  const follows = composition && attempt(() => stoichiometricRatio(composition));
  if (!follows?.ok) return "";
  return Math.abs(follows.value - given) < 0.005
    ? "Computed from the composition."
    : `Given; its composition says ${figure(follows.value, 2)}.`;
}

function cautionOf({ name }: Fuel) {
  const alcohol = /methanol/i.test(name);
  return html`Fuel vapour burns: no flame, no sparks, an extinguisher at hand when the fuel side is open.${
    alcohol ? html` Methanol is poisonous, through the skin too, and its flame is hard to see.` : nothing
  }`;
}
