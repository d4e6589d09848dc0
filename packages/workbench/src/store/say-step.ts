import type { FuelTable, Job, Region, Step } from "@fuelwright/table-core";
import { axesDisplay, type Display, figure, percentChange } from "./display.ts";
import { type Preferences, usualPreferences } from "./preferences.ts";

/** A step in words: a title of a few words, and a detail that says its settings. */
export interface SaidStep {
  readonly title: string;
  readonly detail: string;
}

/** How a region of the step's table is said. */
type Where = (region: Region | undefined) => string;

type Sayers = { [K in Step["kind"]]?: (step: Extract<Step, { kind: K }>, job: Job, where: Where) => SaidStep };

type SaidAxis = Pick<Display, "unit" | "decimals" | "show">;
const plain = { decimals: 2, show: (value: number) => value };

/** Where a region is, in words: "2,000–3,500 rpm, 40–70 kPa"; without a table there is no telling the load's unit. */
export function sayRegion(
  region: Region | undefined,
  table: Pick<FuelTable, "rpm" | "load"> | undefined,
  preferences: Pick<Preferences, "units" | "shownUnits"> = usualPreferences,
): string {
  if (!region || (!region.rpm && !region.load && !region.also?.length)) return "whole table";
  if (region.also?.length) return `${region.also.length + (region.rpm || region.load ? 1 : 0)} parts`;
  const axes = table && axesDisplay(table, preferences);
  const side = (range: readonly [number, number] | undefined, { unit, decimals, show }: SaidAxis) => {
    if (!range) return null;
    const [from, to] = range.map((value) => figure(show(value), decimals));
    return `${from === to ? from : `${from}–${to}`} ${unit}`;
  };
  const words = [
    side(region.rpm, axes?.rpm ?? { ...plain, unit: "rpm" }),
    table?.load.quantity === "single-row" ? null : side(region.load, axes?.load ?? { ...plain, unit: "of load" }),
  ];
  const soft = region.feather && (region.feather.rpm || region.feather.load) ? ", soft edge" : "";
  return words.filter(Boolean).join(", ") + soft;
}

