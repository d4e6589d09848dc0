import type {
  AppliedEvidence,
  Assumption,
  CellNote,
  ChangeFuelReport,
  ChangeIntakeReport,
  FuelTable,
  InjectorLimits,
  JobState,
  QuantiseReport,
  RescaleReport,
  RetargetReport,
  SmoothingDescription,
  Step,
  SurfaceComparison,
} from "@fuelwright/table-core";
import { cellDisplay, figure } from "../../../store/display.ts";
import { fixed, say } from "../../say-figure.ts";
import type { Sentence, Tone } from "./blocks.ts";
import type { CardContext } from "./card-context.ts";
import { extremes } from "./extremes.ts";
import { counted, sayReach, signedPercent } from "./say-cells.ts";

/** What a report is told from. */
interface Told {
  readonly context: CardContext;
  readonly step: Step;
  readonly after: JobState;
  /** The table the report is about, as the step left it. */
  readonly table: FuelTable;
}

const sentence = (text: string, tone: Tone = "quiet"): Sentence => ({ text, tone });

/** What a step reports beside the cells it changed, in sentences. */
export function sayReport(context: CardContext, step: Step, report: unknown, after: JobState): readonly Sentence[] {
  if (step.kind === "shape-cells") return [sentence(FIRST_GUESS, "warns")];
  if (report === undefined || report === null) return [];
  const own = step.table === undefined ? undefined : after.tables[step.table];
  const each = <R>(tables: readonly string[], tell: (report: R, told: Told) => readonly Sentence[]) =>
    tables.flatMap((id) => {
      const one = (report as Readonly<Record<string, R>>)[id];
      const table = after.tables[id];
      return one && table ? tell(one, { context, step, after, table }) : [];
    });
  const about = <R>(tell: (report: R, told: Told) => readonly Sentence[]) =>
    own ? tell(report as R, { context, step, after, table: own }) : [];
  switch (step.kind) {
    case "rescale-for-injectors":
      return each(step.settings.tables, sayInjectors);
    case "change-fuel":
      return each(step.settings.tables, sayFuel);
    case "change-displacement":
    case "change-intake":
      return each(step.settings.tables, sayIntake);
    case "retarget-mixture":
      return about(sayMixture);
    case "apply-evidence":
      return about(sayEvidence);
    case "smooth-cells":
      return about(saySmoothing);
    case "rebin-table":
      return about(sayRebin);
    case "extrapolate-cells":
      return [
        sentence("Extrapolated: nothing has measured these cells. Run a new corner on the rich side first.", "warns"),
      ];
    case "quantise-table":
      return about(sayRounding);
    case "convert-fuel-table":
      return assumed((report as { assumptions: readonly Assumption[] }).assumptions);
    default:
      return [];
  }
}

const FIRST_GUESS = "A first guess: the cells stay marked until a log has corrected them.";

const assumed = (assumptions: readonly Assumption[]): Sentence[] =>
  assumptions.map(({ text, matters }) => sentence(`Assumed: ${text} ${matters ?? ""}`.trim()));

function cells({ context, table }: Told, notes: readonly CellNote[], words: string): Sentence[] {
  if (notes.length === 0) return [];
  return [
    sentence(`${counted(notes.length, "cell")}, ${sayReach(notes, table, context.preferences)}: ${words}.`, "warns"),
  ];
}

const limits = (told: Told, { static: open, abovePlanning, underSmallestPulse }: InjectorLimits): Sentence[] => [
  ...cells(told, open, "open all the time, the fuel can't be given there and the engine runs lean"),
  ...cells(told, abovePlanning, "above the planning ceiling"),
  ...cells(told, underSmallestPulse, "under the smallest repeatable pulse, idle may hunt"),
];

function sayInjectors(report: RescaleReport, told: Told): Sentence[] {
  const { constants, cells: rescaled } = report;
  const { context } = told;
  const list: Sentence[] = [];
  if (report.changed === "injector-constants")
    list.push(
      sentence(
        `The cells stay; into the controller go the new injectors' figures: flow ${say(context, constants.to.flowGramsPerSecond, "g/s", 3)}, ` +
          `${fixed(constants.to.flowCcPerMinute, 1)} cc/min, dead time ${fixed(constants.to.deadTimeMs, 3)} ms at ${figure(constants.volts, 1)} V.`,
        "plain",
      ),
    );
  if (rescaled) {
    const off = rescaled.fuelChangePercent.filter((percent) => Math.abs(percent) > 1e-6).length;
    list.push(
      sentence(
        off === 0
          ? "Every cell delivers the same fuel as before."
          : `${counted(off, "cell")} of ${rescaled.fuelChangePercent.length} can't deliver the same fuel as before; the rest do.`,
        off === 0 ? "quiet" : "warns",
      ),
    );
  }
  list.push(
    ...limits(told, report),
    ...cells(told, report.closed, "open no longer than the dead time"),
    ...cells(told, report.wasStatic, "open all the time already with the old set"),
  );
  if (report.band) list.push(sentence("Without the factory's pulse widths the trims are an estimate.", "warns"));
  return [...list, ...assumed(report.assumptions)];
}

