import { lookup } from "../lookup/lookup.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requirePositive, requireWhole, requireWithin, say } from "../values/require.ts";
import { type CancelSignal, throwIfCancelled } from "./cancel.ts";
import { GateTally } from "./count-gates.ts";
import type { DelayReport } from "./describe-dynamics.ts";
import { createGrid, type Dynamics } from "./dynamics-pass.ts";
import { fitResult } from "./fit-result.ts";
import { createGates, type Gate, type GateCount, usualGates } from "./gates.ts";
import { type Intake, type IntakeOptions, takeIn } from "./intake.ts";
import { FEWEST_READINGS, type FitPlan, refine, study, tooFew } from "./refine-fit.ts";
import type { LogSamples } from "./samples.ts";
import { coarse, delayProfile, searchDynamics, selectRows } from "./search-dynamics.ts";
import { axisColumn } from "./series.ts";
import type { EvidenceWarning, Suspect } from "./warnings.ts";

/** How far a fit has come. */
export interface FitProgress {
  readonly phase: "reading" | "searching" | "fitting";
  /** Rows read, or passes over the log done. */
  readonly done: number;
}

/** What {@link fitEvidence} takes. */
export interface FitEvidenceOptions {
  /** One log or several: of one machine, one table and the same sensors. */
  readonly logs: readonly LogSamples[];
  /** The table to be corrected; only its axes count, and its name for the result's. */
  readonly table: Pick<FuelTable, "rpm" | "load"> & Partial<Pick<FuelTable, "id" | "name" | "cylinder">>;
  /** `usualGates` unless said. */
  readonly gates?: readonly Gate[];
  /** Lambda sensors, from 1, that are fitted together; left out: all that the logs have. */
  readonly sensors?: readonly number[];
  /** Commanded lambda where the logs have no column for it: a number, or the target table. 1 unless said. */
  readonly commanded?: number | FuelTable;
  /** Injector dead time in ms, or by battery voltage; 0.9 unless said. Little depends on it. */
  readonly deadTime?: number | ((volts: number) => number);
  /** Delay and lag that are known and not to be searched for; `film`: likewise, null leaves it out. */
  readonly known?: Partial<Pick<Dynamics, "constant" | "flow" | "lag">> & {
    readonly film?: { readonly share: number; readonly time: number } | null;
  };
  /** Called now and then; if it returns a promise, the fit waits for it. */
  readonly onProgress?: (progress: FitProgress) => void | Promise<void>;
  readonly signal?: CancelSignal;
}

/** What the evidence says about one table: plain data, to be sent between workers as it is. */
export interface EvidenceFit {
  /** What each cell should be multiplied by (quantity `factor`). */
  readonly corrections: FuelTable;
  /** Standard deviation of each correction, as a share, row-major [load][rpm]. */
  readonly deviation: Float64Array;
  readonly coverage: {
    /** Readings that speak for each cell, in whole readings' worth. */
    readonly samples: Float64Array;
    /** The same in seconds. */
    readonly seconds: Float64Array;
    /** Mean of what the correction leaves, as a share; 0 where nothing was seen. */
    readonly residual: Float64Array;
    /** Standard deviation of what it leaves. */
    readonly spread: Float64Array;
  };
  readonly delay: DelayReport;
  readonly report: EvidenceReport;
  /**
   * Covariance of the log-corrections, as far as neighbours go: element of cells i ≥ j in the grid's numbering at
   * `i·band + j + band`; `order` gives the number of each cell, row-major.
   */
  readonly covariance: { readonly band: number; readonly values: Float64Array; readonly order: Int32Array };
}

