/** Points of a curve, rising in x. */
export type CurvePoint = readonly [x: number, y: number];

/**
 * A smooth curve through points that makes no hills of its own: cubic between neighbours, rising where they rise and flat
 * where they turn. Its first derivative is continuous. Held outside the points.
 *
 * @param points - at least two, x rising
 * @see F. N. Fritsch & R. E. Carlson, SIAM J. Numer. Anal. 17 (1980); slopes by the weighted harmonic mean of Fritsch &
 *   Butland (1984)
 */
export function monotoneCurve(points: readonly CurvePoint[]): (x: number) => number {
  const last = points.length - 1;
  const width = (at: number) => points[at + 1]![0] - points[at]![0];
  const rise = (at: number) => (points[at + 1]![1] - points[at]![1]) / width(at);
  const slopes = points.map((_, at) => {
    if (at === 0) return rise(0);
    if (at === last) return rise(last - 1);
    const before = rise(at - 1);
    const after = rise(at);
    if (before * after <= 0) return 0;
    const w1 = 2 * width(at) + width(at - 1);
    const w2 = width(at) + 2 * width(at - 1);
    return (w1 + w2) / (w1 / before + w2 / after);
  });
  return (x) => {
    if (x <= points[0]![0]) return points[0]![1];
    if (x >= points[last]![0]) return points[last]![1];
    let at = 0;
    while (points[at + 1]![0] <= x) at++;
    const h = width(at);
    const t = (x - points[at]![0]) / h;
    const s = 1 - t;
    return (
      points[at]![1] * (1 + 2 * t) * s * s +
      h * slopes[at]! * t * s * s +
      points[at + 1]![1] * (1 + 2 * s) * t * t -
      h * slopes[at + 1]! * s * t * t
    );
  };
}
