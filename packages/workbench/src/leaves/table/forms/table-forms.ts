import {
  expressionFunctions,
  expressionName,
  prepareExpressions,
  type QuantiseReport,
  type SettingsOf,
  type Storage,
} from "@fuelwright/table-core";
import { html, nothing } from "lit";
import { figure } from "../../../store/display.ts";
import { helpOn } from "../../help-on.ts";
import { onTable, selected } from "./edit-forms.ts";
import { checkField, choiceField, numberField } from "./fields.ts";
import { statesBefore } from "./mixture-form.ts";
import { defineForm } from "./step-form.ts";

type Blend = SettingsOf<"blend-tables">;

const percentField = (label: string, share: number, change: (share: number) => void) =>
  numberField({
    label,
    explain: "blend-share",
    value: 100 * share,
    unitText: "%",
    decimals: 0,
    min: 0,
    max: 100,
    change: (percent) => change(percent / 100),
  });

export const expressionForm = defineForm({
  kind: "evaluate-cells",
  title: "By an expression",
  about: "Each cell becomes what the expression gives there.",
  group: "cells",
  hasRegion: true,
  prepare: prepareExpressions,
  start: onTable((_, desk) => ({ ...selected(desk), expression: "cell" })),
  fields({ desk, settings, change }) {
    const names = Object.keys(desk.shown.tables).map(expressionName);
    return html`<div class="row"><span>Expression ${helpOn("expression", "Expression")}</span></div>
        <input aria-label="Expression" style="width: 100%" maxlength="500" spellcheck="false" .value=${settings.expression}
          @input=${(event: Event) => change({ ...settings, expression: (event.target as HTMLInputElement).value })} />
      <details><summary>What can stand in it</summary>
        <p class="quiet"><code>cell</code>, <code>rpm</code>, <code>load</code>, <code>weight</code> (the soft edge's), and the job's tables at
          the same place: ${names.map((name, at) => html`${at ? ", " : ""}<code>${name}</code>`)}. For instance
          <code>cell * 1.05</code> or <code>rpm > 4000 ? cell + 3% : cell</code>.</p>
        <p class="quiet">${expressionFunctions.map(({ help }) => html`${help}<br />`)}</p></details>`;
  },
});

export const blendForm = defineForm({
  kind: "blend-tables",
  title: "Blend",
  about: "Mixes in another table, or an earlier state of this one.",
  group: "cells",
  hasRegion: true,
  start: onTable(
    (table, desk): Blend => ({
      ...selected(desk),
      with: { table: table.id, after: "source" },
      weight: 0.5,
    }),
  ),
  fields({ desk, step, settings, change }) {
    const { table } = desk;
    const others = Object.values(desk.shown.tables).filter(({ quantity }) => quantity === table?.quantity);
    const { weight } = settings;
    const along = typeof weight === "number" ? "even" : weight.along;
    const axis = along === "load" ? table!.load : table!.rpm;
    return html`
      ${choiceField(
        "Blend in",
        settings.with.table,
        others.map(({ id, name }) => [id, name] as const),
        (id) => change({ ...settings, with: { ...settings.with, table: id } }),
        "",
        "blend-with",
      )}
      ${choiceField<string>(
        "As it stood",
        settings.with.after ?? "",
        statesBefore(desk, step.id),
        (after) => change({ ...settings, with: { table: settings.with.table, ...(after && { after }) } }),
        "",
        "blend-after",
      )}
      ${choiceField(
        "Its share",
        along,
        [
          ["even", "the same everywhere"],
          ["rpm", "changes along rpm"],
          ["load", "changes along load"],
        ],
        (way) => {
          const ends = way === "load" ? table!.load.breakpoints : table!.rpm.breakpoints;
          change({
            ...settings,
            weight: way === "even" ? 0.5 : { along: way, from: [ends[0]!, 0], to: [ends.at(-1)!, 1] },
          });
        },
        "",
        "blend-weight",
      )}
      ${
        typeof weight === "number"
          ? percentField("Share", weight, (share) => change({ ...settings, weight: share }))
          : html`${(["from", "to"] as const).map(
              (end) =>
                html`${numberField({
                  label: end === "from" ? "From" : "To",
                  explain: "curve-point-at",
                  value: weight[end][0],
                  unitText: axis.unit,
                  decimals: 1,
                  change: (place) => change({ ...settings, weight: { ...weight, [end]: [place, weight[end][1]] } }),
                })}${percentField("its share there", weight[end][1], (share) =>
                  change({ ...settings, weight: { ...weight, [end]: [weight[end][0], share] } }),
                )}`,
            )}`
      }
      ${others.length === 0 ? nothing : html`<p class="quiet">At 0 % this table stays, at 100 % it is the other one.</p>`}`;
  },
});

export const quantiseForm = defineForm({
  kind: "quantise-table",
  title: "Round to what is stored",
  about: "Every cell at the nearest value that the controller can store.",
  group: "table",
  start: onTable((table) => (table.storage ? {} : { storage: { min: 0, max: 25.5, step: 0.1 } })),
  fields({ desk, settings, change }) {
    const own = desk.table?.storage;
    const storage = settings.storage ?? own;
    const put = (part: Partial<Storage>) => change({ ...settings, storage: { ...storage!, ...part } });
    const unit = desk.table?.unit ?? "";
    return html`
      ${(["min", "max", "step"] as const).map((key) =>
        numberField({
          label: { min: "Least", max: "Greatest", step: "In steps of" }[key],
          explain: `storage-${key}` as const,
          value: storage?.[key] ?? null,
          unitText: unit,
          decimals: 4,
          change: (value) => put({ [key]: value }),
        }),
      )}
      ${checkField(
        "Carry the rest along each row, so that its mean is kept",
        settings.diffuse ?? false,
        (diffuse) => change({ ...settings, diffuse }),
        "storage-diffuse",
      )}`;
  },
  outcome({ desk, report }) {
    const found = report as QuantiseReport | undefined;
    if (!found) return null;
    const unit = desk.table?.unit ?? "";
    return html`<p>${
      found.largest
        ? html`Rounding moves a cell by at most ${figure(Math.abs(found.largest.error), 4)} ${unit}
            (at ${figure(found.largest.rpm)} rpm, ${figure(found.largest.load)}), ${figure(found.rootMeanSquare, 4)} in the mean square.`
        : "Every cell can be stored as it is."
    }</p>
    ${found.clipped.length ? html`<div class="warns">${found.clipped.length} cells lie outside the range and are cut off at its end.</div>` : nothing}
    ${found.unstored.length ? html`<div class="warns">${found.unstored.length} locked cells can't be stored as they are.</div>` : nothing}`;
  },
});
