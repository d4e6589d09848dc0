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

test("where nothing is finite it stays where it began", () => {
  expect(patternSearch(() => Number.POSITIVE_INFINITY, [[1, 2]], range)).toEqual([1, 2]);
});
