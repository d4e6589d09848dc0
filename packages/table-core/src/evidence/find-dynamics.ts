import type { BandMatrix } from "../numeric/banded-cholesky.ts";
import { chooseStrengths, fitAt, type PenalisedFit } from "../numeric/restricted-likelihood.ts";
import { type Dynamics, eachReading, type Grid, ModelRow } from "./dynamics-pass.ts";
import { NormalSums } from "./normal-sums.ts";
import type { Series } from "./series.ts";

/** A stretch of log and the sensor it belongs to. */
export interface SensorSeries {
  readonly sensor: number;
  readonly series: Series;
}

/** Dynamics of each sensor; the film is the same for all. */
export type DynamicsBySensor = readonly Dynamics[];

/** Where {@link Dynamics} may lie, in seconds and shares, and what is usual: a weak prior for what the log cannot tell. */
export const dynamicsPrior = {
  constant: { low: 0, high: 1, usual: 0.08, spread: 0.15 },
  flow: { low: 0, high: 1.5, usual: 0.2, spread: 0.3 },
  lag: { low: 0.005, high: 1.5, usual: 0.1, spread: 1 },
  filmShare: { low: 0, high: 0.8, usual: 0.15, spread: 0.3 },
  filmTime: { low: 0.02, high: 3, usual: 0.25, spread: 0.8 },
} as const;

/** Which unknowns a search moves; times that can only be positive are moved in their logarithm. */
export interface Unknown {
  readonly key: keyof Dynamics;
  /** null: the film, shared by all sensors. */
  readonly sensor: number | null;
}

const inLogarithm = (key: keyof Dynamics) => key === "lag" || key === "filmTime";

export function unknownsFor(sensors: number, film: boolean): Unknown[] {
  const own = (["constant", "flow", "lag"] as const).flatMap((key) =>
    Array.from({ length: sensors }, (_, sensor) => ({ key, sensor })),
  );
  return film ? [...own, { key: "filmShare", sensor: null }, { key: "filmTime", sensor: null }] : own;
}

/** How residuals are weighed: `huber` while the dynamics are still wrong, `final` cuts off what is out of all proportion. */
export type Robustness = "none" | "huber" | "final";

export function robustWeight(residual: number, scale: number, robustness: Robustness): number {
  if (robustness === "none") return 1;
  const size = Math.abs(residual) / scale;
  if (size <= 2.5) return 1;
  if (robustness === "huber") return 2.5 / size;
  if (size >= 6) return 0;
  const share = (size - 2.5) / 3.5;
  return (1 - share * share) ** 2;
}

/** What one pass over all readings gives. */
export interface Pass {
  readonly sums: NormalSums;
  /** Mean loss of a reading, in units of its square; comparable between dynamics at the same scale. */
  readonly loss: number;
  readonly settling: number;
}

export interface PassOptions {
  readonly grid: Grid;
  readonly band: number;
  readonly unknowns: readonly Unknown[];
  readonly cells: Float64Array | null;
  readonly scale: number;
  readonly robustness: Robustness;
  /** Takes one reading in `every`. */
  readonly every?: number;
  /** Beside the unknowns: dead time and warmth. */
  readonly suspects?: boolean;
  /** Called with each reading's series, row, residual and weight, before it is added. */
  readonly onReading?: (
    series: SensorSeries,
    at: number,
    row: ModelRow,
    residual: number,
    weight: number,
    extra: Float64Array,
  ) => void;
}

/** One pass over all readings: normal equations for the cells and the moves of the unknowns, and the loss. */
export function passOver(parts: readonly SensorSeries[], dynamics: DynamicsBySensor, options: PassOptions): Pass {
  const { grid, unknowns, cells, scale, robustness, every = 1, suspects = false, onReading } = options;
  const sums = new NormalSums(grid.cells, options.band, unknowns.length + (suspects ? 2 : 0));
  const row = new ModelRow(grid.cells);
  const extra = new Float64Array(sums.extras);
  const slopeOf = { constant: 0, flow: 1, lag: 2, filmShare: 3, filmTime: 4 } as const;
  let loss = 0;
  let count = 0;
  let settling = 0;
  const cap = 16 * scale * scale;
  for (const part of parts) {
    const { series, sensor } = part;
    const own = dynamics[sensor]!;
    // Slopes in the search's own units: per second, or per unit of the logarithm.
    const slots = unknowns.map((unknown) =>
      unknown.sensor === null || unknown.sensor === sensor ? slopeOf[unknown.key] : -1,
    );
    const factors = unknowns.map(({ key }) => (inLogarithm(key) ? own[key] : 1));
    let phase = 0;
    settling += eachReading(series, own, grid, cells, row, (at) => {
      if (++phase < every) return;
      phase = 0;
      const target = series.measured[at]! - row.known;
      const residual = target - row.model;
      const weight = cells ? robustWeight(residual, scale, robustness) : 1;
      for (let k = 0; k < slots.length; k++) extra[k] = slots[k]! < 0 ? 0 : row.slopes[slots[k]!]! * factors[k]!;
      if (suspects) {
        extra[slots.length] = row.inverse;
        extra[slots.length + 1] = series.warmth[at]!;
      }
      onReading?.(part, at, row, residual, weight, extra);
      loss += weight * residual * residual + (1 - weight) * cap;
      count++;
      sums.add(row, target, weight, extra);
    });
  }
  return { sums, loss: count === 0 ? Number.POSITIVE_INFINITY : loss / count, settling };
}

