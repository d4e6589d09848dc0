import fc from "fast-check";
import { expect, test } from "vitest";
import { lockedTablesWithRegion } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { pasteCells } from "./paste-cells.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 40, 60, 80] });
const zeros = createTable({
  id: "t",
  name: "invented",
  quantity: "fuel-mass",
  rpm,
  load,
  cells: new Float64Array(16),
});

test("cells inside the block's outline take its value there, interpolated between its breakpoints", () => {
  const after = pasteCells(zeros, {
    rpm: [1500, 2000, 4000],
    load: [40, 80],
    cells: [
      [1, 2, 4],
      [3, 6, 8],
    ],
  });
  expect(cellRows(after)).toEqual([
    [0, 0, 0, 0],
    [0, 2, 3, 4],
    [0, 4, 5, 6],
    [0, 6, 7, 8],
  ]);
});

test("a block of one row or one column applies at that breakpoint only", () => {
  const row = pasteCells(zeros, { rpm: [1000, 3000], load: [60], cells: [[1, 3]] });
  expect(cellRows(row)[2]).toEqual([1, 2, 3, 0]);
  expect(row.cells.filter((value) => value !== 0)).toHaveLength(3);
  const column = pasteCells(zeros, { rpm: [2000], load: [20, 60], cells: [[1], [5]] });
  expect(cellRows(column).map((cells) => cells[1])).toEqual([1, 3, 5, 0]);
  expect(pasteCells(zeros, { rpm: [2000], load: [61], cells: [[9]] })).toBe(zeros);
  const dot = pasteCells(zeros, { rpm: [2000], load: [60], cells: [[9]] });
  expect(dot.cells.reduce((sum, value) => sum + value)).toBe(9);
});

test("a one-row table takes one row, whatever its load", () => {
  const warmUp = createTable({
    id: "w",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 0, 20] }),
    cells: [[1.6, 1.4, 1.2]],
  });
  expect(cellRows(pasteCells(warmUp, { rpm: [-20, 0], load: [35], cells: [[1.7, 1.5]] }))).toEqual([[1.7, 1.5, 1.2]]);
  expect(() => pasteCells(warmUp, { rpm: [0], load: [1, 2], cells: [[1], [2]] })).toThrow(/one row for a table/);
});

test("a block copied from the table and pasted back changes nothing; pasted elsewhere it arrives bit for bit", () => {
  fc.assert(
    fc.property(
      lockedTablesWithRegion(),
      fc.infiniteStream(fc.double({ noNaN: true, noDefaultInfinity: true })),
      (given, stream) => {
        const { table } = given;
        const own = { rpm: table.rpm.breakpoints, load: table.load.breakpoints };
        expect(pasteCells(table, { ...own, cells: cellRows(table) }).cells).toEqual(table.cells);
        const block = own.load.map(() => own.rpm.map(() => stream.next().value as number));
        const after = pasteCells(table, { ...own, cells: block });
        const weights = editWeights(table);
        block.flat().forEach((value, at) => {
          expect(Object.is(after.cells[at], weights[at] === 0 ? table.cells[at] : value)).toBe(true);
        });
      },
    ),
    { numRuns: 1000 },
  );
});

test("pasted cells lie within the block's numbers, and cells outside its outline are left alone", () => {
  fc.assert(
    fc.property(
      lockedTablesWithRegion(),
      fc.array(fc.integer({ min: 1, max: 9000 }), { minLength: 4, maxLength: 4 }),
      fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 4, maxLength: 4 }),
      ({ table }, [a, b, c, d], [p, q, r, s]) => {
        const side = (from: number, to: number, scale: number) => [
          from * scale,
          from * scale + Math.max(1, to * scale),
        ];
        const block = {
          rpm: side(a!, b!, 0.3),
          load: side(c!, d!, 0.01),
          cells: [
            [p!, q!],
            [r!, s!],
          ],
        };
        const after = pasteCells(table, block);
        const weights = editWeights(table, {
          rpm: [block.rpm[0]!, block.rpm[1]!],
          load: [block.load[0]!, block.load[1]!],
        });
        after.cells.forEach((value, at) => {
          if (weights[at] === 0) expect(Object.is(value, table.cells[at])).toBe(true);
          else {
            expect(value).toBeGreaterThanOrEqual(Math.min(p!, q!, r!, s!));
            expect(value).toBeLessThanOrEqual(Math.max(p!, q!, r!, s!));
          }
        });
      },
    ),
    { numRuns: 1000 },
  );
});

test("a block that is no block is refused by its place", () => {
  const cells = [[1, 2]];
  expect(() => pasteCells(zeros, { rpm: [2000, 1000], load: [40], cells })).toThrow(
    /pasteCells: rpm\[1\] must be above 2000, got 1000/,
  );
  expect(() => pasteCells(zeros, { rpm: [1000, 1000], load: [40], cells })).toThrow(
    expect.objectContaining({ code: "bad-block", details: { at: 1, value: 1000 } }),
  );
  const long = Array.from({ length: 257 }, (_, at) => at);
  expect(() => pasteCells(zeros, { rpm: long, load: [40], cells: [long] })).toThrow("a list of 1 to 256 numbers");
  const most = long.slice(1);
  expect(pasteCells(zeros, { rpm: most, load: [40], cells: [most] })).toBe(zeros);
  expect(() => pasteCells(zeros, { rpm: [], load: [40], cells })).toThrow(/pasteCells: rpm must be a list of 1 to 256/);
  expect(() => pasteCells(zeros, { rpm: [1000, 2000], load: [40, 60], cells })).toThrow(/cells must be 2 rows/);
  expect(() => pasteCells(zeros, { rpm: [1000, 2000, 3000], load: [40], cells })).toThrow(
    /cells\[0\] must be 3 numbers/,
  );
  expect(() => pasteCells(zeros, { rpm: [1000, 2000], load: [40], cells: [[1, Number.NaN]] })).toThrow(
    /cells\[0\]\[1\] must be a finite number, got NaN/,
  );
});
