import { expect, test } from "vitest";
import { plainTable } from "../../../testing/plain-table.ts";
import { findAgainstLoad } from "./find-against-load.ts";

/** A table of these columns, each from the lowest load up. */
const columns = (...lines: readonly (readonly number[])[]) =>
  plainTable(lines[0]!.map((_, row) => lines.map((line) => line[row]!)));
const found = (table: ReturnType<typeof columns>, percent: number, spikes: readonly number[] = []) =>
  findAgainstLoad(table, "rising", percent, new Set(spikes));

test("a run counts from its first cell to its last, from the limit on", () => {
  const table = columns([8, 10, 9, 8, 12], [8, 9, 10, 11, 12]);
  // From 10 to 8.
  expect(found(table, 20)).toEqual([
    {
      kind: "against-load",
      cells: [2, 4, 6],
      region: { rpm: [1000, 1000], load: [20, 40] },
      reason: "At 1000 rpm, 20 to 40 kPa the cells fall by 20 % while load rises.",
      remedy: { kind: "smooth-cells", settings: { region: { rpm: [1000, 2000], load: [10, 50] }, strength: 1 } },
    },
  ]);
  expect(found(table, 20.1)).toEqual([]);
});

test("cells that stay level are no part of a run", () => {
  expect(found(columns([10, 10, 9, 9, 12], [1, 2, 3, 4, 5]), 5).map(({ cells }) => cells)).toEqual([[2, 4]]);
  expect(found(columns([10, 10], [0, 0]), 5)).toEqual([]);
});

test("runs at the lowest and the highest load are found", () => {
  expect(found(columns([10, 8, 9, 12], [1, 2, 10, 8]), 5).map(({ cells }) => cells)).toEqual([[0, 2], [5, 7]]); // biome-ignore format: cells
});

test("side by side they are one, said by the greatest", () => {
  const [one, ...more] = found(columns([10, 9, 12], [10, 7, 12], [10, 8, 12]), 5);
  expect(more).toEqual([]);
  expect(one!.cells).toEqual([0, 1, 2, 3, 4, 5]);
  expect(one!.reason).toContain("fall by 30 %");
});

test("where they should fall, a rise is against load", () => {
  const table = columns([10, 8, 10, 6], [9, 8, 7, 6]);
  const [rise, ...more] = findAgainstLoad(table, "falling", 5, new Set());
  expect(more).toEqual([]);
  expect(rise).toMatchObject({ cells: [2, 4], reason: expect.stringContaining("the cells rise by 25 % while") });
  expect(findAgainstLoad(columns([1, 2, 3], [2, 4, 6]), "rising", 1, new Set())).toEqual([]);
});

test("a run to or from a cell that stands out of line is told already", () => {
  const dip = columns([8, 9, 5, 10], [8, 9, 10, 11]);
  expect(found(dip, 5).map(({ cells }) => cells)).toEqual([[2, 4]]);
  expect(found(dip, 5, [4])).toEqual([]);
  expect(found(dip, 5, [2])).toEqual([]);
});
