/** Straight lines between points, the end values held outside. `xs` rise. */
export function heldLinear(xs: readonly number[], ys: readonly number[], x: number): number {
  const last = xs.length - 1;
  if (x <= xs[0]!) return ys[0]!;
  if (x >= xs[last]!) return ys[last]!;
  let at = 1;
  while (xs[at]! < x) at++;
  const share = (x - xs[at - 1]!) / (xs[at]! - xs[at - 1]!);
  return ys[at - 1]! * (1 - share) + ys[at]! * share;
}
