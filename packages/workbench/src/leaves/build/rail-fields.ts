import { html } from "lit";
import { choiceField } from "../table/forms/fields.ts";
import type { BuildContext } from "./context.ts";
import { help, say } from "./say.ts";

/** What keeps the pressure, in a few words. */
export const railWords = ({ desk, editor: { build } }: BuildContext): string =>
  `${say(desk, build.rail.pressureKpa, "kPa", 0)}, ${build.rail.kind === "fixed" ? "fixed, in the tank" : "follows the manifold"}`;

/** The fields of rail and regulator. */
export function railFields({ editor }: BuildContext) {
  const { rail } = editor.build;
  return html`<div class="fields"><div>
      ${choiceField(
        "Regulator",
        rail.kind,
        [
          ["manifold-referenced", "follows the manifold"],
          ["fixed", "fixed (in the tank)"],
        ],
        (kind) => editor.putParts({ rail: { ...rail, kind } }, "the rail"),
      )}
      ${editor.figure("rail.pressureKpa", {
        label: rail.kind === "fixed" ? "Pressure over outside air" : "Pressure over the manifold",
        value: rail.pressureKpa,
        unit: "kPa",
        decimals: 0,
        help: help(
          "Rail pressure",
          "Gauge pressure at the injectors; their flow goes with its root.",
          "300 kPa is common practice",
        ),
        change: (pressureKpa) => editor.putParts({ rail: { ...rail, pressureKpa } }, "the rail"),
      })}
    </div><p class="quiet aside">${
      rail.kind === "fixed"
        ? "A fixed rail pushes harder when the manifold is at vacuum: each cell is worked out at its own pressure."
        : "The injectors see the same pressure in every cell."
    } Relieve the pressure before a line is opened: it stays after the engine stops, and a jet of fuel finds any flame.</p></div>
    ${editor.sentence("rail")}`;
}