/** Solution of the bordered system: cells, and the move of the unknowns. */
export interface Joint {
  readonly cells: Float64Array;
  readonly move: Float64Array;
  /** What is left of the extras' own block once the cells are fitted out, row by row. */
  readonly schur: Float64Array;
  /** What the extras' own block should come to. */
  readonly right: Float64Array;
}

/**
 * Cells and extras together: the extras' block, less what the cells explain of it, plus `precision` pulling towards
 * `pull` and `damping` times its diagonal.
 */
export function solveJoint(
  sums: NormalSums,
  fit: Pick<PenalisedFit, "solve">,
  used: number,
  precision: ArrayLike<number>,
  pull: ArrayLike<number>,
  damping: number,
): Joint {
  const { cells: n, extras, cross, corner, extraRight } = sums;
  const alone = fit.solve(sums.right);
  const explained = Array.from({ length: used }, (_, e) => fit.solve(cross.slice(e * n, (e + 1) * n)));
  const schur = new Float64Array(used * used);
  const right = new Float64Array(used);
  for (let e = 0; e < used; e++) {
    let sum = extraRight[e]!;
    for (let i = 0; i < n; i++) sum -= cross[e * n + i]! * alone[i]!;
    right[e] = sum + precision[e]! * pull[e]!;
    for (let f = 0; f <= e; f++) {
      let value = corner[e * extras + f]!;
      for (let i = 0; i < n; i++) value -= cross[e * n + i]! * explained[f]![i]!;
      schur[e * used + f] = schur[f * used + e] = value;
    }
  }
  const damped = schur.slice();
  for (let e = 0; e < used; e++) {
    schur[e * used + e]! += precision[e]!;
    damped[e * used + e] = schur[e * used + e]! * (1 + damping);
  }
  const move = solveSmall(damped, right, used);
  const cells = alone.slice();
  for (let e = 0; e < used; e++) for (let i = 0; i < n; i++) cells[i]! -= explained[e]![i]! * move[e]!;
  return { cells, move, schur, right };
}

/** A few equations by Gaussian elimination with pivots; a row of zeros gives 0. */
export function solveSmall(matrix: Float64Array, right: Float64Array, n: number): Float64Array {
  const a = matrix.slice();
  const b = right.slice();
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    if (a[pivot * n + k] === 0) continue;
    if (pivot !== k) {
      for (let j = 0; j < n; j++) [a[k * n + j], a[pivot * n + j]] = [a[pivot * n + j]!, a[k * n + j]!];
      [b[k], b[pivot]] = [b[pivot]!, b[k]!];
    }
    for (let i = k + 1; i < n; i++) {
      const factor = a[i * n + k]! / a[k * n + k]!;
      if (factor === 0) continue;
      for (let j = k; j < n; j++) a[i * n + j]! -= factor * a[k * n + j]!;
      b[i]! -= factor * b[k]!;
    }
  }
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i]!;
    for (let j = i + 1; j < n; j++) sum -= a[i * n + j]! * x[j]!;
    x[i] = a[i * n + i] === 0 ? 0 : sum / a[i * n + i]!;
  }
  return x;
}

/** A search's state: dynamics, cells, and how well they fit. */
export interface Found {
  readonly dynamics: DynamicsBySensor;
  readonly cells: Float64Array;
  readonly strengths: readonly number[];
  readonly scale: number;
  readonly loss: number;
  readonly passes: number;
  readonly joint: Joint;
  readonly sums: NormalSums;
}

/** The dynamics with the unknowns moved, kept inside their bounds. */
export function moved(dynamics: DynamicsBySensor, unknowns: readonly Unknown[], move: Float64Array): DynamicsBySensor {
  return dynamics.map((own, sensor) => {
    const next: { -readonly [K in keyof Dynamics]: number } = { ...own };
    unknowns.forEach((unknown, k) => {
      if (unknown.sensor !== null && unknown.sensor !== sensor) return;
      const { low, high } = dynamicsPrior[unknown.key];
      const value = inLogarithm(unknown.key)
        ? own[unknown.key] * Math.exp(Math.max(-1, Math.min(1, move[k]!)))
        : own[unknown.key] + Math.max(-0.25, Math.min(0.25, move[k]!));
      next[unknown.key] = Math.min(high, Math.max(low, value));
    });
    return next;
  });
}

