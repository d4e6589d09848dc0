import { type FlowBenchFigure, type Manifold, passageArea } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import { choiceField } from "../table/forms/fields.ts";
import { attempt } from "./asked.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { help, textField } from "./say.ts";

/** 28 inches of water, what most flow benches are read at; common practice. */
const COMMON_DEPRESSION_KPA = 6.97;

/** The fields of a manifold, of the build or of a stage; giving a flow or an area describes it. Arguments as `throttleFields`. */
export function manifoldFields(
  { editor }: BuildContext,
  at: string,
  manifold: Manifold | undefined,
  put: (manifold: Manifold | undefined) => void,
  none = "no manifold is described.",
): TemplateResult {
  const shared = manifold && without(without(manifold, "flowBench"), "effectiveAreaMm2");
  const bench = manifold?.flowBench;
  const area = manifold?.effectiveAreaMm2;
  const mayBeEmpty = manifold ? {} : { clear: () => {} };
  const flow = editor.figure(`${at}.flowBench.litresPerSecond`, {
    label: "Flow of a passage, on a bench",
    value: bench?.litresPerSecond ?? null,
    unitText: "L/s",
    decimals: 1,
    hint: manifold ? "" : `Empty: ${none}`,
    help: help(
      "Flow of a passage",
      "Air that one passage draws on a flow bench at the stated depression; 1 ft³/min is 0.472 L/s.",
    ),
    change: (litresPerSecond) =>
      put({ ...shared, flowBench: { depressionKpa: COMMON_DEPRESSION_KPA, ...bench, litresPerSecond } }),
    ...mayBeEmpty,
  });
  const effective = () =>
    editor.figure(`${at}.effectiveAreaMm2`, {
      label: "Effective area of a passage",
      value: area ?? null,
      unitText: "mm²",
      decimals: 0,
      help: help(
        "Effective area",
        "Area of the ideal nozzle that flows as much as one passage: its narrowest area times a discharge coefficient.",
      ),
      change: (effectiveAreaMm2) => put({ ...shared, effectiveAreaMm2 }),
      ...mayBeEmpty,
    });
  if (!manifold) return html`${flow}${effective()}${editor.sentence(at)}`;
  const passage = attempt(() => passageArea(manifold));
  return html`
    ${choiceField(
      "Told by",
      bench ? "bench" : "area",
      [
        ["bench", "a flow bench"],
        ["area", "its effective area"],
      ],
      (how) => {
        // The same flow, told the other way.
        if (how === "area" && passage.ok) put({ ...shared, effectiveAreaMm2: passage.value });
        if (how === "bench" && passage.ok)
          put({
            ...shared,
            flowBench: { litresPerSecond: benchFlow(passage.value), depressionKpa: COMMON_DEPRESSION_KPA },
          });
      },
    )}
    ${bench ? html`${flow}${benchFields(editor, at, bench, (next) => put({ ...shared, flowBench: next }))}` : effective()}
    ${editor.figure(`${at}.passages`, {
      label: "Passages in all",
      value: manifold.passages ?? null,
      decimals: 0,
      hint: manifold.passages === undefined ? "Empty: one for each cylinder." : "",
      change: (passages) => put({ ...manifold, passages }),
      clear: () => put(without(manifold, "passages") as Manifold),
    })}
    ${textField("Name of the manifold", manifold.name ?? "", (name) => put(name ? { ...manifold, name } : (without(manifold, "name") as Manifold)))}
    ${bench && passage.ok ? html`<p class="quiet">As an ideal nozzle ${figure(passage.value, 0)} mm² a passage. Computed.</p>` : nothing}
    ${editor.sentence(at)}
    <button class="word" @click=${() => put(undefined)}>Take the manifold out</button>`;
}

/** What an area flows on the usual bench: flow goes with area, so one known pair tells all. */
function benchFlow(areaMm2: number): number {
  const one = passageArea({ flowBench: { litresPerSecond: 1, depressionKpa: COMMON_DEPRESSION_KPA } });
  return Math.round((areaMm2 / one) * 100) / 100;
}

function benchFields(
  editor: BuildContext["editor"],
  at: string,
  bench: FlowBenchFigure,
  put: (bench: FlowBenchFigure) => void,
) {
  return html`
    ${editor.figure(`${at}.flowBench.depressionKpa`, {
      label: "At a depression of",
      value: bench.depressionKpa,
      unit: "kPa",
      decimals: 2,
      hint: "28 inH2O are 6.97 kPa.",
      help: help(
        "Depression on the bench",
        "How far the bench draws down the pressure behind the part.",
        "28 inH2O is common practice",
      ),
      change: (depressionKpa) => put({ ...bench, depressionKpa }),
    })}
    ${editor.figure(`${at}.flowBench.temperatureC`, {
      label: "Air in the room",
      value: bench.temperatureC ?? null,
      unit: "°C",
      decimals: 0,
      hint: bench.temperatureC === undefined ? "Empty: 20 °C. Ten degrees are 1.7 % of area." : "",
      change: (temperatureC) => put({ ...bench, temperatureC }),
      clear: () => put(without(bench, "temperatureC") as FlowBenchFigure),
    })}`;
}
