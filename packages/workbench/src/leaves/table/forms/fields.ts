import type { Region } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import "../../../elements/number-field/number-field.ts";
import type { ValueChangeEvent } from "../../../elements/number-field/number-field.ts";
import type { Desk } from "../../../store/desk.ts";
import { axisDisplay, shownUnit, unitChoices, unitKind } from "../../../store/display.ts";
import { sayRegion } from "../../../store/say-step.ts";
import type { HelpId } from "../../field-help.ts";
import { helpOn } from "../../help-on.ts";

/** One figure of a form. With `unit` the person chooses how it is shown; `unitText` is only words behind it. */
export interface FigureField {
  readonly label: string;
  readonly value: number | null;
  readonly unit?: string;
  readonly desk?: Desk;
  readonly unitText?: string;
  readonly decimals?: number;
  readonly min?: number;
  readonly max?: number;
  readonly hint?: string;
  readonly basis?: string;
  readonly error?: string;
  readonly densityKgPerL?: number;
  readonly usual?: readonly [number, number];
  /** A `fw-help` for the field's slot `help`. */
  readonly help?: TemplateResult;
  /** Help of its own kind, where `help` gives none. */
  readonly explain?: HelpId;
  change(value: number): void;
  /** What an emptied field does; left out, it must not be empty. */
  clear?(): void;
}

export function numberField(field: FigureField): TemplateResult {
  const { unit, desk } = field;
  const choose = unit !== undefined && desk !== undefined;
  return html`<fw-number-field
    .label=${field.label}
    .value=${field.error ? field.value : live(field.value)}
    .unit=${unit ?? field.unitText ?? ""}
    .units=${choose ? unitChoices(unit) : []}
    .shownUnit=${choose ? shownUnit(unit, desk.preferences) : ""}
    .decimals=${field.decimals ?? 2}
    .min=${field.min ?? null}
    .max=${field.max ?? null}
    .hint=${field.hint ?? ""}
    .basis=${field.basis ?? ""}
    .error=${field.error ?? ""}
    .usual=${field.usual ?? null}
    .densityKgPerL=${field.densityKgPerL ?? null}
    ?required=${!field.clear}
    @fw-value-change=${({ detail: { value } }: ValueChangeEvent) => (value === null ? field.clear?.() : field.change(value))}
    @fw-unit-change=${(event: CustomEvent<{ shownUnit: string }>) => {
      if (!choose) return;
      desk.prefer({ shownUnits: { ...desk.preferences.shownUnits, [unitKind(unit)]: event.detail.shownUnit } });
    }}
  >${field.help ?? (field.explain ? helpOn(field.explain, field.label) : nothing)}</fw-number-field>`;
}

/** One of a few choices. */
export function choiceField<T extends string>(
  label: string,
  value: T,
  choices: readonly (readonly [T, string])[],
  change: (value: T) => void,
  hint = "",
  explain: HelpId | null = null,
): TemplateResult {
  const select = html`<select aria-label=${label} @change=${(event: Event) => change(choices[(event.target as HTMLSelectElement).selectedIndex]![0])}>
        ${choices.map(([choice, words]) => html`<option .selected=${live(choice === value)}>${words}</option>`)}
      </select>`;
  // Help stands outside the label, whose words it would join.
  return html`${
    explain
      ? html`<div class="row"><span class="named">${label} ${helpOn(explain, label)}</span>${select}</div>`
      : html`<label class="row">${label} ${select}</label>`
  }
    ${hint ? html`<p class="quiet">${hint}</p>` : nothing}`;
}

export function checkField(
  label: string,
  value: boolean,
  change: (value: boolean) => void,
  explain: HelpId | null = null,
): TemplateResult {
  const check = html`<label class="check"><input type="checkbox" .checked=${value}
    @change=${(event: Event) => change((event.target as HTMLInputElement).checked)} />${label}</label>`;
  return explain ? html`<div class="explained">${check}${helpOn(explain, label)}</div>` : check;
}

/** Where a step works, with a soft edge; the selection can be taken over, or the whole table. */
export function regionFields(desk: Desk, region: Region | undefined, change: (region: Region | undefined) => void) {
  const { table } = desk;
  if (!table) return nothing;
  const oneRow = table.load.quantity === "single-row";
  const load = axisDisplay(table.load, desk.preferences);
  // A width is a difference of loads: it scales as they do, but has no zero of its own.
  const widthOf = (width: number) => load.show(width) - load.show(0);
  const soft = (side: "rpm" | "load", width: number) => {
    const feather = { ...region?.feather, [side]: width };
    change({ ...region, feather });
  };
  return html`<div class="row"><span>On</span><strong>${sayRegion(region, table, desk.preferences)}</strong></div>
    <div class="do" style="margin-top: 2px">
      <button ?disabled=${desk.view.region === null}
        @click=${() => change({ ...desk.view.region, ...(region?.feather && { feather: region.feather }) })}>Use the selection</button>
      <button ?disabled=${region === undefined} @click=${() => change(undefined)}>Whole table</button>
    </div>
    ${
      region && (region.rpm || region.load || region.also)
        ? html`<details ?open=${Boolean(region.feather?.rpm || region.feather?.load)}><summary class="quiet">Soft edge</summary>
            ${numberField({ label: "Over rpm", explain: "soft-edge-rpm", value: region.feather?.rpm ?? 0, unitText: table.rpm.unit, decimals: 0, min: 0, change: (width) => soft("rpm", width) })}
            ${oneRow ? nothing : numberField({ label: "Over load", explain: "soft-edge-load", value: widthOf(region.feather?.load ?? 0), unitText: load.unit, decimals: 2, min: 0, change: (width) => soft("load", width / widthOf(1)) })}
          </details>`
        : nothing
    }`;
}
