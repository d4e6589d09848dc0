import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { compareTables } from "./compare-tables.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] });
const before = createTable({
  id: "a",
  name: "invented",
  quantity: "fuel-mass",
  rpm,
  load,
  cells: [
    [2, 4, 6],
    [0, 0, 8],
  ],
});

test("changes are said by cell, in the unit and in percent", () => {
  const after = createTable({
    ...before,
    id: "b",
    cells: [
      [2, 5, 3],
      [0, 1, 8],
    ],
  });
  const comparison = compareTables(before, after);
  expect(Array.from(comparison.absolute)).toEqual([0, 1, -3, 0, 1, 0]);
  expect(Array.from(comparison.percent)).toEqual([0, 25, -50, 0, Number.POSITIVE_INFINITY, 0]);
  expect(comparison.changed).toBe(3);
  expect(comparison.meanChange).toBeCloseTo(-1 / 6, 15);
  expect(comparison.largestRise).toEqual({
    at: 1,
    rpm: 2000,
    load: 30,
    before: 4,
    after: 5,
    absolute: 1,
    percent: 25,
  });
  expect(comparison.largestFall).toMatchObject({ at: 2, rpm: 3000, load: 30, absolute: -3, percent: -50 });
});

test("a trim's percentage is that of the fuel it asks for", () => {
  const trim = (cells: number[][]) => createTable({ id: "t", name: "invented", quantity: "trim", rpm, load, cells });
  const from = trim([
    [0, -50, 10],
    [-100, -100, -4],
  ]);
  const to = trim([
    [5, -40, 10],
    [-100, -90, -52],
  ]);
  expect(Array.from(compareTables(from, to).percent)).toEqual([5, 20, 0, 0, Number.POSITIVE_INFINITY, -50]);
});

test("a table compared with itself shows no change", () => {
  fc.assert(
    fc.property(tables({ min: -5 }), (table) => {
      const same = compareTables(table, table);
      expect(same).toMatchObject({ changed: 0, meanChange: 0, largestRise: null, largestFall: null });
      expect(same.percent.every((value) => value === 0)).toBe(true);
      expect(same.roughness.before).toBe(same.roughness.after);
    }),
    { numRuns: 1000 },
  );
});

test("there and back have opposite changes, percentages have their sign, and nothing is NaN", () => {
  fc.assert(
    fc.property(
      tables({ min: -2, max: 2 }),
      fc.infiniteStream(fc.double({ min: -2, max: 2, noNaN: true })),
      (a, stream) => {
        const b = createTable({
          ...a,
          cells: a.cells.map((value) =>
            (stream.next().value as number) > 1 ? value : (stream.next().value as number),
          ),
        });
        const there = compareTables(a, b);
        const back = compareTables(b, a);
        expect(there.largestRise?.absolute ?? 0).toBe(-(back.largestFall?.absolute ?? -0));
        there.absolute.forEach((change, at) => {
          expect(change).toBe(0 - back.absolute[at]!);
          expect(Math.sign(there.percent[at]!)).toBe(Math.sign(change));
        });
      },
    ),
    { numRuns: 1000 },
  );
});

test("other axes or another quantity are refused with the way out", () => {
  const wider = createTable({
    ...before,
    id: "wide",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3500] }),
  });
  expect(() => compareTables(before, wider)).toThrow(/a and wide must have the same breakpoints; .* compareSurfaces/);
  expect(() => compareTables(before, { ...before, quantity: "trim" })).toThrow(
    expect.objectContaining({ code: "quantities-differ" }),
  );
});
