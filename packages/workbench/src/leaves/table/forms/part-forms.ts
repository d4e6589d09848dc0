import {
  type ChangeFuelReport,
  type ChangeIntakeReport,
  type Fuel,
  fuels,
  type PartChangeReport,
  type SettingsOf,
} from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { figure } from "../../../store/display.ts";
import { carriedFields, fuelTables } from "./carried-fields.ts";
import { onTable, selected } from "./edit-forms.ts";
import { choiceField, numberField } from "./fields.ts";
import { warn } from "./injector-outcome.ts";
import { defineForm } from "./step-form.ts";

const NO_TABLE = "Bring in a fuel table first.";

/** The tables a change of parts starts with, or why it can't start. */
function carried(desk: Desk): { readonly tables: string[]; readonly basePulse?: string } | null {
  const tables = fuelTables(desk).map(({ id }) => id);
  const { basePulse } = desk.job.roles;
  return tables.length ? { tables, ...(basePulse !== undefined && { basePulse }) } : null;
}

/** Each table's report in turn, with its name where there are several. */
function eachReport<R>(desk: Desk, report: unknown, ids: readonly string[], say: (report: R) => TemplateResult) {
  const reports = report as Readonly<Record<string, R>> | undefined;
  if (!reports) return null;
  return html`${ids.map((id) => {
    const one = reports[id];
    return one
      ? html`${ids.length > 1 ? html`<h3>${desk.shown.tables[id]?.name ?? id}</h3>` : nothing}${say(one)}`
      : nothing;
  })}`;
}

const assumed = (assumptions: PartChangeReport["assumptions"]) =>
  assumptions.map(({ text, matters }) => html`<p class="quiet">Assumed: ${text} ${matters ?? ""}</p>`);

const FIRST_GUESS = html`<p class="warns">A first guess: the cells stay marked until evidence replaces them.</p>`;

export const fuelForm = defineForm({
  kind: "change-fuel",
  title: "Change the fuel",
  about: "The same air and lambda, through the same injectors, with another fuel.",
  group: "parts",
  start(desk) {
    const on = carried(desk);
    return on ? { settings: { ...on, to: { ...desk.shown.build.fuel } } } : NO_TABLE;
  },
  fields({ desk, settings, change }) {
    const presets = Object.values(fuels) as Fuel[];
    const { to } = settings;
    const known = presets.some(({ name }) => name === to.name);
    const names = presets.map(({ name }) => [name, name] as const);
    return html`
      ${choiceField(
        "Fuel",
        to.name,
        known ? names : [...names, [to.name, to.name] as const],
        (name) => {
          const preset = presets.find((fuel) => fuel.name === name);
          if (preset) change({ ...settings, to: { ...preset } });
        },
        "",
        "fuel-choice",
      )}
      ${numberField({
        label: "Stoichiometric ratio",
        explain: "stoichiometric-ratio",
        value: to.stoichiometricRatio ?? null,
        unitText: ": 1",
        decimals: 2,
        change: (stoichiometricRatio) => change({ ...settings, to: { ...to, stoichiometricRatio } }),
      })}
      ${numberField({
        label: "Density",
        explain: "density",
        value: to.densityKgPerL,
        unitText: "kg/L",
        decimals: 3,
        change: (densityKgPerL) => change({ ...settings, to: { ...to, densityKgPerL } }),
      })}
      ${carriedFields(desk, settings, (part) => change({ ...settings, ...part }))}`;
  },
  outcome: ({ desk, report, settings }) =>
    eachReport<ChangeFuelReport>(
      desk,
      report,
      settings.tables,
      (found) => html`
        <p>${found.changed === "cells" ? "The cells change" : "The cells stay, the controller's fuel constants change"}:
          ${figure(100 * (found.massFactor - 1), 1)} % fuel by mass, ${figure(100 * (found.volumeFactor - 1), 1)} % by volume.</p>
        ${warn(found.static, "are open all the time: the fuel can't be given there and the engine runs lean", false)}
        ${warn(found.abovePlanning, "are above the planning ceiling", false)}
        ${warn(found.underSmallestPulse, "fall under the smallest repeatable pulse", false)}
        ${found.cautions.map((sentence) => html`<p class="warns">${sentence}</p>`)}
        ${assumed(found.assumptions)}`,
    ),
});

