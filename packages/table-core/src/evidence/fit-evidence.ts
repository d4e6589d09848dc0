import { lookup } from "../lookup/lookup.ts";
import { chooseStrengths } from "../numeric/restricted-likelihood.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { requirePositive, requireWhole, requireWithin, say } from "../values/require.ts";
import { gridBends, gridPenalty } from "./bends.ts";
import { type CancelSignal, throwIfCancelled } from "./cancel.ts";
import { GateTally } from "./count-gates.ts";
import { type DelayReport, describeDynamics } from "./describe-dynamics.ts";
import { createGrid, type Dynamics, type Grid, gridOrder } from "./dynamics-pass.ts";
import { explainedBy, ResidualStudy } from "./final-pass.ts";
import {
  type DynamicsBySensor,
  type Joint,
  moved,
  passOver,
  priorPull,
  robustScale,
  type SensorSeries,
  solveJoint,
  solveSmall,
} from "./find-dynamics.ts";
import { firstSmoothness, fitSurface, type Smoothness } from "./fit-surface.ts";
import { createGates, type Gate, type GateCount, structuralBits, usualGates } from "./gates.ts";
import { eachPart, type Intake, type IntakeOptions, takeIn } from "./intake.ts";
import { NormalSums } from "./normal-sums.ts";
import type { LogSamples } from "./samples.ts";
import { coarse, delayProfile, type Searched, searchDynamics, selectRows } from "./search-dynamics.ts";
import { axisColumn, type SeriesSetup } from "./series.ts";
import { type EvidenceWarning, type Suspect, warningsOf } from "./warnings.ts";

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
  readonly rows: number;
  readonly readings: number;
  /** Readings that the result rests on. */
  readonly used: number;
  readonly usedSeconds: number;
  readonly gates: readonly GateCount[];
  readonly sensors: readonly number[];
  /** Standard deviation of one reading, as a share, and how sure that is. */
  readonly noise: { readonly value: number; readonly deviation: number };
  /** How many readings in a row tell as much as one. */
  readonly inflation: number;
  readonly strengths: { readonly rpm: number; readonly load: number; readonly zero: number };
  readonly effectiveDimension: number;
  /** A longer dead time than assumed, in ms: what corrections that grow with 1/pulse would mean. */
  readonly deadTime: Suspect | null;
  /** How the mixture drifts with the coolant: share for 10 °C. */
  readonly warmth: Suspect | null;
  readonly warnings: readonly EvidenceWarning[];
}

/** Breakpoints a side on which corrections are found; finer tables get them by interpolation. */
const FINEST_SIDE = 40;
/** Readings without which nothing can be said. */
const FEWEST_READINGS = 40;
/** Rows a sensor on which dynamics, weights and strengths are worked out before the last pass over everything. */
const REFINING_ROWS = 150_000;
/** Passes in which cells, dynamics, weights and strengths follow one another. */
const REFINING_PASSES = 5;
/** Work of one factorisation, cells times band squared, that is still a fraction of a second. */
const MOST_WORK = 1.5e8;

interface FitPlan {
  readonly grid: Grid;
  readonly band: number;
  readonly gates: readonly Gate[];
  readonly setup: Omit<SeriesSetup, "channel">;
}

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
  return result(options, plan, taken, searched, studied, profile);
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

const tooFew = (kept: number) =>
  new FuelwrightError(
    "evidence-too-few",
    `fitEvidence: only ${kept} readings can be used, at least ${FEWEST_READINGS} are needed; log a longer ride`,
    { kept },
  );

interface Refined {
  readonly dynamics: DynamicsBySensor;
  readonly cells: Float64Array;
  readonly smooth: Smoothness;
  readonly scale: number;
  readonly inflation: number;
  readonly explained: readonly Float64Array[];
}