/** Precision of the prior of each unknown and the way from here to what is usual, in the search's units. */
export function priorPull(dynamics: DynamicsBySensor, unknowns: readonly Unknown[], variance: number) {
  const precision = new Float64Array(unknowns.length);
  const pull = new Float64Array(unknowns.length);
  unknowns.forEach(({ key, sensor }, k) => {
    const { usual, spread } = dynamicsPrior[key];
    const here = dynamics[sensor ?? 0]![key];
    precision[k] = variance / spread ** 2;
    pull[k] = inLogarithm(key) ? Math.log(usual / here) : usual - here;
  });
  return { precision, pull };
}

export interface SearchOptions {
  readonly grid: Grid;
  readonly penalties: readonly BandMatrix[];
  readonly band: number;
  readonly every: number;
  readonly robustness: Robustness;
  readonly start: DynamicsBySensor;
  readonly unknowns: readonly Unknown[];
  readonly strengths: readonly number[];
  readonly cells?: Float64Array | null;
  readonly scale?: number;
  readonly mostPasses?: number;
  readonly onPass?: () => void | Promise<void>;
}

/** The middle of the residuals' sizes as a standard deviation. */
export function robustScale(residuals: Float64Array): number {
  if (residuals.length === 0) return 0;
  const sizes = residuals.map(Math.abs).sort();
  return Math.max(1e-6, 1.4826 * sizes[sizes.length >> 1]!);
}

/**
 * Delay, lag and film by damped Gauss–Newton steps over cells and dynamics together, from one start.
 *
 * @see Golub & Pereyra, The differentiation of pseudo-inverses and nonlinear least squares, SIAM J. Numer. Anal. 10 (1973)
 */
export async function searchFrom(parts: readonly SensorSeries[], options: SearchOptions): Promise<Found> {
  const { grid, penalties, band, every, robustness, unknowns, mostPasses = 30 } = options;
  let dynamics = options.start;
  let strengths = options.strengths;
  let cells = options.cells ?? null;
  let scale = options.scale ?? 0;
  let passes = 0;
  const run = async (at: DynamicsBySensor, c: Float64Array | null, sigma: number) => {
    const sample: number[] = [];
    let phase = 0;
    const pass = passOver(parts, at, {
      grid,
      band,
      unknowns,
      cells: c,
      scale: sigma || 1,
      robustness: c && sigma > 0 ? robustness : "none",
      every,
      onReading: (_part, _at, _row, residual) => {
        if ((phase = (phase + 1) % 8) === 0) sample.push(residual);
      },
    });
    passes++;
    await options.onPass?.();
    return { ...pass, sigma: robustScale(Float64Array.from(sample)) };
  };
  if (!cells) {
    const first = await run(dynamics, null, 0);
    const fit = fitAt(first.sums, penalties, strengths);
    cells = fit.cells;
  }
  if (scale === 0) scale = (await run(dynamics, cells, 0)).sigma;
  let now = await run(dynamics, cells, scale);
  let damping = 1e-3;
  let joint: Joint | null = null;
  let settled = 0;
  while (passes < mostPasses) {
    // Strengths follow the fit, a round or two at a time.
    const fit = chooseStrengths(now.sums, penalties, strengths, { rounds: 2 });
    strengths = fit.strengths;
    const { precision, pull } = priorPull(dynamics, unknowns, scale * scale);
    let accepted = false;
    for (let attempt = 0; attempt < 6 && passes < mostPasses; attempt++) {
      joint = solveJoint(now.sums, fit, unknowns.length, precision, pull, damping);
      const next = moved(dynamics, unknowns, joint.move);
      const there = await run(next, joint.cells, scale);
      if (there.loss < now.loss * (1 + 1e-7)) {
        const step = Math.max(
          ...unknowns.map(
            (_, k) => Math.abs(joint!.move[k]!) * Math.sqrt(joint!.schur[k * unknowns.length + k]! / (scale * scale)),
          ),
        );
        const gain = 1 - there.loss / now.loss;
        dynamics = next;
        cells = joint.cells;
        now = there;
        damping = Math.max(1e-6, damping / 5);
        accepted = true;
        settled = step < 0.1 || gain < 1e-6 ? settled + 1 : 0;
        break;
      }
      damping = Math.max(1e-3, damping * 10);
    }
    if (!accepted || settled >= 2) break;
    // The scale follows as the fit improves; losses are compared at one scale only.
    if (Math.abs(now.sigma / scale - 1) > 0.02) {
      scale = now.sigma;
      now = await run(dynamics, cells, scale);
    }
  }
  return { dynamics, cells, strengths, scale, loss: now.loss, passes, joint: joint!, sums: now.sums };
}
