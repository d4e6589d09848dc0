import { type Engine, fullLoadCurve } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { figure } from "../../store/display.ts";
import { choiceField } from "../table/forms/fields.ts";
import { displacementForm } from "../table/forms/part-forms.ts";
import { emptyHint } from "./assumptions.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { help, say } from "./say.ts";
import { stepLink } from "./step-link.ts";

type OptionalFigure = {
  [K in keyof Engine]-?: undefined extends Engine[K] ? K : never;
}[keyof Engine];

/** What the engine is, in a few words. */
export const engineWords = ({ desk, editor: { build } }: BuildContext): string => {
  const { displacementCc, cylinders, revLimitRpm } = build.engine;
  return `${say(desk, displacementCc, "cc", 0)}, ${cylinders} ${cylinders === 1 ? "cylinder" : "cylinders"}, to ${figure(revLimitRpm, 0)} rpm`;
};

/** The power its fuel makes, in the place of a verdict. */
export function powerWords({ desk, asked }: BuildContext) {
  const curve = asked.work("full load", fullLoadCurve);
  if (!curve.ok) return nothing;
  const peak = curve.value.points.reduce((best, point) => (point.powerKw > best.powerKw ? point : best));
  if (!(peak.powerKw > 0)) return nothing;
  return html`<span class="stamp">about ${say(desk, peak.powerKw, "kW", 0)}</span> <span class="why">At ${figure(peak.rpm, 0)} rpm, from the
    fuel it burns there: estimated, for choosing parts.</span>`;
}

/** The fields of the engine. */
export function engineFields(context: BuildContext) {
  const { editor, asked } = context;
  const { engine } = editor.build;
  const put = (part: Partial<Engine>) => editor.putParts({ engine: { ...engine, ...part } }, "the engine");
  const optional = (key: OptionalFigure) => ({
    value: (engine[key] as number | undefined) ?? null,
    change: (value: number) => put({ [key]: value }),
    clear: () => editor.putParts({ engine: without(engine, key) as Engine }, "the engine"),
  });
  return html`<div class="fields"><div>
      ${editor.figure("engine.displacementCc", { label: "Displacement", explain: "displacement", value: engine.displacementCc, unit: "cc", decimals: 0, change: (displacementCc) => put({ displacementCc }) })}
      ${editor.figure("engine.cylinders", { label: "Cylinders", explain: "cylinders", value: engine.cylinders, decimals: 0, change: (cylinders) => put({ cylinders }) })}
      ${editor.figure("engine.revLimitRpm", { label: "Rev limit", explain: "rev-limit", value: engine.revLimitRpm, unitText: "rpm", decimals: 0, change: (revLimitRpm) => put({ revLimitRpm }) })}
      ${editor.figure("engine.idleRpm", { label: "Idle", explain: "idle", unitText: "rpm", decimals: 0, hint: engine.idleRpm === undefined ? "Empty: for the largest injectors every cell counts as idle." : "", ...optional("idleRpm") })}
      ${choiceField(
        "Injections in a cycle",
        String(engine.injectionsPerCycle) as "1" | "2",
        [
          ["1", "one (sequential)"],
          ["2", "two (once a revolution)"],
        ],
        (count) => put({ injectionsPerCycle: Number(count) as 1 | 2 }),
        "",
        "injections-in-a-cycle",
      )}
      ${editor.figure("engine.injectorsPerCylinder", { label: "Injectors per cylinder", explain: "injectors-per-cylinder", decimals: 0, hint: engine.injectorsPerCylinder === undefined ? "Empty: one." : "", ...optional("injectorsPerCylinder") })}
    </div><div>
      ${editor.figure("engine.volumetricEfficiencyPercent", {
        label: "Volumetric efficiency",
        unitText: "%",
        decimals: 0,
        basis: engine.volumetricEfficiencyPercent === undefined ? "" : "estimated",
        hint:
          engine.volumetricEfficiencyPercent === undefined
            ? emptyHint(asked, "efficiency", "Empty: worked out of the table where it says it.")
            : "",
        help: help(
          "Volumetric efficiency",
          "Air drawn at full throttle over what would fill the displacement at the pressure and temperature in the manifold.",
          "80 to 95 % is common practice for two valves, more with tuned pipes",
        ),
        ...optional("volumetricEfficiencyPercent"),
      })}
      ${editor.figure("engine.chargeTemperatureC", {
        label: "Air temperature at the valve",
        unit: "°C",
        decimals: 0,
        hint:
          engine.chargeTemperatureC === undefined
            ? emptyHint(asked, "charge-temperature", "Empty: outside air and 15 °C.")
            : "",
        help: help(
          "Air temperature at the valve",
          "Warm air is thinner: the engine draws less of it, and wants less fuel.",
        ),
        ...optional("chargeTemperatureC"),
      })}
      ${editor.figure("engine.brakeSpecificFuelConsumptionGPerKwh", {
        label: "Fuel for a kilowatt-hour",
        unit: "g/kWh",
        decimals: 0,
        hint: engine.brakeSpecificFuelConsumptionGPerKwh === undefined ? consumptionHint(asked) : "",
        help: help(
          "Fuel for a kilowatt-hour",
          "Brake specific fuel consumption at full load: with it the fuel an engine burns tells its power.",
          "300 to 335 g/kWh is common practice for small petrol engines",
        ),
        ...optional("brakeSpecificFuelConsumptionGPerKwh"),
      })}
    </div></div>
    ${editor.sentence("engine")}
    <div class="words">${stepLink(context, displacementForm, "Carry the table over to another displacement")}</div>`;
}

function consumptionHint(asked: BuildContext["asked"]): string {
  const curve = asked.work("full load", fullLoadCurve);
  const taken = curve.ok && curve.value.assumptions.find(({ id }) => id === "fuel-consumption");
  return taken ? `Empty: ${taken.text} ${taken.matters ?? ""}` : "Empty: a figure of common practice.";
}
