import { expect, test } from "vitest";
import { after } from "../../testing/plotted.ts";
import { sliceCells, slicePath, sliceScale } from "./slice.ts";

test("a row runs along rpm, a column along load", () => {
  expect(sliceCells(after, "rpm", 5)).toEqual([4, 5, 6, 7]);
  expect(sliceCells(after, "load", 5)).toEqual([1, 5, 9]);
});

test("the scale runs from the least to the greatest value", () => {
  const scale = sliceScale([4, 2, 6]);
  expect([scale.low, scale.high]).toEqual([2, 6]);
  expect([2, 4, 6].map(scale.share)).toEqual([0, 0.5, 1]);
});

test("rounding is not blown up to a mountain range", () => {
  const scale = sliceScale([10, 10.0001]);
  expect(scale.share(10)).toBeCloseTo(0.5, 3);
  expect(scale.share(10.0001) - scale.share(10)).toBeLessThan(0.001);
});

test("values that can't be shown are left out of scale and line", () => {
  const scale = sliceScale([1, Number.POSITIVE_INFINITY, 3]);
  expect([scale.low, scale.high]).toEqual([1, 3]);
  expect(sliceScale([Number.NaN]).share(5)).toBe(0.5);
  expect(
    slicePath([
      [0, 1],
      [1, 2.004],
      [2, Number.NaN],
      [3, 4],
      [4, 5],
    ]),
  ).toBe("M0,1L1,2M3,4L4,5");
});
