import type { Intake } from "@fuelwright/table-core";
import { html, type TemplateResult } from "lit";
import { choiceField } from "../table/forms/fields.ts";
import { intakeForm } from "../table/forms/part-forms.ts";
import { assumptionList, emptyHint } from "./assumptions.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { manifoldFields } from "./manifold-fields.ts";
import { help, say } from "./say.ts";
import { stepLink } from "./step-link.ts";
import { throttleFields } from "./throttle-fields.ts";

/** Throttle body and manifold that are asked, in a few words. */
export function intakeWords({ desk, asked }: BuildContext): string {
  const { throttleBody, manifold } = asked.state.build;
  const bodies =
    throttleBody && throttleBody.count !== undefined && throttleBody.count > 1 ? `${throttleBody.count} × ` : "";
  const words = [
    throttleBody && `${bodies}${say(desk, throttleBody.diameterMm, "mm", 0)} body`,
    manifold && (manifold.name ?? "manifold"),
  ].filter(Boolean);
  return words.length > 0 ? words.join(", ") : "not described";
}

/** Assumptions that stand at the field that would replace them. */
const atTheirFields: ReadonlySet<string> = new Set(["discharge-coefficient", "intake-layout"]);

/** The fields of throttle body, manifold and how the cylinders draw from them. */
export function intakePart(context: BuildContext) {
  const { editor, asked } = context;
  const { build } = editor;
  const verdict = asked.ceilings.ok ? asked.ceilings.value.parts.find(({ part }) => part === "intake") : undefined;
  return html`<div class="fields">
      <section aria-label="Throttle body"><h3 class="first">Throttle body</h3>
        ${throttleFields(context, "throttleBody", build.throttleBody, (throttleBody) =>
          throttleBody
            ? editor.putParts({ throttleBody }, "the throttle body")
            : editor.drop("throttleBody", "the throttle body"),
        )}
      </section>
      <section aria-label="Manifold"><h3 class="first">Manifold</h3>
        ${manifoldFields(context, "manifold", build.manifold, (manifold) =>
          manifold ? editor.putParts({ manifold }, "the manifold") : editor.drop("manifold", "the manifold"),
        )}
      </section>
      <section aria-label="Layout of the intake"><h3 class="first">Layout</h3>
        ${layoutFields(context)}
        ${assumptionList(verdict?.assumptions.filter(({ id }) => !atTheirFields.has(id)) ?? [])}
      </section>
    </div>
    <div class="words">${stepLink(context, intakeForm, "Carry the table over to another intake")}</div>`;
}

function layoutFields({ editor, asked }: BuildContext): TemplateResult {
  const { intake } = editor.build;
  const put = (part: Partial<Intake>) =>
    editor.putParts({ intake: { layout: "separate-pulses", ...intake, ...part } }, "the intake");
  const layout = choiceField(
    "Cylinders draw",
    intake?.layout ?? "",
    [
      ["", "not said"],
      ["separate-pulses", "each by itself"],
      ["shared-plenum", "from a plenum"],
    ],
    (choice) => (choice === "" ? editor.drop("intake", "the intake") : put({ layout: choice })),
    intake ? "" : emptyHint(asked, "intake-layout", "Not said: by the number of cylinders."),
  );
  if (!intake) return html`${layout}${editor.sentence("intake")}`;
  return html`${layout}
    ${editor.figure("intake.openDegrees", {
      label: "A stroke draws for",
      value: intake.openDegrees ?? null,
      unitText: "°",
      decimals: 0,
      hint: intake.openDegrees === undefined ? "Empty: 220° of the crank, common practice for a road cam." : "",
      help: help(
        "A stroke draws for",
        "Crank degrees for which a cylinder effectively draws; it counts where each draws by itself.",
        "220° is common practice for a road cam",
      ),
      change: (openDegrees) => put({ openDegrees }),
      clear: () => editor.putParts({ intake: without(intake, "openDegrees") as Intake }, "the intake"),
    })}
    ${choiceField(
      "Pressure sensor",
      intake.sensor ?? "after-manifold",
      [
        ["after-manifold", "at the valve"],
        ["before-manifold", "before the manifold"],
      ],
      (sensor) => put({ sensor }),
    )}
    ${editor.sentence("intake")}`;
}
