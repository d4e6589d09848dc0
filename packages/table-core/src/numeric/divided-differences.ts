/** Points shifted and scaled so that the first is 0 and their mean spacing is 1; a single point becomes 0. */
export function unitMeanSpacing(points: readonly number[]): Float64Array {
  const first = points[0]!;
  const spacing = (points[points.length - 1]! - first) / (points.length - 1);
  return Float64Array.from(points, (point) => (points.length === 1 ? 0 : (point - first) / spacing));
}

/**
 * Rows of `order` + 1 weights, one after another: row i takes `order`! times Newton's divided difference over the points
 * i … i + order, so that on unit spacing order 2 is 1, −2, 1. Empty where there are too few points.
 *
 * As the points come closer a row tends to the derivative of that order; polynomials of lower degree give 0.
 *
 * @param points - strictly rising
 * @see Eilers, A perfect smoother, Anal. Chem. 75 (2003) 3631, whose differences lack the factor `order`!
 */
export function dividedDifferences(points: ArrayLike<number>, order: number): Float64Array {
  let rows = new Float64Array(points.length).fill(1);
  for (let k = 1; k <= order; k++) {
    const count = Math.max(points.length - k, 0);
    const next = new Float64Array(count * (k + 1));
    for (let i = 0; i < count; i++) {
      const factor = k / (points[i + k]! - points[i]!);
      for (let j = 0; j < k; j++) {
        next[i * (k + 1) + j]! -= factor * rows[i * k + j]!;
        next[i * (k + 1) + j + 1]! += factor * rows[(i + 1) * k + j]!;
      }
    }
    rows = next;
  }
  return rows;
}

/** The second divided differences of an axis scaled to a mean spacing of 1: three weights a row. */
export const secondDifferences = (breakpoints: readonly number[]): Float64Array =>
  dividedDifferences(unitMeanSpacing(breakpoints), 2);
