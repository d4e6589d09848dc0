import type { Comparison, SettingsOf, SmoothingDescription } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { figure, percentChange } from "../../../store/display.ts";
import type { HelpId } from "../../field-help.ts";
import { helpOn } from "../../help-on.ts";
import { displayOf, onTable, selected } from "./edit-forms.ts";
import { choiceField, numberField } from "./fields.ts";
import { defineForm } from "./step-form.ts";

type Smooth = SettingsOf<"smooth-cells">;

/** The slider's ends as powers of ten; its left end is no smoothing at all. */
const WEAKEST = -2;
const STRONGEST = 5;

const toStrength = (power: number) => (power <= WEAKEST ? 0 : 10 ** power);
const toPower = (strength: number) =>
  strength <= 0 ? WEAKEST : Math.max(WEAKEST, Math.min(STRONGEST, Math.log10(strength)));

export const smoothForm = defineForm({
  kind: "smooth-cells",
  title: "Smooth",
  about: "Takes bumps out and leaves slopes as they are; uneven spacing of the axes counts.",
  group: "cells",
  hasRegion: true,
  start: onTable((_, desk): Smooth => ({ ...selected(desk), rpmStrength: 1, loadStrength: 1 })),
  fields({ desk, settings, change }) {
    const { strength, rpmStrength, loadStrength, ...rest } = settings;
    const auto = strength === "auto";
    const rpm = rpmStrength ?? (typeof strength === "number" ? strength : 1);
    const load = loadStrength ?? (typeof strength === "number" ? strength : 1);
    const display = displayOf(desk, desk.table!);
    return html`
      ${choiceField(
        "How strongly",
        auto ? "auto" : "hand",
        [
          ["hand", "set by hand"],
          ["auto", "as the table asks"],
        ],
        (how) => change(how === "auto" ? { ...rest, strength: "auto" } : { ...rest, rpmStrength: 1, loadStrength: 1 }),
        auto ? "Found by generalised cross-validation: what leaves out one cell best foretells it." : "",
        "smooth-how",
      )}
      ${
        auto
          ? nothing
          : html`${slider("Along rpm", "smooth-rpm", rpm, (value) => change({ ...rest, rpmStrength: value, loadStrength: load }))}
              ${
                desk.table!.load.quantity === "single-row"
                  ? nothing
                  : slider("Along load", "smooth-load", load, (value) =>
                      change({ ...rest, rpmStrength: rpm, loadStrength: value }),
                    )
              }`
      }
      ${
        settings.region
          ? choiceField(
              "Around the selection",
              settings.hold ?? "rim",
              [
                ["rim", "the rim is held"],
                ["locked", "cells around count too"],
              ],
              (hold) => change({ ...settings, hold }),
              "",
              "smooth-hold",
            )
          : nothing
      }
      ${
        settings.region
          ? choiceField(
              "What selected cells say now",
              String(settings.weights?.[0]?.weight ?? 1),
              [
                ["1", "counts in full"],
                ["0.2", "counts little"],
                ["0", "does not count: filled in"],
              ],
              (weight) => {
                const { weights: _, ...others } = settings;
                change(
                  weight === "1"
                    ? others
                    : { ...others, weights: [{ region: settings.region!, weight: Number(weight) }] },
                );
              },
              "",
              "smooth-weight",
            )
          : nothing
      }
      ${numberField({
        label: "No cell moves more than",
        explain: "most-change",
        value: settings.mostChange ?? null,
        unitText: display.unit === desk.table!.unit ? display.unit : desk.table!.unit,
        decimals: 3,
        min: 0,
        hint: settings.mostChange === undefined ? "Empty: no limit." : "",
        change: (mostChange) => change({ ...settings, mostChange }),
        clear: () => {
          const { mostChange: _, ...others } = settings;
          change(others);
        },
      })}`;
  },
  outcome({ desk, report }) {
    const found = report as { smoothing: SmoothingDescription; comparison: Comparison } | undefined;
    if (!found) return null;
    const { smoothing, comparison } = found;
    const { unit } = desk.table!;
    const rise = comparison.largestRise?.absolute ?? 0;
    const fall = comparison.largestFall?.absolute ?? 0;
    const most = Math.abs(fall) > rise ? comparison.largestFall : comparison.largestRise;
    return html`
      <p>${
        most
          ? html`${comparison.changed} cells move, by at most ${figure(Math.abs(most.absolute), 3)} ${unit}
              (${figure(most.rpm)} rpm, ${figure(most.load)}), ${figure(comparison.meanChange, 4)} ${unit} in the mean.`
          : "No cell moves."
      } Roughness ${figure(comparison.roughness.before, 4)} before, ${figure(comparison.roughness.after, 4)} after
      (${percentChange(comparison.roughness.before, comparison.roughness.after)}).</p>
      <p class="quiet">Strength ${figure(smoothing.rpmStrength, 3)} along rpm, ${figure(smoothing.loadStrength, 3)} along load.
        ${smoothing.held ? `${smoothing.held} cells stand fast.` : ""} ${smoothing.keepsMean ? "The mean of the table is kept." : ""}</p>`;
  },
});

/** A strength on a slider of powers of ten, shown while it is dragged. */
function slider(label: string, explain: HelpId, strength: number, change: (strength: number) => void) {
  return html`<div class="row"><span class="named">${label} ${helpOn(explain, label)}</span>
    <span><input type="range" aria-label=${label} min=${WEAKEST} max=${STRONGEST} step="0.1" style="width: 96px; vertical-align: middle" .value=${String(toPower(strength))}
      aria-valuetext=${figure(strength, 2)}
      @input=${(event: Event) => change(toStrength((event.target as HTMLInputElement).valueAsNumber))} />
      <span style="display: inline-block; width: 44px; text-align: right">${figure(strength, strength < 10 ? 2 : 0)}</span></span></div>`;
}