/** Cells on the full grid, with dynamics, weights, strengths and stiffness following one another. */
async function refine(
  parts: readonly SensorSeries[],
  plan: FitPlan,
  searched: Searched,
  onPass: () => Promise<void>,
): Promise<Refined> {
  const { grid, band } = plan;
  const { unknowns } = searched;
  let { dynamics } = searched;
  let smooth: Smoothness = { ...firstSmoothness(grid), ...(searched.scale > 0 && { strengths: searched.strengths }) };
  const first = passOver(parts, dynamics, { grid, band, unknowns: [], cells: null, scale: 1, robustness: "none" });
  await onPass();
  if (first.sums.count < FEWEST_READINGS) throw tooFew(first.sums.count);
  let fit = fitSurface(first.sums, grid, smooth, 0);
  let { cells } = fit;
  let scale = searched.scale || Math.sqrt(fit.variance);
  let inflation = 1;
  let explained: Float64Array[] = [];
  for (let pass = 0; pass < REFINING_PASSES; pass++) {
    const study = new ResidualStudy(grid.cells, [], scale);
    const residuals: number[] = [];
    let part: SensorSeries | null = null;
    const { sums } = passOver(parts, dynamics, {
      grid,
      band,
      unknowns,
      cells,
      scale,
      robustness: "final",
      suspects: true,
      onReading: (owner, at, row, residual, weight, extra) => {
        if (owner !== part) study.endStretch();
        part = owner;
        study.add(owner.series.time[at]!, row, residual, weight, extra);
        if (study.count % 8 === 0) residuals.push(residual);
      },
    });
    await onPass();
    inflation = study.inflation();
    scale = robustScale(Float64Array.from(residuals)) || scale;
    const tempered = sums.tempered(inflation);
    fit = fitSurface(tempered, grid, { strengths: fit.strengths, stiffness: smooth.stiffness }, 2);
    smooth = fit;
    explained = explainedBy(tempered, fit.solve);
    const { precision, pull } = priorPull(dynamics, unknowns, scale * scale);
    const joint = solveJoint(tempered, fit, unknowns.length, precision, pull, 0);
    let change = 0;
    for (let i = 0; i < grid.cells; i++) change = Math.max(change, Math.abs(joint.cells[i]! - cells[i]!));
    dynamics = moved(dynamics, unknowns, joint.move);
    cells = joint.cells;
    if (pass > 0 && change < 0.05 * scale) break;
  }
  return { dynamics, cells, smooth, scale, inflation, explained };
}

interface Studied extends Refined {
  readonly sums: NormalSums;
  readonly fit: ReturnType<typeof fitSurface>;
  readonly residuals: ResidualStudy;
  readonly tally: GateTally;
  readonly joint: Joint;
  readonly seconds: number;
  readonly stops: { readonly rich: number; readonly lean: number };
  readonly rows: number;
  readonly readings: number;
}

