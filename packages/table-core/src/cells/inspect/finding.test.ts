import { expect, test } from "vitest";
import { plainTable } from "../../../testing/plain-table.ts";
import { finding, median, sayPercent, sayPlace, sayValue, shapeOf, touchingGroups, waysOf } from "./finding.ts";

const grid = plainTable([
  [0, 1, 2, 3, 4],
  [5, 6, 7, 8, 9],
  [10, 11, 12, 13, 14],
  [15, 16, 17, 18, 19],
]);
const row = plainTable([[1, 2, 3]]);

test("the two ways through a table visit every cell, line by line", () => {
  const small = plainTable([
    [1, 2, 3],
    [4, 5, 6],
  ]);
  const walked = waysOf(small).map((way) => ({
    points: way.points,
    unit: way.unit,
    lines: Array.from({ length: way.lines }, (_, line) =>
      Array.from({ length: way.count }, (_, i) => small.cells[line * way.lineStride + i * way.stride]),
    ),
  }));
  expect(walked).toEqual([
    { points: [1000, 2000, 3000], unit: "rpm", lines: [[1, 2, 3], [4, 5, 6]] },
    { points: [10, 20], unit: "kPa", lines: [[1, 4], [2, 5], [3, 6]] },
  ]); // biome-ignore format: lines
});

test("a finding names each cell once, rising, and its remedy works on them or on one breakpoint more all round", () => {
  const wide = finding(grid, "step", [12, 7, 12], "because", { kind: "smooth-cells", widen: true });
  expect(wide).toEqual({
    kind: "step",
    cells: [7, 12],
    region: { rpm: [3000, 3000], load: [20, 30] },
    reason: "because",
    remedy: { kind: "smooth-cells", settings: { region: { rpm: [2000, 4000], load: [10, 40] }, strength: 1 } },
  });
  expect(finding(grid, "out-of-line", [12], "because", { kind: "fill-cells", widen: false }).remedy).toEqual({
    kind: "fill-cells",
    settings: { region: { rpm: [3000, 3000], load: [30, 30] }, along: "both" },
  });
});

test("at the edge of the table a remedy goes no further than there are cells", () => {
  const around = (...cells: number[]) =>
    finding(grid, "step", cells, "", { kind: "smooth-cells", widen: true }).remedy.settings.region;
  expect(around(0)).toEqual({ rpm: [1000, 2000], load: [10, 20] });
  expect(around(19)).toEqual({ rpm: [4000, 5000], load: [30, 40] });
  expect(around(6, 13)).toEqual({ rpm: [1000, 5000], load: [10, 40] });
});

test("cells touch above, below and at the sides, not over the end of a row nor across a corner", () => {
  const groups = (...cells: number[]) => touchingGroups(shapeOf(grid), new Set(cells)).map((one) => [...one].sort((a, b) => a - b)); // biome-ignore format: one line
  expect(groups(7, 6, 12, 11)).toEqual([[6, 7, 11, 12]]);
  expect(groups(4, 5)).toEqual([[4], [5]]);
  expect(groups(9, 10, 14, 15)).toEqual([[9, 14], [10, 15]]); // biome-ignore format: groups
  expect(groups(6, 12)).toEqual([[6], [12]]);
  // Down, to the left and up again: each way is gone.
  expect(groups(3, 8, 7, 6)).toEqual([[3, 6, 7, 8]]);
  expect(groups(0, 5, 10, 11, 12, 7, 2)).toEqual([[0, 2, 5, 7, 10, 11, 12]]);
  expect(groups(0, 5, 4)).toEqual([[0, 5], [4]]);
  // A ring, which comes together only on the far side.
  expect(groups(16, 11, 6, 1, 2, 3, 8, 13, 18)).toEqual([[1, 2, 3, 6, 8, 11, 13, 16, 18]]);
});

test("groups come by their first cell, and only what is joined is in one", () => {
  expect(touchingGroups(shapeOf(grid), new Set([19, 3, 10]))).toEqual([[3], [10], [19]]);
  const odd = (a: number, b: number) => a % 2 === b % 2;
  expect(touchingGroups({ rows: 2, columns: 2 }, new Set([3, 2, 1, 0]), odd)).toEqual([[0, 2], [1, 3]]); // biome-ignore format: groups
});

test("the median", () => {
  expect(median([])).toBe(0);
  expect(median([7])).toBe(7);
  expect(median([10, 9, 100])).toBe(10);
  expect(median([4, 100, 1, 3])).toBe(3.5);
});

test("values are said as precisely as they are worth, with their unit if they have one", () => {
  expect(sayValue(grid, 4)).toBe("4.00 mg");
  expect(sayValue(plainTable([[1, 2]], { quantity: "trim" }), -2.25)).toBe("-2.3 %");
  expect(sayValue(plainTable([[1, 2]], { quantity: "lambda" }), 0.9)).toBe("0.900");
  expect(sayValue(plainTable([[1, 2]], { quantity: "factor" }), 1.0624)).toBe("1.062");
});

test("percents are said without their sign, small ones with a decimal", () => {
  expect([3, -3, 9.94, 9.95, -9.96, 12.4].map(sayPercent)).toEqual(["3.0 %", "3.0 %", "9.9 %", "10 %", "10 %", "12 %"]);
});

test("places are said by their ranges", () => {
  expect(sayPlace(grid, [8])).toBe("4000 rpm, 20 kPa");
  expect(sayPlace(grid, [8, 13])).toBe("4000 rpm, 20 to 30 kPa");
  expect(sayPlace(grid, [13, 10])).toBe("1000 to 4000 rpm, 30 kPa");
  expect(sayPlace(row, [0])).toBe("1000 rpm");
  expect(sayPlace(row, [2, 1])).toBe("2000 to 3000 rpm");
});