const sayers: Sayers = {
  "set-cells": ({ settings }, _, where) => ({
    title: `Set to ${figure(settings.value, 3)}`,
    detail: where(settings.region),
  }),
  "scale-cells": ({ settings }, _, where) => ({
    title: `Scale ${percentChange(1, settings.factor)}`,
    detail: where(settings.region),
  }),
  "offset-cells": ({ settings }, _, where) => ({
    title: `${settings.amount < 0 ? "Take off" : "Add"} ${figure(Math.abs(settings.amount), 3)}`,
    detail: where(settings.region),
  }),
  "limit-cells": ({ settings: { min, max, region } }, _, where) => ({
    title:
      min !== undefined && max !== undefined
        ? `Keep within ${figure(min, 3)} and ${figure(max, 3)}`
        : min !== undefined
          ? `At least ${figure(min, 3)}`
          : `At most ${figure(max ?? 0, 3)}`,
    detail: where(region),
  }),
  "evaluate-cells": ({ settings }, _, where) => ({ title: settings.expression, detail: where(settings.region) }),
  "paste-cells": ({ settings: { rpm, load } }) => ({
    title: rpm.length * load.length === 1 ? "Type a cell" : "Paste a block",
    detail: `${load.length} × ${rpm.length} from ${figure(rpm[0]!)} rpm, ${figure(load[0]!)}`,
  }),
  "blend-tables": ({ settings }, job, where) => {
    const other = job.tables.find(({ id }) => id === settings.with.table)?.name ?? settings.with.table;
    const { weight } = settings;
    const how =
      typeof weight === "number"
        ? `${figure(100 * weight, 0)} %`
        : `${figure(100 * weight.from[1], 0)} to ${figure(100 * weight.to[1], 0)} % along ${weight.along}`;
    return {
      title: `Blend in ${settings.with.after ? "an earlier state" : other}`,
      detail: `${how}, ${where(settings.region)}`,
    };
  },
  "smooth-cells": ({ settings }, _, where) => ({
    title: "Smooth",
    detail: `${settings.strength === "auto" ? "as strongly as the table asks" : `strength ${figure(settings.rpmStrength ?? settings.strength ?? 0)} along rpm, ${figure(settings.loadStrength ?? settings.strength ?? 0)} along load`}, ${where(settings.region)}`,
  }),
  "rebin-table": ({ settings: { rpm, load } }) => ({
    title: "Other breakpoints",
    detail: [rpm && `${rpm.length} of rpm`, load && `${load.length} of load`].filter(Boolean).join(", ") || "none",
  }),
  "fill-cells": ({ settings }, _, where) => ({
    title: "Fill from around",
    detail: `${where(settings.region)}${settings.along && settings.along !== "both" ? `, along ${settings.along}` : ""}`,
  }),
  "extrapolate-cells": ({ settings: { rpm = [], load = [] } }) => ({
    title: "Extend the axes",
    detail: [
      rpm.length && `rpm to ${rpm.map((x) => figure(x)).join(", ")}`,
      load.length && `load to ${load.map((x) => figure(x)).join(", ")}`,
    ]
      .filter(Boolean)
      .join("; "),
  }),
  "quantise-table": ({ settings }) => ({
    title: "Round to what is stored",
    detail: `${settings.storage ? `steps of ${figure(settings.storage.step, 6)}` : "the table's own steps"}${settings.diffuse ? ", row means kept" : ""}`,
  }),
  "lock-cells": ({ settings }, _, where) => ({ title: "Lock", detail: where(settings.region) }),
  "unlock-cells": ({ settings }, _, where) => ({ title: "Unlock", detail: where(settings.region) }),
  "rescale-for-injectors": ({ settings }) => ({
    title: "Change the injectors",
    detail: `to ${settings.to.name}, ${figure(settings.to.flowGramsPerSecond)} g/s`,
  }),
  "change-fuel": ({ settings }) => ({ title: "Change the fuel", detail: `to ${settings.to.name}` }),
  "change-displacement": ({ settings }) => ({
    title: "Change the displacement",
    detail: `to ${figure(settings.toCc, 0)} cc`,
  }),
  "change-intake": ({ settings: { to } }) => ({
    title:
      to.throttleBody && to.manifold
        ? "Change the intake"
        : to.manifold
          ? "Change the manifold"
          : "Change the throttle body",
    detail: to.throttleBody ? `to a bore of ${figure(to.throttleBody.diameterMm, 1)} mm` : "solved",
  }),
  "convert-fuel-table": ({ settings }) => ({
    title: `Tell as ${settings.to.replaceAll("-", " ")}`,
    detail: "a table beside this one",
  }),
  "shape-cells": ({ settings }, _, where) => ({
    title: "Draw a curve",
    detail: `along ${settings.along}, ${settings.points.length} points, ${where(settings.region)}`,
  }),
  "split-by-cylinder": ({ settings }) => ({ title: "Split by cylinder", detail: `into ${settings.cylinders} tables` }),
  "join-cylinders": ({ settings }) => ({
    title: "Join the cylinders",
    detail: `${settings.tables.length} tables into a base and trims`,
  }),
  "copy-cylinder": ({ settings }, _, where) => ({
    title: `Copy cylinder ${settings.from}`,
    detail: where(settings.region),
  }),
  "apply-evidence": ({ settings: { evidence, fraction = 1, cap = 0.1, region } }, _, where) => ({
    title: evidence.simulated ? "From a made log" : "From evidence",
    detail: `${evidence.name}, ${fraction < 1 ? `${figure(100 * fraction, 0)} % of it, ` : ""}at most ${figure(100 * cap, 0)} %, ${where(region)}`,
  }),
  "retarget-mixture": ({ settings }, _, where) => {
    const word = (mixture: typeof settings.from) => (typeof mixture === "number" ? figure(mixture, 3) : "of the table");
    const { from, to } = settings;
    const title =
      typeof to !== "number"
        ? "Carry to the target"
        : typeof from !== "number"
          ? `Mixture to ${word(to)}`
          : to < from
            ? "Richer"
            : to > from
              ? "Leaner"
              : "Same mixture";
    return { title, detail: `lambda ${word(from)} to ${word(to)}, ${where(settings.region)}` };
  },
};

/** What a step does, in words, in the units of whoever reads it. */
export function sayStep(
  step: Step,
  job: Job,
  preferences: Pick<Preferences, "units" | "shownUnits"> = usualPreferences,
): SaidStep {
  const say = sayers[step.kind] as ((step: Step, job: Job, where: Where) => SaidStep) | undefined;
  const table = job.tables.find(({ id }) => id === step.table);
  return (
    say?.(step, job, (region) => sayRegion(region, table, preferences)) ?? {
      title: step.kind.replaceAll("-", " "),
      detail: "",
    }
  );
}