/** The last pass, over all logs from end to end: the sums of the result, and what the residuals say. */
async function study(
  options: FitEvidenceOptions,
  plan: FitPlan,
  intake: IntakeOptions,
  taken: Intake,
  searched: Searched,
  refined: Refined,
): Promise<Studied> {
  const { grid, band, gates } = plan;
  const { unknowns } = searched;
  const { dynamics, cells, scale } = refined;
  const sums = new NormalSums(grid.cells, band, unknowns.length + 2);
  const residuals = new ResidualStudy(grid.cells, refined.explained, scale);
  const tally = new GateTally();
  const stops = { rich: 0, lean: 0 };
  const stopBits = gates.reduce((bits, gate, at) => (gate.kind === "sensor-range" ? bits | (1 << at) : bits), 0);
  let seconds = 0;
  const takePart = (part: SensorSeries) => {
    const { series } = part;
    residuals.endStretch();
    const pass = passOver([part], dynamics, {
      grid,
      band,
      unknowns,
      cells,
      scale,
      robustness: "final",
      suspects: true,
      onReading: (_part, at, row, residual, weight, extra) => {
        residuals.add(series.time[at]!, row, residual, weight, extra);
        seconds += Math.min(
          0.5,
          Math.max(0, at > 0 && series.since[at] !== at ? series.time[at]! - series.time[at - 1]! : 0),
        );
      },
    });
    sums.merge(pass.sums);
    tally.add(structuralBits.settling, pass.settling);
    for (let at = series.lead; at < series.count; at++) {
      const mask = series.mask[at]!;
      if (mask === 0) continue;
      tally.add(mask);
      // At a stop for no other reason, and not just after a cut.
      if ((mask & ~stopBits) === 0 && series.unfit[at] === series.unfit[Math.max(series.since[at]!, at - 100)])
        if (series.measured[at]! < 0) stops.rich++;
        else stops.lean++;
    }
  };
  let { rows, readings, dropped } = taken;
  if (taken.partly) ({ rows, readings, dropped } = await eachPart(intake, takePart));
  else for (const part of taken.parts) takePart(part);
  throwIfCancelled(options.signal);
  for (const [mask, count] of dropped) tally.add(mask, count);
  const inflation = residuals.inflation();
  const tempered = sums.tempered(inflation);
  const fit = fitSurface(tempered, grid, refined.smooth, 2);
  const { precision, pull } = priorPull(dynamics, unknowns, fit.variance);
  const joint = solveJoint(tempered, fit, unknowns.length, precision, pull, 0);
  return {
    ...refined,
    // One more step, as all readings together want it; next to nothing where they were all there before.
    cells: joint.cells,
    dynamics: moved(dynamics, unknowns, joint.move),
    inflation,
    sums: tempered,
    fit,
    residuals,
    tally,
    joint,
    stops,
    rows,
    readings,
    seconds: seconds / Math.max(1, taken.channels.length),
    explained: explainedBy(tempered, fit.solve),
  };
}

/** Covariance of the first `used` extras: plain, or from the blocks of residuals where that is wider. */
function extrasCovariance(
  schur: Float64Array,
  used: number,
  variance: number,
  together: Float64Array,
  extras: number,
  inflation: number,
) {
  const columns = Array.from({ length: used }, (_, e) => {
    const unit = new Float64Array(used);
    unit[e] = 1;
    return solveSmall(schur, unit, used);
  });
  const plain = new Float64Array(used * used);
  const blocks = new Float64Array(used * used);
  for (let e = 0; e < used; e++)
    for (let f = 0; f < used; f++) {
      plain[e * used + f] = variance * columns[f]![e]!;
      let sum = 0;
      for (let a = 0; a < used; a++)
        for (let b = 0; b < used; b++) sum += columns[e]![a]! * together[a * extras + b]! * columns[f]![b]!;
      // Scores were summed over all readings, the block is of tempered ones.
      blocks[e * used + f] = sum / (inflation * inflation);
    }
  const wider = new Float64Array(used * used);
  const factors = Float64Array.from({ length: used }, (_, e) =>
    Math.sqrt(Math.max(1, blocks[e * used + e]! / Math.max(plain[e * used + e]!, 1e-300))),
  );
  for (let e = 0; e < used; e++)
    for (let f = 0; f < used; f++) wider[e * used + f] = plain[e * used + f]! * factors[e]! * factors[f]!;
  return wider;
}

