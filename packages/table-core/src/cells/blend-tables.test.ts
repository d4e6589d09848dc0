import fc from "fast-check";
import { expect, test } from "vitest";
import { lockedTablesWithRegion, tables } from "../../testing/arbitraries.ts";
import { wronglyMoved } from "../../testing/wrongly-moved.ts";
import { lookup } from "../lookup/lookup.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable, type FuelTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { blendTables } from "./blend-tables.ts";

const weights = fc.double({ min: 0, max: 1, noNaN: true });

/** A second table on the same axes. */
const twin = (table: FuelTable, cells: fc.Stream<number>) =>
  createTable({ ...table, locked: [], cells: table.cells.map(() => cells.next().value as number) });
const numbers = fc.infiniteStream(fc.double({ min: -30, max: 30, noNaN: true }));

test("swapping the tables and taking the rest of the weight gives the same cells bit for bit", () => {
  fc.assert(
    fc.property(tables({ min: -20 }), numbers, weights, (a, stream, w) => {
      const b = twin(a, stream);
      const there = blendTables(a, { with: b, weight: w });
      const back = blendTables(b, { with: a, weight: 1 - w });
      expect(there.cells).toEqual(back.cells);
    }),
    { numRuns: 1000 },
  );
});

test("at weight 0 the cells are the first table's, at weight 1 the second's, and equal tables blend to themselves", () => {
  fc.assert(
    fc.property(tables({ min: -20 }), numbers, weights, (a, stream, w) => {
      const b = twin(a, stream);
      expect(blendTables(a, { with: b, weight: 0 })).toBe(a);
      expect(blendTables(a, { with: b, weight: 1 }).cells).toEqual(b.cells);
      expect(blendTables(a, { with: a, weight: w }).cells).toEqual(a.cells);
    }),
    { numRuns: 1000 },
  );
});

test("each cell lies between the two, moved by the region's weight; locked cells and cells outside stay", () => {
  fc.assert(
    fc.property(lockedTablesWithRegion(tables({ min: -20 })), numbers, weights, ({ table: a, region }, stream, w) => {
      const b = twin(a, stream);
      const within = editWeights(a, region);
      const blend = blendTables(a, { with: b, weight: w, region });
      const shares = within.map((weight) => weight * w);
      expect(wronglyMoved(a, blend, shares, (_, at) => b.cells[at]!, 1e-12)).toEqual([]);
      const beyond = Array.from(blend.cells.keys()).filter((at) => {
        const ends = [a.cells[at]!, b.cells[at]!];
        return blend.cells[at]! < Math.min(...ends) || blend.cells[at]! > Math.max(...ends);
      });
      expect(beyond).toEqual([]);
    }),
    { numRuns: 1000 },
  );
});

test("a second table on other breakpoints is looked up on the first's", () => {
  fc.assert(
    fc.property(tables(), tables(), weights, (a, b, w) => {
      const blend = blendTables(a, { with: b, weight: w });
      const columns = a.rpm.breakpoints.length;
      const at = Math.floor(a.cells.length / 2);
      const there = lookup(b, {
        rpm: a.rpm.breakpoints[at % columns]!,
        load: a.load.breakpoints[Math.floor(at / columns)]!,
      });
      expect(blendTables(a, { with: b, weight: 1 }).cells[at]).toBe(there);
      expect(Math.abs(blend.cells[at]! - (a.cells[at]! * (1 - w) + there * w))).toBeLessThan(1e-12);
    }),
    { numRuns: 1000 },
  );
});

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 60, 100] });
const flat = (value: number, id = "t") =>
  createTable({ id, name: "invented", quantity: "factor", rpm, load, cells: new Float64Array(12).fill(value) });

test("a ramp goes along an axis and is held beyond its ends, whichever way it runs", () => {
  const ramp = { along: "rpm", from: [2000, 0], to: [4000, 1] } as const;
  expect(cellRows(blendTables(flat(0), { with: flat(8), weight: ramp }))[1]).toEqual([0, 0, 4, 8]);
  const turned = { along: "rpm", from: [4000, 1], to: [2000, 0] } as const;
  expect(cellRows(blendTables(flat(0), { with: flat(8), weight: turned }))[1]).toEqual([0, 0, 4, 8]);
  const upward = { along: "load", from: [20, 0.25], to: [100, 0.75] } as const;
  const rows = cellRows(blendTables(flat(0), { with: flat(8), weight: upward }));
  expect(rows.map((row) => row[0])).toEqual([2, 4, 6]);
});

test("beyond the second table its edge is held, unless that is refused where it takes part", () => {
  const narrow = createTable({
    id: "narrow",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "rpm", breakpoints: [2000, 3000] }),
    load,
    cells: [
      [1, 3],
      [1, 3],
      [1, 3],
    ],
  });
  const blend = (settings: object) => cellRows(blendTables(flat(0), { with: narrow, weight: 1, ...settings }))[0];
  expect(blend({})).toEqual([1, 1, 3, 3]);
  const extended = [-1, 1, 3, 5];
  blend({ outside: "extend" })!.forEach((value, at) => {
    // The lookup draws a cell's corners in by sixty units of rounding.
    expect(value).toBeCloseTo(extended[at]!, 12);
  });
  expect(() => blend({ outside: "refuse" })).toThrow(expect.objectContaining({ code: "outside-table" }));
  expect(blend({ outside: "refuse", region: { rpm: [2000, 3000] } })).toEqual([0, 1, 3, 0]);
});

test("settings that make no sense are refused by name", () => {
  const blend = (weight: unknown) => () => blendTables(flat(1), { with: flat(2), weight: weight as number });
  expect(blend(1.5)).toThrow(/blendTables: weight must be between 0 and 1, got 1.5/);
  expect(blend(null)).toThrow(/blendTables: weight must be a finite number, got null/);
  expect(blend({ along: "rpm", from: [1, 0], to: [1, 1] })).toThrow(expect.objectContaining({ code: "bad-ramp" }));
  expect(blend({ along: "rpm", from: [1, 0], to: [2, 7] })).toThrow(/weight\.to\[1\] must be between 0 and 1/);
  expect(blend({ along: "rpm", to: [2, 7] })).toThrow(/weight\.from\[0\] must be a finite number, got undefined/);
  expect(() => blendTables(flat(1), { with: { ...flat(1), quantity: "trim" }, weight: 1 })).toThrow(
    expect.objectContaining({ code: "quantities-differ" }),
  );
  const row = createTable({ id: "row", name: "invented", quantity: "factor", rpm, cells: [[1, 2, 3, 4]] });
  expect(() => blendTables(row, { with: row, weight: { along: "load", from: [0, 0], to: [1, 1] } })).toThrow(
    /weight\.along must be rpm on a one-row table/,
  );
  expect(() => blendTables(flat(1), { with: row, weight: 1 })).toThrow(
    expect.objectContaining({ code: "axes-differ" }),
  );
});
