import { chooseBreakpoints, type FuelTable, type SettingsOf, type SurfaceComparison } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { axesDisplay, cellDisplay, figure, sayPlace } from "../../../store/display.ts";
import { helpOn } from "../../help-on.ts";
import { breakpointList } from "./breakpoint-list.ts";
import { onTable } from "./edit-forms.ts";
import { numberField } from "./fields.ts";
import { defineForm } from "./step-form.ts";

type Rebin = SettingsOf<"rebin-table">;
type Side = "rpm" | "load";

export const rebinForm = defineForm({
  kind: "rebin-table",
  title: "Other breakpoints",
  about: "The same surface on other rpm and load. Later steps still hold: they are said in rpm and load.",
  group: "table",
  start: onTable(
    (table): Rebin => ({
      rpm: [...table.rpm.breakpoints],
      ...(table.load.quantity !== "single-row" && { load: [...table.load.breakpoints] }),
    }),
  ),
  fields({ desk, step, settings, change }) {
    const before = desk.bench.stateBefore(step.id).tables[step.table ?? ""];
    if (!before) return html``;
    return html`${sideFields(desk, before, "rpm", settings, change)}
      ${before.load.quantity === "single-row" ? nothing : sideFields(desk, before, "load", settings, change)}`;
  },
  outcome({ desk, report }) {
    const found = report as SurfaceComparison | undefined;
    if (!found || !desk.table) return null;
    const display = cellDisplay(desk.table, desk.preferences, desk.shown.build.fuel);
    const [rise, fall] = [found.largestRise, found.largestFall];
    const most = Math.abs(fall?.absolute ?? 0) > (rise?.absolute ?? 0) ? fall : rise;
    return most
      ? html`<p>The surfaces differ by at most ${figure(Math.abs(most.absolute), 4)} ${display.unit}, ${figure(Math.abs(most.percent), 2)} %,
          at ${sayPlace(desk.table, most, desk.preferences)}: nowhere more, also between breakpoints.</p>`
      : html`<p>The surface stays the same everywhere.</p>`;
  },
});

export const extendForm = defineForm({
  kind: "extrapolate-cells",
  title: "Extend the axes",
  about: "Further breakpoints beyond the ends, by the trend of the last cells, damped.",
  group: "table",
  start: onTable((table): SettingsOf<"extrapolate-cells"> => {
    const [before, last] = table.rpm.breakpoints.slice(-2);
    return { rpm: [last! + (last! - before!)] };
  }),
  fields({ desk, settings, change }) {
    const table = desk.table!;
    const axes = axesDisplay(table, desk.preferences);
    const list = (side: Side, words: string) => {
      const places = breakpointList(settings[side] ?? [], axes[side]);
      return html`<div class="row"><span>${words} ${helpOn("extend-to", words)}</span></div>
      <textarea rows="1" aria-label=${words} spellcheck="false" .value=${places.text}
        @change=${(event: Event) => {
          const { [side]: _, ...rest } = settings;
          const typed = places.read((event.target as HTMLTextAreaElement).value);
          change(typed.length ? { ...rest, [side]: typed } : rest);
        }}></textarea>`;
    };
    return html`${list("rpm", `New breakpoints of ${axes.rpm.unit}`)}
      ${table.load.quantity === "single-row" ? nothing : list("load", `New breakpoints of load, ${axes.load.unit}`)}
      ${numberField({
        label: "Trend of the last",
        explain: "extend-trend",
        value: settings.trendOver ?? 3,
        unitText: "breakpoints",
        decimals: 0,
        min: 2,
        change: (trendOver) => change({ ...settings, trendOver }),
      })}
      ${numberField({
        label: "Fades after",
        explain: "extend-fade",
        value: settings.fade ?? 1,
        unitText: "times that far",
        decimals: 1,
        min: 0,
        max: 100,
        change: (fade) => change({ ...settings, fade }),
      })}`;
  },
  outcome({ report }) {
    const held = (report as { heldAtZero: number } | undefined)?.heldAtZero ?? 0;
    return html`<div class="warns">Extrapolated: nothing has measured these cells. They stay marked until evidence replaces them;
        run a new corner on the rich side first.</div>
      ${held ? html`<p>${held} cells are held at 0.</p>` : nothing}`;
  },
});

function sideFields(desk: Desk, before: FuelTable, side: Side, settings: Rebin, change: (settings: Rebin) => void) {
  const own = before[side].breakpoints;
  const now = settings[side] ?? own;
  const put = (breakpoints: readonly number[]) => change({ ...settings, [side]: [...breakpoints] });
  const display = axesDisplay(before, desk.preferences)[side];
  const list = breakpointList(now, display);
  const label = side === "rpm" ? display.unit : `${before.load.quantity.replaceAll("-", " ")}, ${display.unit}`;
  const words = `Breakpoints of ${label}`;
  return html`<div class="row"><span>${words} ${helpOn("new-breakpoints", words)}</span></div>
      <textarea rows="2" aria-label=${words} spellcheck="false" .value=${list.text}
        @change=${(event: Event) => put(list.read((event.target as HTMLTextAreaElement).value))}></textarea>
    <div class="row"><span>Place for the best fit ${helpOn("how-many-breakpoints", "Place for the best fit")}</span>
      <select aria-label="How many breakpoints of ${side}" @change=${(event: Event) => {
        const count = Number((event.target as HTMLSelectElement).value);
        if (count) put(chooseBreakpoints(before, { along: side, count }).at(-1)!.breakpoints);
      }}>
        <option value="">choose how many</option>
        ${chooseBreakpoints(before, { along: side, count: own.length }).map(
          ({ count, largest }) =>
            html`<option value=${count}>${count}: ${largest === 0 ? "loses nothing" : `off by up to ${figure(largest, 3)} ${before.unit}`}</option>`,
        )}
        ${[1, 2, 4, 8].map((more) => html`<option value=${own.length + more}>${own.length + more}: finer</option>`)}
      </select></div>`;
}
