/**
 * Where a function of one or a few variables is least, by steps along each of them that are halved when none helps.
 *
 * Needs no slopes and minds no kinks; finds the valley that the best start lies in.
 *
 * @param starts - tried first; the best is where the search begins
 * @see Hooke & Jeeves, Direct search solution of numerical and statistical problems, J. ACM 8 (1961) 212
 */
export function patternSearch(
  score: (x: readonly number[]) => number,
  starts: readonly (readonly number[])[],
  range: { readonly low: number; readonly high: number; readonly firstStep: number; readonly lastStep: number },
): number[] {
  const known = new Map<string, number>();
  const scoreOf = (x: readonly number[]): number => {
    const key = x.join();
    let value = known.get(key);
    if (value === undefined) known.set(key, (value = score(x)));
    return value;
  };
  let best = [...starts.reduce((least, start) => (scoreOf(start) < scoreOf(least) ? start : least))];
  for (let step = range.firstStep; step >= range.lastStep; ) {
    let moved = false;
    for (let k = 0; k < best.length; k++)
      for (const way of [step, -step]) {
        const next = best.slice();
        next[k] = Math.min(Math.max(best[k]! + way, range.low), range.high);
        // Going on in a way that helped is the rule rather than the exception.
        while (scoreOf(next) < scoreOf(best)) {
          best = next.slice();
          moved = true;
          next[k] = Math.min(Math.max(best[k]! + way, range.low), range.high);
        }
      }
    if (!moved) step /= 2;
  }
  return best;
}