function sayMixture(found: RetargetReport, told: Told): Sentence[] {
  const { context, after } = told;
  const { show, unit, decimals } = cellDisplay({ quantity: "lambda" }, context.preferences, after.build.fuel);
  const moved = found.fuelChangePercent
    ? Array.from(found.fuelChangePercent.keys()).filter((at) => found.lambdaBefore[at] !== found.lambdaAfter[at])
    : [];
  const span = (lambdas: Float64Array) => {
    const shown = moved.map((at) => show(lambdas[at]!));
    const [low, high] = extremes(shown).map((value) => fixed(value, decimals));
    return low === high ? low : `${low} to ${high}`;
  };
  const list: Sentence[] = [];
  if (found.changed === "target")
    list.push(sentence("The cells stay: a controller of efficiencies reads the mixture from its target table."));
  if (moved.length > 0)
    list.push(
      sentence(
        `Where it changes: ${unit} ${span(found.lambdaBefore)} before, ${span(found.lambdaAfter)} after; fuel ${percents(found.fuelChangePercent)}.`,
      ),
    );
  const lean = new Set(found.leanerAtHighLoad.map(({ at }) => at));
  return [
    ...list,
    ...cells(told, found.leanerAtHighLoad, "leaner at high load, where lean detonates and destroys engines"),
    ...cells(
      told,
      found.leanUnderLoad.filter(({ at }) => !lean.has(at)),
      "leaner than lambda 1 with the engine at work, and leaner than before",
    ),
    ...limits(told, found),
    ...(found.band ? [sentence("Without the factory's pulse widths the trims are an estimate.", "warns")] : []),
    ...assumed(found.assumptions),
  ];
}

function percents(changes: Float64Array): string {
  const [lowest, highest] = extremes(changes);
  const [low, high] = [Math.min(0, lowest), Math.max(0, highest)];
  if (low === 0 && high === 0) return "unchanged";
  if (low === 0) return `up to ${signedPercent(high)}`;
  return high === 0 ? `down to ${signedPercent(low)}` : `${signedPercent(low)} to ${signedPercent(high)}`;
}

const sayFuel = (found: ChangeFuelReport, told: Told): Sentence[] => [
  sentence(
    `${found.changed === "cells" ? "The cells change" : "The cells stay, the controller's fuel constants change"}: ` +
      `${signedPercent(100 * (found.massFactor - 1))} fuel by mass, ${signedPercent(100 * (found.volumeFactor - 1))} by volume.`,
  ),
  ...limits(told, found),
  ...found.cautions.map((text) => sentence(text, "warns")),
  ...assumed(found.assumptions),
];

function sayIntake(found: ChangeIntakeReport, told: Told): Sentence[] {
  const last = found.fullThrottle?.at(-1);
  const pressure = (kPa: number) => say(told.context, kPa, "kPa", 1);
  return [
    sentence(found.sentence),
    ...(found.firstGuess ? [sentence(FIRST_GUESS, "warns")] : []),
    ...(last
      ? [
          sentence(
            `At full throttle and ${figure(last.rpm, 0)} rpm: ${signedPercent(last.airChangePercent)} air, ` +
              `${pressure(last.manifoldKpaBefore)} before and ${pressure(last.manifoldKpaAfter)} after at the valve.`,
          ),
        ]
      : []),
    ...assumed(found.assumptions),
  ];
}

function sayEvidence(
  { changed, unsupported, doubtful, capped, simulated, fuel, assumptions }: AppliedEvidence,
  told: Told,
) {
  return [
    sentence(
      changed === 0
        ? "Nothing was proven well enough to change a cell."
        : `${counted(changed, "cell")} corrected; left alone: ${unsupported} without enough readings, ${doubtful} within their doubt` +
            `${capped ? `; held back by the limit: ${capped}` : ""}.`,
    ),
    ...(simulated ? [sentence("From a made log: for trying out, not for an engine.", "warns")] : []),
    ...(fuel
      ? [
          ...cells(
            told,
            fuel.leanerAtHighLoad,
            "less fuel at high load, where lean detonates; be sure of the sensor first",
          ),
          ...limits(told, fuel),
        ]
      : []),
    ...assumed(assumptions),
  ];
}

const saySmoothing = ({ smoothing }: { readonly smoothing: SmoothingDescription }): Sentence[] => [
  sentence(
    `Strength ${figure(smoothing.rpmStrength, 3)} along rpm, ${figure(smoothing.loadStrength, 3)} along load.` +
      `${smoothing.held ? ` ${counted(smoothing.held, "cell")} held fast.` : ""}${smoothing.keepsMean ? " The mean of the table is kept." : ""}`,
  ),
];

function sayRebin(found: SurfaceComparison, { context, table, after }: Told): Sentence[] {
  const [rise, fall] = [found.largestRise, found.largestFall];
  const most = Math.abs(fall?.absolute ?? 0) > (rise?.absolute ?? 0) ? fall : rise;
  if (!most) return [sentence("The surface stays the same everywhere.")];
  const { unit, decimals } = cellDisplay(table, context.preferences, after.build.fuel);
  return [
    sentence(
      `The surfaces differ by at most ${figure(Math.abs(most.absolute), decimals + 1)} ${table.quantity === "lambda" ? "lambda" : unit}, ` +
        `${signedPercent(most.percent, 2)}, at ${sayReach([most], table, context.preferences)}: nowhere more, also between breakpoints.`,
    ),
  ];
}

function sayRounding(found: QuantiseReport, { table, context }: Told): Sentence[] {
  const { largest, clipped, unstored } = found;
  return [
    sentence(
      largest
        ? `Rounding moves a cell by at most ${figure(Math.abs(largest.error), 4)} ${table.unit}, at ${sayReach([largest], table, context.preferences)}.`
        : "Every cell can be stored as it is.",
    ),
    ...(clipped.length
      ? [sentence(`${counted(clipped.length, "cell")} outside the range, cut off at its end.`, "warns")]
      : []),
    ...(unstored.length
      ? [sentence(`${counted(unstored.length, "locked cell")} can't be stored as they are.`, "warns")]
      : []),
  ];
}
