import type { SettingsOf } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { cellDisplay, mixtureName } from "../../../store/display.ts";
import { sayStep } from "../../../store/say-step.ts";
import type { HelpId } from "../../field-help.ts";
import { selected } from "./edit-forms.ts";
import { checkField, choiceField, numberField } from "./fields.ts";
import { mixtureOutcome } from "./mixture-outcome.ts";
import { defineForm } from "./step-form.ts";

type Settings = SettingsOf<"retarget-mixture">;

/** The fuel table a mixture change works on: the one at hand, or the first that is none of lambda. */
function fuelTableOf(desk: Desk) {
  const { table } = desk;
  if (table && table.quantity !== "lambda") return table;
  return Object.values(desk.shown.tables).find(({ quantity }) => quantity !== "lambda") ?? null;
}

const lambdaTables = (desk: Desk) => Object.values(desk.shown.tables).filter(({ quantity }) => quantity === "lambda");

export const mixtureForm = defineForm({
  kind: "retarget-mixture",
  title: "Change the mixture",
  about: "The fuel that takes each cell from the mixture it was made for to the one wished for.",
  group: "parts",
  hasRegion: true,
  start(desk) {
    const table = fuelTableOf(desk);
    if (!table) return "Bring in a fuel table first.";
    const target = desk.job.roles.target ?? lambdaTables(desk)[0]?.id;
    const base = desk.job.roles.basePulse;
    const rest = {
      ...selected(desk),
      ...(table.quantity === "trim" && base !== undefined && { basePulse: base }),
    };
    // With the target at hand, what was changed in it is carried over to the fuel.
    if (desk.table?.quantity === "lambda") {
      const { id } = desk.table;
      return {
        table: table.id,
        settings: { ...rest, from: { table: id, after: lastCarried(desk, id) }, to: { table: id } },
      };
    }
    return {
      table: table.id,
      settings: {
        ...rest,
        from: target !== undefined ? { table: target } : 0.9,
        to: 0.88,
        ...(target !== undefined && { target }),
      },
    };
  },
  fields({ desk, step, settings, change }) {
    const display = cellDisplay({ quantity: "lambda" }, desk.preferences, desk.shown.build.fuel);
    const tables = lambdaTables(desk);
    const single = (label: string, explain: HelpId, value: number, put: (lambda: number) => void) =>
      numberField({
        label,
        explain,
        value: display.show(value),
        unitText: mixtureName(desk.preferences.mixture),
        decimals: display.decimals,
        change: (shown) => put(display.read(shown)),
      });
    const kinds = [["one", "one mixture"] as const, ...(tables.length ? [["table", "a target table"] as const] : [])];
    const kindOf = (mixture: Settings["from"]) => (typeof mixture === "number" ? "one" : "table");
    const swap = (side: "from" | "to", kind: "one" | "table"): void =>
      change({ ...settings, [side]: kind === "one" ? 0.9 : { table: tables[0]!.id } });
    const tableFields = (side: "from" | "to", mixture: Exclude<Settings["from"], number>) => html`
      ${choiceField(
        "Which",
        mixture.table,
        tables.map(({ id, name }) => [id, name] as const),
        (table) => change({ ...settings, [side]: { ...mixture, table } }),
        "",
        "mixture-table",
      )}
      ${choiceField<string>(
        "As it stood",
        mixture.after ?? "",
        statesBefore(desk, step.id),
        (after) => change({ ...settings, [side]: { table: mixture.table, ...(after && { after }) } }),
        "",
        "mixture-after",
      )}`;
    const { from, to } = settings;
    return html`
      ${choiceField("Made for", kindOf(from), kinds, (kind) => swap("from", kind), "", "made-for")}
      ${typeof from === "number" ? single("Made for", "made-for", from, (lambda) => change({ ...settings, from: lambda })) : tableFields("from", from)}
      ${choiceField("Wished for", kindOf(to), kinds, (kind) => swap("to", kind), "", "wished-for")}
      ${typeof to === "number" ? single("Wished for", "wished-for", to, (lambda) => change({ ...settings, to: lambda })) : tableFields("to", to)}
      ${
        settings.target !== undefined || (tables.length && typeof to === "number")
          ? checkField(
              "The target table says the new mixture from now on",
              settings.target !== undefined,
              (on) => {
                const { target: _, ...rest } = settings;
                change(on ? { ...rest, target: tables[0]!.id } : rest);
              },
              "target-follows",
            )
          : nothing
      }`;
  },
  outcome: ({ desk, report }) => mixtureOutcome(desk, report),
});

/** The state in which the fuel last followed the target: after the last step that carried it there, or as brought in. */
function lastCarried({ job }: Desk, target: string): string {
  const last = job.steps.findLast(
    ({ kind, settings, on }) =>
      on &&
      kind === "retarget-mixture" &&
      (settings.target === target || (typeof settings.to === "object" && settings.to.table === target)),
  );
  return last?.id ?? "source";
}

/** The states that a step may look back at: as brought in, after each earlier step, or as it meets them. */
export function statesBefore(desk: Desk, step: string): (readonly [string, string])[] {
  const { steps } = desk.job;
  const at = steps.findIndex(({ id }) => id === step);
  const earlier = at < 0 ? steps : steps.slice(0, at);
  return [
    ["", "now"],
    ["source", "as brought in"],
    ...earlier.map((other, number) => [other.id, `after ${number + 1} ${sayStep(other, desk.job).title}`] as const),
  ];
}
