import { expect, test } from "vitest";
import { storageLevels } from "./storage-levels.ts";

const values = (min: number, max: number, step: number) => {
  const { top, value } = storageLevels({ min, max, step });
  return Array.from({ length: top + 1 }, (_, level) => value(level));
};

test("levels of a decimal step are the decimals themselves", () => {
  expect(values(0.1, 0.5, 0.1)).toEqual([0.1, 0.2, 0.3, 0.4, 0.5]);
  expect(values(-0.2, 0.2, 0.1)).toEqual([-0.2, -0.1, 0, 0.1, 0.2]);
});

test("levels go on from the min where that is no multiple of the step", () => {
  expect(values(0.25, 2.5, 0.5)).toEqual([0.25, 0.75, 1.25, 1.75, 2.25]);
  expect(values(1, 8, 2.5)).toEqual([1, 3.5, 6]);
});

test("the nearest level is told by its number, halves upward, beyond the ends too", () => {
  const { nearest, top } = storageLevels({ min: 1, max: 3, step: 0.5 });
  expect(top).toBe(4);
  expect([1, 1.25, 1.24, 3, 4, 0].map(nearest)).toEqual([0, 1, 0, 4, 6, -2]);
});

test("more levels than can be told apart are refused", () => {
  const storage = { min: 0, max: 1e17, step: 1 };
  expect(() => storageLevels(storage)).toThrow(expect.objectContaining({ code: "bad-storage", details: storage }));
});