function result(
  options: FitEvidenceOptions,
  plan: FitPlan,
  taken: Intake,
  searched: Searched,
  studied: Studied,
  profile: DelayReport["profile"],
): EvidenceFit {
  const { grid } = plan;
  const { unknowns } = searched;
  const { fit, residuals, sums, inflation } = studied;
  const { variance } = fit;
  const n = unknowns.length;
  const covariance = extrasCovariance(
    studied.joint.schur,
    n,
    variance,
    residuals.extraTogether,
    sums.extras,
    inflation,
  );
  const order = gridOrder(grid);
  const own = cellCovariance(studied, n, covariance);
  const { band } = own;
  const cellDeviation = Float64Array.from({ length: grid.cells }, (_, at) =>
    Math.sqrt(own.values[at * band + at + band]!),
  );
  const toTable = (values: Float64Array) => spreadOver(options.table, grid, order, values);
  const factor = toTable(studied.cells).map(Math.exp);
  const { id = "table", name = "table", cylinder } = options.table;
  const corrections = createTable({
    id: `${id}-correction`.slice(0, 100),
    name: `${name}: correction from evidence`.slice(0, 200),
    quantity: "factor",
    rpm: options.table.rpm,
    load: options.table.load,
    cells: factor,
    ...(cylinder !== undefined && { cylinder }),
  });
  const { share } = residuals;
  const second = studied.seconds / Math.max(1, residuals.count / Math.max(1, taken.channels.length));
  const mean = share.map((weight, at) => (weight > 0 ? residuals.sum[at]! / weight : 0));
  const spread = share.map((weight, at) =>
    weight > 0 ? Math.sqrt(Math.max(0, residuals.square[at]! / weight - mean[at]! ** 2)) : 0,
  );
  const degrees = Math.max(1, residuals.weight - fit.effectiveDimension() * inflation);
  const noise = Math.sqrt(residuals.weightedSquare / degrees);
  const delay = describeDynamics(studied.dynamics, unknowns, covariance, taken.channels, profile);
  const hasFuel = taken.parts.some(({ series }) => series.hasFuel);
  const suspects = {
    deadTime: hasFuel ? suspect(studied, plan, n, n, inflation) : null,
    warmth: taken.found.has("coolant-temperature") ? suspect(studied, plan, n, n + 1, inflation) : null,
  };
  const simulated = options.logs.some((log) => log.simulated);
  const gates = studied.tally.counts(plan.gates);
  const report: Omit<EvidenceReport, "warnings"> = {
    simulated,
    logs: options.logs.map((log) => log.name),
    rows: studied.rows,
    readings: studied.readings,
    used: residuals.count,
    usedSeconds: studied.seconds,
    gates,
    sensors: taken.channels,
    noise: { value: noise, deviation: noise / Math.sqrt((2 * degrees) / inflation) },
    inflation,
    strengths: { rpm: fit.strengths[0]!, load: fit.strengths[1]!, zero: fit.strengths[2]! },
    effectiveDimension: fit.effectiveDimension(),
    ...suspects,
  };
  const warnings = warningsOf({
    report,
    delay,
    found: taken.found,
    commandedGiven: options.commanded !== undefined,
    delayKnown: n === 0,
    stops: studied.stops,
    leanSpikes: residuals.leanSpikes,
    outliers: residuals.outliers,
    wide: sums.wide,
    coarse:
      grid.x.breakpoints.length < options.table.rpm.breakpoints.length ||
      grid.y.breakpoints.length < options.table.load.breakpoints.length,
  });
  return {
    corrections,
    deviation: toTable(cellDeviation),
    coverage: {
      samples: toTable(share),
      seconds: toTable(share.map((s) => s * second)),
      residual: toTable(mean),
      spread: toTable(spread),
    },
    delay,
    report: { ...report, warnings },
    covariance: { ...own, order },
  };
}

/** Values in the grid's numbering as row-major cells of the table, interpolated where the table is finer. */
function spreadOver(
  table: FitEvidenceOptions["table"],
  grid: Grid,
  order: Int32Array,
  values: Float64Array,
): Float64Array {
  const cells = Float64Array.from(order, (at) => values[at]!);
  if (
    grid.x.breakpoints.length === table.rpm.breakpoints.length &&
    grid.y.breakpoints.length === table.load.breakpoints.length
  )
    return cells;
  const coarseTable = { rpm: grid.x, load: grid.y, cells } as FuelTable;
  return Float64Array.from(
    table.load.breakpoints.flatMap((load) => table.rpm.breakpoints.map((rpm) => lookup(coarseTable, { rpm, load }))),
  );
}

