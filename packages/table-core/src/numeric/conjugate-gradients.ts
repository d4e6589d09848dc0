/** A linear map that writes its result for `x` into `out`. */
export type LinearMap = (x: Float64Array, out: Float64Array) => void;

export interface ConjugateGradients {
  /** Symmetric and positive definite. */
  readonly apply: LinearMap;
  /** An approximate inverse of `apply`, symmetric and positive definite too. */
  readonly precondition: LinearMap;
  readonly right: Float64Array;
  /** Where to begin; left out: zero. */
  readonly start?: Float64Array;
  /** The residual, measured through the preconditioner, is brought down to this share of the right side's. */
  readonly tolerance: number;
  readonly mostSteps: number;
}

/**
 * The solution of A·x = right by preconditioned conjugate gradients, and how it was reached.
 *
 * @returns `converged: false` with the best so far if `mostSteps` did not do
 * @see Hestenes & Stiefel, J. Res. NBS 49 (1952) 409; Saad, Iterative Methods for Sparse Linear Systems (2003), 9.2
 */
export function conjugateGradients(problem: ConjugateGradients): {
  readonly x: Float64Array;
  readonly steps: number;
  readonly converged: boolean;
} {
  const { apply, precondition, right, tolerance, mostSteps } = problem;
  const size = right.length;
  const x = problem.start?.slice() ?? new Float64Array(size);
  const residual = right.slice();
  const better = new Float64Array(size);
  const image = new Float64Array(size);
  precondition(right, better);
  const enough = tolerance * tolerance * dot(right, better);
  if (problem.start) {
    apply(x, image);
    for (let i = 0; i < size; i++) residual[i]! -= image[i]!;
    precondition(residual, better);
  }
  const direction = better.slice();
  let energy = dot(residual, better);
  let steps = 0;
  for (; steps < mostSteps && energy > enough; steps++) {
    apply(direction, image);
    const length = energy / dot(direction, image);
    for (let i = 0; i < size; i++) {
      x[i]! += length * direction[i]!;
      residual[i]! -= length * image[i]!;
    }
    precondition(residual, better);
    const next = dot(residual, better);
    const keep = next / energy;
    for (let i = 0; i < size; i++) direction[i] = better[i]! + keep * direction[i]!;
    energy = next;
  }
  return { x, steps, converged: energy <= enough };
}

/** Four sums at a time: one alone would wait for each addition before the next. */
function dot(a: Float64Array, b: Float64Array): number {
  const fours = a.length - (a.length % 4);
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let i = 0; i < fours; i += 4) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
    s2 += a[i + 2]! * b[i + 2]!;
    s3 += a[i + 3]! * b[i + 3]!;
  }
  for (let i = fours; i < a.length; i++) s0 += a[i]! * b[i]!;
  return s0 + s1 + (s2 + s3);
}
