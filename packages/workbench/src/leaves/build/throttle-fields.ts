import type { ThrottleBody } from "@fuelwright/table-core";
import { html, type TemplateResult } from "lit";
import { emptyHint } from "./assumptions.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { help, textField } from "./say.ts";

/**
 * The fields of a throttle body, of the build or of a stage; giving its bore describes it.
 *
 * @param at - path under `build`
 * @param put - takes the body, or undefined to take it out
 * @param none - what an empty field means: nothing is described, or that of the build counts
 */
export function throttleFields(
  { editor, asked }: BuildContext,
  at: string,
  body: ThrottleBody | undefined,
  put: (body: ThrottleBody | undefined) => void,
  none = "no throttle body is described.",
): TemplateResult {
  const bore = editor.figure(`${at}.diameterMm`, {
    label: "Bore at the plate",
    value: body?.diameterMm ?? null,
    unit: "mm",
    decimals: 1,
    hint: body ? "" : `Empty: ${none}`,
    change: (diameterMm) => put({ ...body, diameterMm }),
    ...(body ? {} : { clear: () => {} }),
  });
  if (!body) return html`${bore}${editor.sentence(at)}`;
  const optional = (key: "count" | "shaftMm" | "dischargeCoefficient") => ({
    value: body[key] ?? null,
    change: (value: number) => put({ ...body, [key]: value }),
    clear: () => put(without(body, key) as ThrottleBody),
  });
  return html`${bore}
    ${editor.figure(`${at}.count`, { label: "Bodies in all", decimals: 0, hint: body.count === undefined ? "Empty: one." : "", ...optional("count") })}
    ${editor.figure(`${at}.shaftMm`, {
      label: "Shaft across the bore",
      unit: "mm",
      decimals: 1,
      hint:
        body.shaftMm === undefined
          ? "Empty: 18 % of the bore, common practice. A shaft takes about a quarter of the area."
          : "",
      ...optional("shaftMm"),
    })}
    ${editor.figure(`${at}.dischargeCoefficient`, {
      label: "Discharge coefficient",
      decimals: 2,
      hint:
        body.dischargeCoefficient === undefined
          ? emptyHint(asked, "discharge-coefficient", "Empty: a figure of common practice.")
          : "",
      help: help(
        "Discharge coefficient",
        "Flow through the open body over that of an ideal nozzle of its free area.",
        "0.75 to 0.95 is common practice; a flow bench tells it",
      ),
      ...optional("dischargeCoefficient"),
    })}
    ${textField("Name of the body", body.name ?? "", (name) => put(name ? { ...body, name } : (without(body, "name") as ThrottleBody)))}
    ${editor.sentence(at)}
    <button class="word" @click=${() => put(undefined)}>Take the throttle body out</button>`;
}
