import { type BandMatrix, factorBand } from "./banded-cholesky.ts";

/** Least squares seen so far: A·c = b, with the sum of squares of the targets and how many there were. */
export interface NormalEquations {
  readonly cells: number;
  readonly matrix: BandMatrix;
  readonly right: Float64Array;
  readonly square: number;
  readonly count: number;
}

/** A fit at given strengths of its penalties. */
export interface PenalisedFit {
  readonly strengths: readonly number[];
  readonly cells: Float64Array;
  /** Variance of a target of weight 1. */
  readonly variance: number;
  /** How many free cells the fit amounts to. */
  effectiveDimension(): number;
  /** −2 log restricted likelihood, up to a constant of the data. */
  readonly criterion: number;
  /** Inverse of A + Σ λ S, inside its band; worked out when first asked for. */
  inverse(): BandMatrix;
  readonly solve: (right: Float64Array) => Float64Array;
}

/** Bounds of a strength, for targets of weight 1: apart enough to mean "none" and "all", and not lost in rounding. */
const LEAST_STRENGTH = 1e-5;
const MOST_STRENGTH = 1e6;

/** Σ factors·matrices, in a band wide enough for all. */
export function sumOfBands(cells: number, matrices: readonly BandMatrix[], factors: readonly number[]): BandMatrix {
  const band = Math.min(cells - 1, Math.max(...matrices.map((matrix) => matrix.band)));
  const values = new Float64Array(cells * (band + 1));
  matrices.forEach((matrix, k) => {
    for (let i = 0; i < cells; i++) {
      const to = i * band + band;
      const from = i * matrix.band + matrix.band;
      for (let j = Math.max(0, i - matrix.band); j <= i; j++) values[to + j]! += factors[k]! * matrix.values[from + j]!;
    }
  });
  return { band, values };
}

/** Σ over the whole symmetric matrices of a·b, taken where b has its band. */
export function bandDot(a: BandMatrix, b: BandMatrix, cells: number): number {
  let sum = 0;
  for (let i = 0; i < cells; i++) {
    const rowA = i * a.band + a.band;
    const rowB = i * b.band + b.band;
    for (let j = Math.max(0, i - Math.min(a.band, b.band)); j < i; j++)
      sum += 2 * a.values[rowA + j]! * b.values[rowB + j]!;
    sum += a.values[rowA + i]! * b.values[rowB + i]!;
  }
  return sum;
}

/** cᵀMc. */
export function quadratic({ band, values }: BandMatrix, c: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < c.length; i++) {
    const row = i * band + band;
    let line = 0;
    for (let j = Math.max(0, i - band); j < i; j++) line += values[row + j]! * c[j]!;
    sum += c[i]! * (2 * line + values[row + i]! * c[i]!);
  }
  return sum;
}

/**
 * The penalised least-squares fit (A + Σ λ S)·c = b at given strengths λ.
 *
 * @param penalties - the S, together positive definite for positive strengths
 */
export function fitAt(equations: NormalEquations, penalties: readonly BandMatrix[], strengths: readonly number[]) {
  return withPrior(equations, penalties, strengths).fit;
}

function withPrior(equations: NormalEquations, penalties: readonly BandMatrix[], strengths: readonly number[]) {
  const { cells: n, count, right } = equations;
  const penalty = sumOfBands(n, penalties, strengths);
  const prior = factorBand(penalty);
  const whole = sumOfBands(n, [equations.matrix, penalty], [1, 1]);
  const factor = factorBand(whole);
  const cells = factor.solve(right);
  let fitted = 0;
  for (let i = 0; i < n; i++) fitted += cells[i]! * right[i]!;
  const variance = Math.max(equations.square - fitted, 1e-300) / Math.max(count, 1);
  let inverse: BandMatrix | null = null;
  const inverseOnce = () => (inverse ??= factor.inverse());
  const fit: PenalisedFit = {
    strengths,
    cells,
    variance,
    effectiveDimension: () => bandDot(inverseOnce(), equations.matrix, n),
    criterion: count * Math.log(variance) + factor.logDeterminant - prior.logDeterminant,
    inverse: inverseOnce,
    solve: (target) => factor.solve(target),
  };
  return { fit, prior };
}

/**
 * The fit with strengths chosen by restricted maximum likelihood.
 *
 * Each round moves every strength to where its own part of the gradient vanishes, a little over-relaxed; a handful of
 * rounds bring the criterion within hundredths of its minimum.
 *
 * @param start - strengths to begin with, all above 0; one that is held stays as it is
 * @see Fellner, Robust estimation of variance components, Technometrics 28 (1986); Wood & Fasiolo, A generalized
 *   Fellner–Schall method for smoothing parameter optimization, Biometrics 73 (2017) 1071
 */
export function chooseStrengths(
  equations: NormalEquations,
  penalties: readonly BandMatrix[],
  start: readonly number[],
  { rounds = 12, tolerance = 0.02 }: { readonly rounds?: number; readonly tolerance?: number } = {},
): PenalisedFit {
  let now = withPrior(equations, penalties, start);
  for (let round = 1; round < rounds; round++) {
    const { fit, prior } = now;
    const priorInverse = prior.inverse();
    const strengths = fit.strengths.map((strength, k) => {
      const penalty = penalties[k]!;
      const bend = quadratic(penalty, fit.cells);
      const gain = bandDot(priorInverse, penalty, equations.cells) - bandDot(fit.inverse(), penalty, equations.cells);
      const factor = (fit.variance * Math.max(gain, 1e-12)) / Math.max(bend, 1e-300);
      return Math.min(MOST_STRENGTH, Math.max(LEAST_STRENGTH, strength * Math.min(50, Math.max(0.02, factor)) ** 1.3));
    });
    const before = fit.criterion;
    now = withPrior(equations, penalties, strengths);
    if (Math.abs(now.fit.criterion - before) < tolerance) break;
  }
  return now.fit;
}