export const displacementForm = defineForm({
  kind: "change-displacement",
  title: "Change the displacement",
  about: "At the same efficiency, air and fuel of a cylinder scale with it.",
  group: "parts",
  start(desk) {
    const on = carried(desk);
    return on ? { settings: { ...on, toCc: desk.shown.build.engine.displacementCc } } : NO_TABLE;
  },
  fields: ({ desk, settings, change }) => html`
    ${numberField({
      label: "Displacement, new",
      explain: "displacement-new",
      value: settings.toCc,
      unit: "cc",
      desk,
      decimals: 0,
      change: (toCc) => change({ ...settings, toCc }),
    })}
    ${carriedFields(desk, settings, (part) => change({ ...settings, ...part }))}`,
  outcome: ({ desk, report, settings }) =>
    eachReport<PartChangeReport>(
      desk,
      report,
      settings.tables,
      (found) => html`<p>${found.sentence}</p>${assumed(found.assumptions)}`,
    ),
});

export const intakeForm = defineForm({
  kind: "change-intake",
  title: "Change the intake",
  about: "Solved as two orifices in series with the engine's demand.",
  group: "parts",
  start(desk) {
    const on = carried(desk);
    const { throttleBody, manifold } = desk.shown.build;
    if (!on) return NO_TABLE;
    if (!throttleBody && !manifold) return "Describe the throttle body or the manifold on the Build leaf first.";
    const to: SettingsOf<"change-intake">["to"] = {
      ...(throttleBody && { throttleBody: { ...throttleBody } }),
      ...(manifold && { manifold: { ...manifold } }),
    };
    return { settings: { ...on, to } };
  },
  fields({ desk, settings, change }) {
    const { to } = settings;
    const { throttleBody, manifold } = to;
    return html`
      ${
        throttleBody
          ? numberField({
              label: "Throttle body, bore",
              explain: "bore",
              value: throttleBody.diameterMm,
              unit: "mm",
              desk,
              decimals: 1,
              change: (diameterMm) =>
                change({ ...settings, to: { ...to, throttleBody: { ...throttleBody, diameterMm } } }),
            })
          : nothing
      }
      ${
        manifold?.effectiveAreaMm2 === undefined
          ? nothing
          : numberField({
              label: "Manifold, effective area of a passage",
              explain: "manifold-area",
              value: manifold.effectiveAreaMm2,
              unitText: "mm²",
              decimals: 0,
              change: (effectiveAreaMm2) =>
                change({ ...settings, to: { ...to, manifold: { ...manifold, effectiveAreaMm2 } } }),
            })
      }
      ${
        manifold?.flowBench
          ? numberField({
              label: "Manifold, flow of a passage on the bench",
              explain: "manifold-flow",
              value: manifold.flowBench.litresPerSecond,
              unitText: "L/s",
              decimals: 1,
              change: (litresPerSecond) =>
                change({
                  ...settings,
                  to: { ...to, manifold: { ...manifold, flowBench: { ...manifold.flowBench!, litresPerSecond } } },
                }),
            })
          : nothing
      }
      ${carriedFields(desk, settings, (part) => change({ ...settings, ...part }))}`;
  },
  outcome: ({ desk, report, settings }) =>
    eachReport<ChangeIntakeReport>(
      desk,
      report,
      settings.tables,
      (found) => html`<p>${found.sentence}</p>
        ${found.firstGuess ? FIRST_GUESS : nothing}
        ${airSentence(found)}
        ${assumed(found.assumptions)}`,
    ),
});

function airSentence({ fullThrottle }: ChangeIntakeReport) {
  const last = fullThrottle.at(-1);
  return last
    ? html`<p>At full throttle and ${figure(last.rpm)} rpm: ${figure(last.airChangePercent, 1)} % air,
        ${figure(last.manifoldKpaBefore, 1)} kPa before and ${figure(last.manifoldKpaAfter, 1)} kPa after at the valve.</p>`
    : nothing;
}

