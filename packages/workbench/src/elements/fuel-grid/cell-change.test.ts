import { createAxis, createTable, type FuelTable, withCells } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { cellChange, changeText } from "./cell-change.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] });
const table = (quantity: FuelTable["quantity"], cells: number[]) =>
  createTable({ id: "t", name: "t", quantity, rpm, load, cells: Float64Array.from(cells) });

test("change is a percentage of what was there", () => {
  const before = table("pulse-width", [2, 4, 5, 8]);
  const now = withCells(before, Float64Array.of(2, 5, 4, 8.4), "test");
  expect(Array.from(cellChange(now, before)!, (percent) => Number(percent.toFixed(9)))).toEqual([0, 25, -20, 5]);
});

test("a trim's change is that of the fuel it asks for", () => {
  const before = table("trim", [0, -50, 5, -3]);
  const now = withCells(before, Float64Array.of(5, -40, 5, 0), "test");
  expect(Array.from(cellChange(now, before)!, (percent) => Number(percent.toFixed(6)))).toEqual([5, 20, 0, 3.092784]);
});

test("rounding is no change, and a rise from zero is an infinite one", () => {
  const before = table("factor", [1, 0, 0, 2]);
  const now = withCells(before, Float64Array.of(1 + 1e-12, 0, 0.1, 2), "test");
  expect(Array.from(cellChange(now, before)!)).toEqual([0, 0, Number.POSITIVE_INFINITY, 0]);
});

test("other axes, another quantity and the table itself have nothing to compare", () => {
  const now = table("pulse-width", [1, 2, 3, 4]);
  const other = createTable({
    id: "t",
    name: "t",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2500] }),
    load,
    cells: now.cells,
  });
  for (const before of [null, now, other, table("fuel-mass", [1, 2, 3, 4])]) expect(cellChange(now, before)).toBeNull();
});

test("a change reads with its sign", () => {
  expect([3.46, -20.5, 0.01, -0.01, 1234.5, Number.POSITIVE_INFINITY].map(changeText)).toEqual([
    "+3.5 %",
    "−20.5 %",
    "under +0.1 %",
    "under −0.1 %",
    "+1235 %",
    "up from zero",
  ]);
});