/** How the result came about and what to think of it. */
export interface EvidenceReport {
  /** True if any of the logs was made by a simulation. */
  readonly simulated: boolean;
  readonly logs: readonly string[];
  /** Samples read. */
  readonly rows: number;
  /** Readings of lambda among them, each sensor counted. */
  readonly readings: number;
  /** Readings that the result rests on. */
  readonly used: number;
  readonly usedSeconds: number;
  readonly gates: readonly GateCount[];
  /** Which lambda sensors were used, from 1. */
  readonly sensors: readonly number[];
  /** Standard deviation of one reading, as a share, and how sure that is. */
  readonly noise: { readonly value: number; readonly deviation: number };
  /** How many readings in a row tell as much as one. */
  readonly inflation: number;
  /** How much bends along rpm, bends along load, and corrections themselves are held down; no unit. */
  readonly strengths: { readonly rpm: number; readonly load: number; readonly zero: number };
  /** How many free numbers the result is worth; at most the number of cells. */
  readonly effectiveDimension: number;
  /** A longer dead time than assumed, in ms: what corrections that grow with 1/pulse would mean. */
  readonly deadTime: Suspect | null;
  /** How the mixture drifts with the coolant: share for 10 °C. */
  readonly warmth: Suspect | null;
  readonly warnings: readonly EvidenceWarning[];
}

/** Breakpoints a side on which corrections are found; finer tables get them by interpolation. */
const FINEST_SIDE = 40;
/** Rows a sensor on which dynamics, weights and strengths are worked out before the last pass over everything. */
const REFINING_ROWS = 150_000;
/** Work of one factorisation, cells times band squared, that is still a fraction of a second. */
const MOST_WORK = 1.5e8;

/**
 * Corrections of a table from wideband logs, with how sure each is, and the delay, lag and fuel film that were found.
 *
 * The logs stream through. Some hours are kept in memory; of longer logs a part, in which dynamics are searched for, and
 * the sums of the result go through all of them again. Cells that nothing supports get a correction near that of their
 * neighbours, and a large deviation.
 *
 * @example
 * const { corrections, deviation, delay, report } = await fitEvidence({ logs: [await readLog(file)], table });
 * @throws FuelwrightError `evidence-no-logs`, `evidence-no-rows`, `evidence-no-column`, `evidence-no-lambda`,
 *   `evidence-all-gated`, `evidence-too-few`, `cancelled`, and what the logs throw
 */
export async function fitEvidence(options: FitEvidenceOptions): Promise<EvidenceFit> {
  const { plan, intake, taken } = await takeLogs(options);
  return fitTaken(options, plan, intake, taken);
}

/**
 * One fit for each lambda sensor, for cylinders or banks with tables of their own; the results' tables carry the
 * sensor's number as cylinder. Same options and errors as {@link fitEvidence}.
 */
export async function fitEvidenceApart(options: FitEvidenceOptions): Promise<EvidenceFit[]> {
  const { plan, intake, taken } = await takeLogs(options);
  const fits: EvidenceFit[] = [];
  for (const [sensor, channel] of taken.channels.entries()) {
    const parts = taken.parts.filter((part) => part.sensor === sensor).map((part) => ({ ...part, sensor: 0 }));
    const own = { ...options, table: { ...options.table, cylinder: channel } };
    fits.push(await fitTaken(own, plan, { ...intake, channels: [channel] }, { ...taken, parts, channels: [channel] }));
  }
  return fits;
}

async function takeLogs(options: FitEvidenceOptions) {
  const plan = planFit(options);
  const intake: IntakeOptions = {
    logs: options.logs,
    setup: plan.setup,
    channels: options.sensors ?? null,
    signal: options.signal,
    onRows: (rows) => tell(options, "reading", rows),
  };
  return { plan, intake, taken: await takeIn(intake) };
}

async function tell(
  { onProgress, signal }: FitEvidenceOptions,
  phase: FitProgress["phase"],
  done: number,
): Promise<void> {
  throwIfCancelled(signal);
  const waiting = onProgress?.({ phase, done });
  if (waiting) await waiting;
  throwIfCancelled(signal);
}