/**
 * Covariance of the cells: of the penalised fit, wider where residuals of a cell hang together more than elsewhere, and
 * with what the dynamics' own uncertainty adds.
 */
function cellCovariance(studied: Studied, unknowns: number, dynamics: Float64Array) {
  const { fit, residuals, inflation, explained } = studied;
  const { band } = fit.inverse();
  const cells = fit.cells.length;
  // Few blocks tell little about how they hang together; ten blocks' worth of the whole log stand beside them.
  const widen = Float64Array.from({ length: cells }, (_, at) => {
    const ratio = residuals.apart[at]! > 0 ? residuals.together[at]! / residuals.apart[at]! : inflation;
    const blocks = residuals.blocks[at]!;
    return Math.sqrt(Math.max(1, (blocks * ratio + 10 * inflation) / (blocks + 10) / inflation));
  });
  const values = new Float64Array(fit.inverse().values.length);
  for (let i = 0; i < cells; i++)
    for (let j = Math.max(0, i - band); j <= i; j++) {
      const at = i * band + j + band;
      let value = fit.variance * fit.inverse().values[at]! * widen[i]! * widen[j]!;
      for (let e = 0; e < unknowns; e++)
        for (let f = 0; f < unknowns; f++) value += explained[e]![i]! * dynamics[e * unknowns + f]! * explained[f]![j]!;
      values[at] = value;
    }
  return { band, values };
}

/**
 * A suspect beside the cells: its value, and whether the log speaks for it more than for a change of cells.
 *
 * Strengths are chosen anew with its effect taken out: if the surface then needs less, the restricted likelihood says so.
 */
function suspect(studied: Studied, plan: FitPlan, unknowns: number, at: number, inflation: number): Suspect | null {
  const { sums, fit, residuals } = studied;
  const { grid } = plan;
  const { cells, extras } = sums;
  if (sums.corner[at * extras + at] === 0) return null;
  const penalties = gridPenalty(grid, gridBends(grid), fit.stiffness);
  const column = sums.cross.slice(at * cells, (at + 1) * cells);
  let value = 0;
  let now: { strengths: readonly number[]; solve: typeof fit.solve; criterion: number; variance: number } = fit;
  const without = chooseStrengths(sums, penalties, fit.strengths, { rounds: 2 });
  let schur = new Float64Array();
  const kept = [...Array.from({ length: unknowns }, (_, k) => k), at];
  const size = kept.length;
  for (let round = 0; round < 2; round++) {
    const whole = solveJoint(sums, now, extras, new Float64Array(extras), new Float64Array(extras), 0);
    schur = Float64Array.from(
      { length: size * size },
      (_, k) => whole.schur[kept[Math.floor(k / size)]! * extras + kept[k % size]!]!,
    );
    value = solveSmall(
      schur,
      Float64Array.from(kept, (k) => whole.right[k]!),
      size,
    )[size - 1]!;
    const right = sums.right.map((sum, i) => sum - value * column[i]!);
    const square = sums.square - 2 * value * sums.extraRight[at]! + value * value * sums.corner[at * extras + at]!;
    now = chooseStrengths({ cells, matrix: sums.matrix, right, square, count: sums.count }, penalties, now.strengths, {
      rounds: 3,
    });
  }
  const together = Float64Array.from(
    { length: size * size },
    (_, k) => residuals.extraTogether[kept[Math.floor(k / size)]! * extras + kept[k % size]!]!,
  );
  const wide = extrasCovariance(schur, size, now.variance, together, size, inflation);
  const deviation = Math.sqrt(Math.max(0, wide[size * size - 1]!));
  return { value, deviation, supported: Math.abs(value) > 4 * deviation && without.criterion - now.criterion > 10 };
}
