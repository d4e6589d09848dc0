import type { FuelTable, Job, Region, Step } from "@fuelwright/table-core";
import { figure, percentChange } from "./display.ts";

/** A step in words: a title of a few words, and a detail that says its settings. */
export interface SaidStep {
  readonly title: string;
  readonly detail: string;
}

type Sayers = { [K in Step["kind"]]?: (step: Extract<Step, { kind: K }>, job: Job) => SaidStep };

/** Where a region is, in words: "2,000–3,500 rpm, 40–70 kPa". */
export function sayRegion(region: Region | undefined, table?: Pick<FuelTable, "rpm" | "load">): string {
  if (!region || (!region.rpm && !region.load && !region.also?.length)) return "whole table";
  if (region.also?.length) return `${region.also.length + (region.rpm || region.load ? 1 : 0)} parts`;
  const side = (range: readonly [number, number] | undefined, unit: string) => {
    if (!range) return null;
    const [from, to] = range;
    return from === to ? `${figure(from)} ${unit}` : `${figure(from)}–${figure(to)} ${unit}`;
  };
  const words = [
    side(region.rpm, table?.rpm.unit ?? "rpm"),
    table?.load.quantity === "single-row" ? null : side(region.load, table?.load.unit ?? "kPa"),
  ];
  const soft = region.feather && (region.feather.rpm || region.feather.load) ? ", soft edge" : "";
  return words.filter(Boolean).join(", ") + soft;
}

const sayers: Sayers = {
  "set-cells": ({ settings }) => ({ title: `Set to ${figure(settings.value, 3)}`, detail: sayRegion(settings.region) }),
  "scale-cells": ({ settings }) => ({
    title: `Scale ${percentChange(1, settings.factor)}`,
    detail: sayRegion(settings.region),
  }),
  "offset-cells": ({ settings }) => ({
    title: `${settings.amount < 0 ? "Take off" : "Add"} ${figure(Math.abs(settings.amount), 3)}`,
    detail: sayRegion(settings.region),
  }),
  "limit-cells": ({ settings: { min, max, region } }) => ({
    title:
      min !== undefined && max !== undefined
        ? `Keep within ${figure(min, 3)} and ${figure(max, 3)}`
        : min !== undefined
          ? `At least ${figure(min, 3)}`
          : `At most ${figure(max ?? 0, 3)}`,
    detail: sayRegion(region),
  }),
  "evaluate-cells": ({ settings }) => ({ title: settings.expression, detail: sayRegion(settings.region) }),
  "paste-cells": ({ settings: { rpm, load } }) => ({
    title: rpm.length * load.length === 1 ? "Type a cell" : "Paste a block",
    detail: `${load.length} × ${rpm.length} from ${figure(rpm[0]!)} rpm, ${figure(load[0]!)}`,
  }),
  "blend-tables": ({ settings }, job) => {
    const other = job.tables.find(({ id }) => id === settings.with.table)?.name ?? settings.with.table;
    const { weight } = settings;
    const how =
      typeof weight === "number"
        ? `${figure(100 * weight, 0)} %`
        : `${figure(100 * weight.from[1], 0)} to ${figure(100 * weight.to[1], 0)} % along ${weight.along}`;
    return {
      title: `Blend in ${settings.with.after ? "an earlier state" : other}`,
      detail: `${how}, ${sayRegion(settings.region)}`,
    };
  },
  "smooth-cells": ({ settings }) => ({
    title: "Smooth",
    detail: `${settings.strength === "auto" ? "as strongly as the table asks" : `strength ${figure(settings.rpmStrength ?? settings.strength ?? 0)} along rpm, ${figure(settings.loadStrength ?? settings.strength ?? 0)} along load`}, ${sayRegion(settings.region)}`,
  }),
  "rebin-table": ({ settings: { rpm, load } }) => ({
    title: "Other breakpoints",
    detail: [rpm && `${rpm.length} of rpm`, load && `${load.length} of load`].filter(Boolean).join(", ") || "none",
  }),
  "fill-cells": ({ settings }) => ({
    title: "Fill from around",
    detail: `${sayRegion(settings.region)}${settings.along && settings.along !== "both" ? `, along ${settings.along}` : ""}`,
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
  "lock-cells": ({ settings }) => ({ title: "Lock", detail: sayRegion(settings.region) }),
  "unlock-cells": ({ settings }) => ({ title: "Unlock", detail: sayRegion(settings.region) }),
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
  "shape-cells": ({ settings }) => ({
    title: "Draw a curve",
    detail: `along ${settings.along}, ${settings.points.length} points, ${sayRegion(settings.region)}`,
  }),
  "split-by-cylinder": ({ settings }) => ({ title: "Split by cylinder", detail: `into ${settings.cylinders} tables` }),
  "join-cylinders": ({ settings }) => ({
    title: "Join the cylinders",
    detail: `${settings.tables.length} tables into a base and trims`,
  }),
  "copy-cylinder": ({ settings }) => ({ title: `Copy cylinder ${settings.from}`, detail: sayRegion(settings.region) }),
  "apply-evidence": ({ settings: { evidence, fraction = 1, cap = 0.1, region } }) => ({
    title: evidence.simulated ? "From a made log" : "From evidence",
    detail: `${evidence.name}, ${fraction < 1 ? `${figure(100 * fraction, 0)} % of it, ` : ""}at most ${figure(100 * cap, 0)} %, ${sayRegion(region)}`,
  }),
  "retarget-mixture": ({ settings }) => {
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
    return { title, detail: `lambda ${word(from)} to ${word(to)}, ${sayRegion(settings.region)}` };
  },
};

/** What a step does, in words. */
export function sayStep(step: Step, job: Job): SaidStep {
  const say = sayers[step.kind] as ((step: Step, job: Job) => SaidStep) | undefined;
  return say?.(step, job) ?? { title: step.kind.replaceAll("-", " "), detail: "" };
}
