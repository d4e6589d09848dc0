import type { ColourScheme } from "@fuelwright/table-core";
import { html } from "lit";
import { styleMap } from "lit/directives/style-map.js";
import { changeColours, type Ground } from "../../colour/change-colours.ts";
import { type Preset, presets } from "../../colour/presets.ts";
import { rampGradient } from "../../colour/ramp-gradient.ts";

/** The presets as buttons: a small ramp, the name, and what it is for. The one in use is pressed. */
export function renderPresets(scheme: ColourScheme, ground: Ground, pick: (preset: Preset) => void) {
  return html`<ul class="presets">
    ${presets.map((preset) => {
      const colours = changeColours(preset.scheme, { ...ground, span: { less: 1, more: 1 } });
      return html`<li>
        <button type="button" aria-pressed=${isUsed(preset, scheme)} @click=${() => pick(preset)}>
          <i class="ramp" style=${styleMap({ backgroundImage: rampGradient(colours) })}></i>
          <b>${preset.scheme.name}</b> <span>${preset.purpose}</span>
        </button>
      </li>`;
    })}
  </ul>`;
}

/** Whether a scheme has the preset's colours; the span is the tuner's own. */
function isUsed({ scheme: own }: Preset, scheme: ColourScheme): boolean {
  return (["less", "middle", "more", "steps"] as const).every((key) => own[key] === scheme[key]);
}
