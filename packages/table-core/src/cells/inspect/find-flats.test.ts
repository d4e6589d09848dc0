import { expect, test } from "vitest";
import { plainTable } from "../../../testing/plain-table.ts";
import { findFlats } from "./find-flats.ts";

/** Five columns and four rows that all differ, but for these cells, which hold 7. */
const flatAt = (cells: readonly number[], more: Parameters<typeof plainTable>[1] = {}) =>
  plainTable(
    [0, 1, 2, 3].map((row) =>
      [0, 1, 2, 3, 4].map((column) => (cells.includes(row * 5 + column) ? 7 : 20 + row * 5 + column)),
    ),
    more,
  );

test("from the least number of cells on they are found, and filled from around", () => {
  const table = flatAt([6, 7, 11, 12]);
  expect(findFlats(table, 4)).toEqual([
    {
      kind: "flat",
      cells: [6, 7, 11, 12],
      region: { rpm: [2000, 3000], load: [20, 30] },
      reason:
        "4 neighbouring cells all hold 7.00 mg (2000 to 3000 rpm, 20 to 30 kPa); perhaps they were never filled in, or were cut off.",
      remedy: { kind: "fill-cells", settings: { region: { rpm: [2000, 3000], load: [20, 30] }, along: "both" } },
    },
  ]);
  expect(findFlats(table, 5)).toEqual([]);
});

test.each([
  ["the lowest load", [1, 2, 3]],
  ["the highest load", [16, 17, 18]],
  ["the lowest rpm", [5, 10, 6]],
  ["the highest rpm", [9, 14, 8]],
])("at %s there is nothing to fill from, so they are smoothed", (_, cells) => {
  expect(findFlats(flatAt(cells), 3).map(({ remedy }) => remedy.kind)).toEqual(["smooth-cells"]);
});

test("cells of one value that do not touch are no flat, nor is a table of one value", () => {
  expect(findFlats(flatAt([6, 12, 18]), 2)).toEqual([]);
  expect(findFlats(plainTable([[7, 7], [7, 7]]), 3)).toEqual([]); // biome-ignore format: rows
});

test("at a limit of what is stored that is said", () => {
  const reason = (min: number, max: number) =>
    findFlats(flatAt([6, 7, 11], { storage: { min, max, step: 1 } }), 3)[0]!.reason;
  expect(reason(0, 100)).toContain("perhaps they were never filled in");
  expect(reason(7, 100)).toMatch(/; the least that the controller stores\.$/);
  const most = plainTable([[50, 50, 1], [50, 2, 3]], { storage: { min: 0, max: 50, step: 1 } }); // biome-ignore format: rows
  expect(findFlats(most, 3)[0]!.reason).toMatch(/; the most that the controller stores\.$/);
});