export const curveForm = defineForm({
  kind: "shape-cells",
  title: "Draw a curve",
  about:
    "Multiplies by a smooth curve through a few points: a cam, exhaust or intake whose effect is known at some speeds.",
  group: "parts",
  hasRegion: true,
  start: onTable((table, desk): SettingsOf<"shape-cells"> => {
    const { breakpoints } = table.rpm;
    const middle = breakpoints[Math.floor(breakpoints.length / 2)]!;
    return {
      ...selected(desk),
      along: "rpm",
      points: [...new Set([breakpoints[0]!, middle, breakpoints.at(-1)!])].map((place) => [place, 1] as const),
    };
  }),
  fields({ desk, settings, change }) {
    const axis = settings.along === "load" ? desk.table!.load : desk.table!.rpm;
    const put = (at: number, point: readonly [number, number]) =>
      change({ ...settings, points: settings.points.map((other, place) => (place === at ? point : other)) });
    return html`
      ${
        desk.table?.load.quantity === "single-row"
          ? nothing
          : choiceField(
              "Along",
              settings.along,
              [
                ["rpm", "rpm"],
                ["load", "load"],
              ],
              (along) => {
                const ends = along === "load" ? desk.table!.load.breakpoints : desk.table!.rpm.breakpoints;
                change({ ...settings, along, points: [[ends[0]!, 1], [ends.at(-1)!, 1]] }); // biome-ignore format: pairs
              },
              "",
              "curve-along",
            )
      }
      ${settings.points.map(
        ([place, factor], at) => html`
          ${numberField({ label: `Point ${at + 1}, at`, explain: "curve-point-at", value: place, unitText: axis.unit, decimals: 0, change: (x) => put(at, [x, factor]) })}
          ${numberField({ label: `Point ${at + 1}, change`, explain: "curve-point-change", value: 100 * (factor - 1), unitText: "%", decimals: 1, min: -90, change: (percent) => put(at, [place, 1 + percent / 100]) })}`,
      )}
      <div class="do" style="margin-top: 4px">
        <button @click=${() => change({ ...settings, points: [...settings.points, nextPoint(settings.points)] })}>Add a point</button>
        <button ?disabled=${settings.points.length < 2} @click=${() => change({ ...settings, points: settings.points.slice(0, -1) })}>Take the last out</button>
      </div>`;
  },
  outcome: () => html`${FIRST_GUESS}`,
});

function nextPoint(points: readonly (readonly [number, number])[]): [number, number] {
  const last = points.at(-1)!;
  const gap = points.length > 1 ? last[0] - points.at(-2)![0] : 500;
  return [last[0] + gap, last[1]];
}

export const convertForm = defineForm({
  kind: "convert-fuel-table",
  title: "Tell as another quantity",
  about: "The same fuel as pulse widths, masses or volumetric efficiencies, in a table beside this one.",
  group: "table",
  start(desk) {
    const { table } = desk;
    const { target, basePulse } = desk.job.roles;
    if (!table || !fuelTables(desk).includes(table)) return "Choose a table that meters fuel first.";
    return {
      table: table.id,
      settings: {
        to: table.quantity === "volumetric-efficiency" ? "pulse-width" : "volumetric-efficiency",
        ...(target !== undefined && { target }),
        ...(table.quantity === "trim" && basePulse !== undefined && { basePulse }),
      },
    };
  },
  fields: ({ desk, step, settings, change }) =>
    choiceField(
      "As",
      settings.to,
      (["pulse-width", "fuel-mass", "volumetric-efficiency"] as const)
        .filter((quantity) => quantity !== desk.shown.tables[step.table ?? ""]?.quantity)
        .map((quantity) => [quantity, quantity.replaceAll("-", " ")] as const),
      (to) => change({ ...settings, to }),
      "",
      "convert-as",
    ),
  outcome({ report }) {
    const found = report as Pick<PartChangeReport, "assumptions"> | undefined;
    return found
      ? html`<p class="quiet">Choose the new table above the grid once the step is kept.</p>${assumed(found.assumptions)}`
      : null;
  },
});
