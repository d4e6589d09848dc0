/** The least and the greatest; of nothing, Infinity and −Infinity. For more values than a call takes arguments. */
export function extremes(values: Iterable<number>): readonly [low: number, high: number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}
