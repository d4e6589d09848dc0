import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lockedTablesWithRegion } from "../../testing/arbitraries.ts";
import { wronglyMoved } from "../../testing/wrongly-moved.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { editCells } from "./edit-cells.ts";
import { limitCells } from "./limit-cells.ts";
import { offsetCells } from "./offset-cells.ts";
import { scaleCells } from "./scale-cells.ts";
import { setCells } from "./set-cells.ts";

const numbers = fc.double({ min: -50, max: 50, noNaN: true });

/** Every simple edit, and what it wants of a cell. */
const edits: Record<
  string,
  { apply: (table: FuelTable, region: Region, by: number) => FuelTable; wanted: (old: number, by: number) => number }
> = {
  setCells: { apply: (table, region, value) => setCells(table, { region, value }), wanted: (_, by) => by },
  scaleCells: {
    apply: (table, region, factor) => scaleCells(table, { region, factor }),
    wanted: (old, by) => old * by,
  },
  offsetCells: {
    apply: (table, region, amount) => offsetCells(table, { region, amount }),
    wanted: (old, by) => old + by,
  },
  "limitCells from above": {
    apply: (table, region, max) => limitCells(table, { region, max }),
    wanted: (old, by) => Math.min(old, by),
  },
  "limitCells from below": {
    apply: (table, region, min) => limitCells(table, { region, min }),
    wanted: (old, by) => Math.max(old, by),
  },
};

describe.each(Object.entries(edits))("%s", (_, { apply, wanted }) => {
  test("moves each cell by its weight, and leaves locked cells and cells outside bit for bit", () => {
    fc.assert(
      fc.property(lockedTablesWithRegion(), numbers, ({ table, region }, by) => {
        const before = table.cells.slice();
        const weights = editWeights(table, region);
        const after = apply(table, region, by);
        expect(table.cells).toEqual(before);
        // Rounding of three operations on numbers up to 1,000.
        expect(wronglyMoved(table, after, weights, (old) => wanted(old, by), 1e-11)).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });
});

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "pulse-width",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 4000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] }),
  cells: [
    [2, 3, 4],
    [5, 6, 7],
  ],
});

test("a feathered edge fades over its width in each axis's unit", () => {
  const region: Region = { rpm: [1000, 1000], feather: { rpm: 4000 } };
  const after = editCells(table, region, "test", (old) => old + 8);
  // 1,000 rpm away of 4,000: weight 3/4; 3,000 away: 1/4.
  expect(Array.from(after.cells)).toEqual([10, 9, 6, 13, 12, 9]);
});

test("an edit that finds no cell returns the table itself", () => {
  expect(setCells(table, { region: { rpm: [1100, 1900] }, value: 1 })).toBe(table);
  expect(setCells({ ...table, locked: [{}] }, { value: 1 }).cells).toBe(table.cells);
  expect(setCells(table, { value: 4 })).not.toBe(table);
});

test("a cell that would not be finite is named", () => {
  const huge = createTable({ ...table, cells: table.cells.map(() => 1e308) });
  expect(() => scaleCells(huge, { region: { rpm: [2000, 2000], load: [60, 60] }, factor: 10 })).toThrow(
    /scaleCells: the cell at 2000 rpm, 60 kPa must be a finite number, got Infinity/,
  );
});

test("settings that are not numbers are refused by name", () => {
  const bad = Number.NaN;
  expect(() => setCells(table, { value: bad })).toThrow(/^setCells: value must be a finite number, got NaN/);
  expect(() => scaleCells(table, { factor: bad })).toThrow(/^scaleCells: factor must be a finite number/);
  expect(() => offsetCells(table, { amount: "1" as unknown as number })).toThrow(/^offsetCells: amount must be a/);
  expect(() => limitCells(table, { min: bad })).toThrow(/^limitCells: min must be a finite number/);
  expect(() => limitCells(table, {})).toThrow(expect.objectContaining({ code: "limit-missing" }));
  expect(() => limitCells(table, { min: 3, max: 2 })).toThrow(expect.objectContaining({ code: "limits-crossed" }));
});

test("limits on both sides leave what lies between alone", () => {
  expect(Array.from(limitCells(table, { min: 3.5, max: 5.5 }).cells)).toEqual([3.5, 3.5, 4, 5, 5.5, 5.5]);
});
