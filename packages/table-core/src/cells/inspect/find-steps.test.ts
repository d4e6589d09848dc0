import { expect, test } from "vitest";
import { plainTable } from "../../../testing/plain-table.ts";
import { findSteps } from "./find-steps.ts";

const found = (rows: readonly (readonly number[])[], percent: number, times = 3, spikes: readonly number[] = []) =>
  findSteps(plainTable(rows), percent, times, new Set(spikes));
const cellsOf = (...given: Parameters<typeof found>) => found(...given).map(({ cells }) => cells);

test("a jump is the difference in percent of the mean of both, and has to be more than the limit", () => {
  // 4 of 8 is 50 %.
  expect(found([[6, 6, 10, 10]], 49)).toEqual([
    {
      kind: "step",
      cells: [1, 2],
      region: { rpm: [2000, 3000] },
      reason: "From 2000 to 3000 rpm the cells rise by 50 % at once (2000 to 3000 rpm).",
      remedy: { kind: "smooth-cells", settings: { region: { rpm: [1000, 4000] }, strength: 1 } },
    },
  ]);
  expect(found([[6, 6, 10, 10]], 50)).toEqual([]);
  expect(found([[10, 10, 6, 6]], 49)[0]!.reason).toContain("the cells fall by 50 % at once");
});

test("between the same breakpoints side by side they are one, said by the greatest", () => {
  const wall = (...heights: number[]) => heights.map((height) => [6, 6, height, height]);
  const [first, ...more] = found(wall(10, 12, 10), 30);
  expect(more).toEqual([]);
  expect(first!.cells).toEqual([1, 2, 5, 6, 9, 10]);
  // 6 of 9.
  expect(first!.reason).toBe(
    "From 2000 to 3000 rpm the cells rise by up to 67 % at once (2000 to 3000 rpm, 10 to 30 kPa).",
  );
  expect(found(wall(3, 2), 30)[0]!.reason).toContain("fall by up to 100 %");
  expect(found(wall(2, 3), 30)[0]!.reason).toContain("fall by up to 100 %");
  // With an even line between them they are two.
  expect(cellsOf(wall(10, 6.1, 10), 30)).toEqual([[1, 2], [9, 10]]); // biome-ignore format: pairs
});

test("along load as along rpm", () => {
  const [step, ...more] = found([[6, 6], [6, 6], [10, 10], [10, 10]], 40); // biome-ignore format: rows
  expect(more).toEqual([]);
  expect(step).toMatchObject({
    cells: [2, 3, 4, 5],
    reason: "From 20 to 30 kPa the cells rise by up to 50 % at once (1000 to 2000 rpm, 20 to 30 kPa).",
  });
});

test("where steep is usual, only what is several times as steep is a jump", () => {
  // Two thirds of the mean each, and once 6/5.
  const steep = [[1, 2, 4, 8, 32, 64]]; // biome-ignore format: row
  expect(cellsOf(steep, 50, 1.7)).toEqual([[3, 4]]);
  expect(cellsOf(steep, 50, 1.9)).toEqual([]);
});

test("jumps from and to a cell that stands out of line are told already", () => {
  const peak = [[6, 6, 6, 10, 6, 6, 6]];
  expect(cellsOf(peak, 40)).toEqual([[2, 3], [3, 4]]); // biome-ignore format: pairs
  expect(cellsOf(peak, 40, 3, [3])).toEqual([]);
});

test("zeros beside each other are no jump, and take no other from being one", () => {
  expect(cellsOf([[0, 0, 0, 6, 10, 10]], 40)).toEqual([[2, 3], [3, 4]]); // biome-ignore format: pairs
});
