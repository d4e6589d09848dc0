import { FuelwrightError } from "../values/errors.ts";
import { throwIfCancelled } from "./cancel.ts";
import { GateTally } from "./count-gates.ts";
import type { Grid } from "./dynamics-pass.ts";
import {
  type DynamicsBySensor,
  type Joint,
  moved,
  passOver,
  priorPull,
  robustScale,
  type SensorSeries,
  solveJoint,
} from "./find-dynamics.ts";
import type { FitEvidenceOptions } from "./fit-evidence.ts";
import { firstSmoothness, fitSurface, type Smoothness } from "./fit-surface.ts";
import { type Gate, structuralBits } from "./gates.ts";
import { eachPart, type Intake, type IntakeOptions } from "./intake.ts";
import { NormalSums } from "./normal-sums.ts";
import { explainedBy, ResidualStudy } from "./residual-study.ts";
import type { Searched } from "./search-dynamics.ts";
import type { SeriesSetup } from "./series.ts";

/** Readings without which nothing can be said. */
export const FEWEST_READINGS = 40;
/** Passes in which cells, dynamics, weights and strengths follow one another. */
const REFINING_PASSES = 5;

/** How a fit goes about its logs. */
export interface FitPlan {
  readonly grid: Grid;
  readonly band: number;
  readonly gates: readonly Gate[];
  readonly setup: Omit<SeriesSetup, "channel">;
}

/** What is said when hardly any reading can be used. */
export const tooFew = (kept: number) =>
  new FuelwrightError(
    "evidence-too-few",
    `fitEvidence: only ${kept} readings can be used, at least ${FEWEST_READINGS} are needed; log a longer ride`,
    { kept },
  );

/** Cells and dynamics that have settled. */
export interface Refined {
  readonly dynamics: DynamicsBySensor;
  readonly cells: Float64Array;
  readonly smooth: Smoothness;
  readonly scale: number;
  readonly inflation: number;
  readonly explained: readonly Float64Array[];
}

/** Cells on the full grid, with dynamics, weights, strengths and stiffness following one another. */
export async function refine(
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

/** What the last pass gives. */
export interface Studied extends Refined {
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
export async function study(
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
