import fc from "fast-check";
import { expect, test } from "vitest";
import { patternSearch } from "./pattern-search.ts";

const range = { low: -3, high: 7, firstStep: 1, lastStep: 0.01 };

test("the bottom of a bowl is found within the last step, wherever it begins", () => {
  const coordinate = fc.double({ min: -2.9, max: 6.9, noNaN: true });
  fc.assert(
    fc.property(coordinate, coordinate, coordinate, coordinate, (a, b, startA, startB) => {
      const bowl = ([x, y]: readonly number[]) => (x! - a) ** 2 + 3 * (y! - b) ** 2;
      const [x, y] = patternSearch(bowl, [[startA, startB]], range);
      expect(Math.abs(x! - a)).toBeLessThanOrEqual(0.01);
      expect(Math.abs(y! - b)).toBeLessThanOrEqual(0.01);
    }),
    { numRuns: 1000 },
  );
});

test("the range is kept, the best start is taken, and no point is tried twice", () => {
  const tried: string[] = [];
  const falling = (x: readonly number[]) => {
    tried.push(x.join());
    return -x[0]!;
  };
  expect(patternSearch(falling, [[-1], [6.4], [2]], range)).toEqual([7]);
  expect(new Set(tried).size).toBe(tried.length);
  expect(tried.length).toBeLessThan(20);
});

test("the valley is that of the best start, wherever it stands among them", () => {
  const valleys = ([x]: readonly number[]) => Math.min((x! + 2) ** 2 - 1, (x! - 5) ** 2 - 2);
  const starts = [[-2.4], [5.4], [1]];
  for (const turn of [0, 1, 2]) {
    const [x] = patternSearch(valleys, [...starts.slice(turn), ...starts.slice(0, turn)], range);
    expect(Math.abs(x! - 5)).toBeLessThanOrEqual(0.01);
  }
  // Of two that are equally good, the first.
  expect(patternSearch(() => 1, [[3], [4]], range)).toEqual([3]);
});

test("a long way is gone in whole steps, and the last step is the least said", () => {
  const tried: number[] = [];
  const bowl = ([x]: readonly number[]) => {
    tried.push(x!);
    return (x! - 6.25) ** 2;
  };
  expect(patternSearch(bowl, [[-2]], { ...range, lastStep: 0.25 })).toEqual([6.25]);
  // Ten places to 7, a step too far; half a step either way; then the quarter that hits.
  expect(tried.length).toBe(13);
  const rising = ([x]: readonly number[]) => x!;
  expect(patternSearch(rising, [[4]], range)).toEqual([-3]);
});

test("where nothing is finite it stays where it began", () => {
  expect(patternSearch(() => Number.POSITIVE_INFINITY, [[1, 2]], range)).toEqual([1, 2]);
});
