import { html, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { type FigureField, numberField } from "../table/forms/fields.ts";

/** A figure that can be typed or dragged. */
export interface SliderField extends Omit<FigureField, "clear"> {
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** How the slider's value is read out. */
  say(value: number): string;
  /** The figure in the field, where it is said otherwise than the slider's value: a mixture, percent. */
  readonly shown?: { readonly show: (value: number) => number; readonly read: (shown: number) => number };
}

/** A number field with a slider under it; both do the same. */
export function sliderField(field: SliderField): TemplateResult {
  const { value, min, max, step, label, shown, change } = field;
  const show = shown?.show ?? ((v: number) => v);
  const ends = [show(min), show(max)].sort((a, b) => a - b) as [number, number];
  return html`<div class="slide">
    ${numberField({
      ...field,
      value: show(value),
      min: ends[0],
      max: ends[1],
      change: (typed) => change(shown ? shown.read(typed) : typed),
    })}
    <input type="range" aria-label="${label}, slider" min=${min} max=${max} step=${step} .value=${live(String(value))}
      aria-valuetext=${field.say(value)}
      @input=${(event: Event) => change((event.target as HTMLInputElement).valueAsNumber)} />
  </div>`;
}