function planFit(options: FitEvidenceOptions): FitPlan {
  const { logs, table, commanded = 1, deadTime = 0.9, known = {} } = options;
  if (!Array.isArray(logs) || logs.length === 0)
    throw new FuelwrightError(
      "evidence-no-logs",
      `fitEvidence: logs must be a list of logs, got ${say(logs)}; choose at least one`,
    );
  for (const sensor of options.sensors ?? []) requireWhole("fitEvidence: sensors", sensor, 1, 64);
  if (typeof commanded === "number") requireWithin("fitEvidence: commanded", commanded, 0.4, 2.5);
  if (typeof deadTime === "number") requireWithin("fitEvidence: deadTime", deadTime, 0, 10);
  for (const key of ["constant", "flow", "lag"] as const)
    if (known[key] !== undefined) requireWithin(`fitEvidence: known.${key}`, known[key], 0, 5);
  if (known.film) {
    requireWithin("fitEvidence: known.film.share", known.film.share, 0, 0.9);
    requirePositive("fitEvidence: known.film.time", known.film.time);
  }
  const grid = createGrid(coarse(table.rpm, FINEST_SIDE), coarse(table.load, FINEST_SIDE));
  const least = 2 * Math.max(grid.xStep, grid.yStep);
  const band = Math.min(grid.cells - 1, Math.max(least, Math.floor(Math.sqrt(MOST_WORK / grid.cells))));
  const gates = createGates(options.gates ?? usualGates, "fitEvidence: gates");
  const target = typeof commanded === "number" ? null : commanded;
  return {
    grid,
    band,
    gates,
    setup: {
      xQuantity: axisColumn(table.rpm)!,
      yQuantity: axisColumn(table.load),
      gates,
      deadTime: typeof deadTime === "number" ? () => deadTime : deadTime,
      commanded: target
        ? (rpm, load) => (Number.isFinite(rpm + load) ? lookup(target, { rpm, load }) : Number.NaN)
        : () => commanded as number,
      pause: 0.5,
    },
  };
}

/** Refuses logs that cannot be fitted, saying what is missing. */
function requireUsable(taken: Intake, plan: FitPlan): void {
  if (taken.channels.length === 0 || taken.readings === 0)
    throw new FuelwrightError(
      "evidence-no-lambda",
      "fitEvidence: the logs hold no readings of lambda; a wideband sensor must be logged, or its column named",
    );
  for (const quantity of [plan.setup.xQuantity, plan.setup.yQuantity])
    if (quantity && !taken.found.has(quantity))
      throw new FuelwrightError(
        "evidence-no-column",
        `fitEvidence: the table runs along ${quantity}, and the logs have no column for it; name the column, or log it`,
        { quantity },
      );
}

async function fitTaken(
  options: FitEvidenceOptions,
  plan: FitPlan,
  intake: IntakeOptions,
  taken: Intake,
): Promise<EvidenceFit> {
  requireUsable(taken, plan);
  requireReadings(taken, plan);
  let passes = 0;
  const searched = await searchDynamics(taken.parts, plan.grid, {
    sensors: taken.channels.length,
    known: options.known ?? {},
    hasFuel: taken.parts.some(({ series }) => series.hasFuel),
    onPass: () => tell(options, "searching", ++passes),
  });
  let done = 0;
  const onPass = () => tell(options, "fitting", ++done);
  const refined = await refine(selectRows(taken.parts, REFINING_ROWS), plan, searched, onPass);
  const studied = await study(options, plan, intake, taken, searched, refined);
  await onPass();
  const profile = searched.unknowns.some(({ key }) => key === "flow" || key === "constant")
    ? await delayProfile(taken.parts, plan.grid, studied.dynamics, onPass)
    : [];
  return fitResult(options, plan, taken, searched, studied, profile);
}

/** Before anything is fitted: are there readings that no gate removes? */
function requireReadings(taken: Intake, plan: FitPlan): void {
  let kept = 0;
  const tally = new GateTally();
  for (const [mask, count] of taken.dropped) tally.add(mask, count);
  for (const { series } of taken.parts)
    for (let at = series.lead; at < series.count; at++) {
      if (series.mask[at] !== 0) tally.add(series.mask[at]!);
      else if (!Number.isNaN(series.measured[at])) kept++;
    }
  if (kept >= FEWEST_READINGS) return;
  const gates = tally.counts(plan.gates).filter(({ removed }) => removed > 0);
  if (gates.length > 0)
    throw new FuelwrightError(
      "evidence-all-gated",
      `fitEvidence: gates leave ${kept} of ${taken.readings} readings (${gates
        .map(({ label, removed }) => `${label} ${removed}`)
        .join(", ")}); loosen them, or log a longer ride`,
      { kept, readings: taken.readings, gates },
    );
  throw tooFew(kept);
}
