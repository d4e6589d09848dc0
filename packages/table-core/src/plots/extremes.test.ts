import { expect, test } from "vitest";
import { scaleCells } from "../cells/scale-cells.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { extremes } from "./extremes.ts";
import { plotSlice } from "./plot-slice.ts";

test("the least and the greatest are found, of nothing Infinity and −Infinity", () => {
  expect(extremes([3, -2, 7.5, 0])).toEqual([-2, 7.5]);
  expect(extremes(new Float64Array([4]))).toEqual([4, 4]);
  expect(extremes([])).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
});

test("the largest table is cut, with what it was: more cells than a call takes arguments", () => {
  const rising = Array.from({ length: 256 }, (_, at) => at + 1);
  const table = createTable({
    id: "large",
    name: "Large",
    quantity: "factor",
    rpm: createAxis({ quantity: "rpm", unit: "rpm", breakpoints: rising }),
    load: createAxis({ quantity: "throttle-position", unit: "%", breakpoints: rising.map((at) => at / 3) }),
    cells: rising.map((row) => rising.map((column) => 1 + row * column * 1e-5)),
  });
  const { description } = plotSlice(scaleCells(table, { factor: 1.1 }), { before: table, along: "rpm", at: 256 / 3 });
  expect(description).toContain("Largest change here +10");
});
