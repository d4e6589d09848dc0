import { lookup } from "../lookup/lookup.ts";
import { chooseStrengths } from "../numeric/restricted-likelihood.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { gridBends, gridPenalty } from "./bends.ts";
import { type DelayReport, describeDynamics } from "./describe-dynamics.ts";
import { type Grid, gridOrder } from "./dynamics-pass.ts";
import { solveJoint, solveSmall } from "./find-dynamics.ts";
import type { EvidenceFit, EvidenceReport, FitEvidenceOptions } from "./fit-evidence.ts";
import type { Intake } from "./intake.ts";
import type { FitPlan, Studied } from "./refine-fit.ts";
import type { Searched } from "./search-dynamics.ts";
import { type Suspect, warningsOf } from "./warnings.ts";

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

/** The result of a fit as plain data: factors and deviations of the table's own cells, delays, report, warnings. */
export function fitResult(
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
