import fc from "fast-check";
import { expect, test } from "vitest";
import { extremeAxes, loadAxes, rpmAxes, tables } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { lookup } from "./lookup.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 100] });
const small = createTable({
  id: "small",
  name: "invented",
  quantity: "pulse-width",
  rpm,
  load,
  cells: [
    [2, 4, 3],
    [10, 14, 12],
  ],
});
const warmUp = createTable({
  id: "warm-up",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 20, 80] }),
  cells: [[1.6, 1.2, 1]],
});

const share = () => fc.double({ min: 0, max: 1, noNaN: true });
const between = (breakpoints: readonly number[], part: number) => {
  const low = breakpoints[0]!;
  return low + part * (breakpoints.at(-1)! - low);
};
const anyTable = () =>
  fc.oneof(
    tables({ min: -50, max: 50 }),
    tables({ min: -50, max: 50, rpm: extremeAxes("rpm"), load: extremeAxes("air-charge") }),
  );

/** The corners' minimum and maximum around a point, found by a search of its own. */
function corners(table: FuelTable, x: number, y: number): [least: number, most: number] {
  const cell = (breakpoints: readonly number[], value: number) =>
    Math.min(Math.max(breakpoints.filter((at) => at <= value).length - 1, 0), breakpoints.length - 2);
  const columns = table.rpm.breakpoints.length;
  const at = cell(table.load.breakpoints, y) * columns + cell(table.rpm.breakpoints, x);
  const around = [at, at + 1, at + columns, at + columns + 1].map((i) => table.cells[i]!);
  return [Math.min(...around), Math.max(...around)];
}

test("between breakpoints the value is bilinear: a case on paper", () => {
  expect(lookup(small, { rpm: 1500, load: 60 })).toBeCloseTo((2 + 4 + 10 + 14) / 4, 13);
  expect(lookup(small, { rpm: 3000, load: 20 })).toBeCloseTo(3.5, 13);
});

test("outside, the edge is held, its cell extended, or the point refused by name", () => {
  expect(lookup(small, { rpm: 500, load: 20 })).toBe(2);
  expect(lookup(small, { rpm: 9000, load: 400, outside: "hold" })).toBe(12);
  expect(lookup(small, { rpm: 500, load: 20, outside: "extend" })).toBeCloseTo(1, 13);
  // Below the corner of a cell with corners 2, 4, 10, 14: 2 - 1 - 2 + 2·0.125, the last for the cross term.
  expect(lookup(small, { rpm: 500, load: 0, outside: "extend" })).toBeCloseTo(2 - 1 - 2 + 0.25, 13);
  expect(() => lookup(small, { rpm: 500, load: 60, outside: "refuse" })).toThrow(
    "lookup: rpm must lie on the axis, 1000 to 4000 rpm, got 500",
  );
  expect(refusal(() => lookup(small, { rpm: 1500, load: 101, outside: "refuse" }))).toMatchObject({
    code: "outside-table",
    message: expect.stringContaining("lookup: load must lie on the axis, 20 to 100 kPa, got 101;"),
    details: { where: "load", value: 101, low: 20, high: 100 },
  });
});

test("a one-row table is read along its columns, whatever load is given", () => {
  expect(lookup(warmUp, { rpm: 0 })).toBeCloseTo(1.4, 13);
  expect(lookup(warmUp, { rpm: 80, load: 55 })).toBe(1);
  expect(lookup(warmUp, { rpm: 200, outside: "extend" })).toBeCloseTo(0.6, 13);
  expect(lookup(warmUp, { rpm: -40 })).toBe(1.6);
});

test("a query that is no number is refused", () => {
  for (const point of [{ rpm: Number.NaN, load: 50 }, { rpm: 2000, load: Number.POSITIVE_INFINITY }, { rpm: 2000 }])
    expect(() => lookup(small, point)).toThrow(FuelwrightError);
  expect(() => lookup(small, { rpm: 2000, load: 50, outside: "guess" as "hold" })).toThrow("hold, extend, refuse");
});

test("on a breakpoint it is the cell exactly, whatever is done outside", () => {
  fc.assert(
    fc.property(anyTable(), fc.constantFrom("hold", "extend", "refuse"), (table, outside) => {
      table.load.breakpoints.forEach((y, row) => {
        table.rpm.breakpoints.forEach((x, column) => {
          const cell = table.cells[row * table.rpm.breakpoints.length + column]!;
          // Not toBe: the sign of a zero does not count.
          expect(lookup(table, { rpm: x, load: y, outside: outside as "hold" }) === cell).toBe(true);
        });
      });
    }),
    { numRuns: 1000 },
  );
});

test("within a cell it never passes the four corners, not even by rounding", () => {
  fc.assert(
    fc.property(anyTable(), share(), share(), fc.nat(), fc.nat(), (table, a, b, c, d) => {
      const x = table.rpm.breakpoints;
      const y = table.load.breakpoints;
      // Points anywhere, and the last ones below a breakpoint, where rounding is at its most awkward.
      const points = [
        [between(x, a), between(y, b)],
        [x[(c % (x.length - 1)) + 1]! * (1 - 2 ** -53), y[(d % (y.length - 1)) + 1]! * (1 - 2 ** -53)],
        [x[(c % (x.length - 1)) + 1]! * (1 - 2 ** -53), between(y, b)],
      ] as const;
      for (const [rpmAt, loadAt] of points) {
        if (rpmAt < x[0]! || loadAt < y[0]!) continue;
        const [least, most] = corners(table, rpmAt, loadAt);
        const value = lookup(table, { rpm: rpmAt, load: loadAt });
        expect(value).toBeGreaterThanOrEqual(least);
        expect(value).toBeLessThanOrEqual(most);
      }
    }),
    { numRuns: 5000 },
  );
});

test("a plane is reproduced to rounding, inside and extended", () => {
  const coefficient = () => fc.double({ min: -10, max: 10, noNaN: true });
  fc.assert(
    fc.property(
      fc.tuple(rpmAxes(), loadAxes()),
      fc.tuple(coefficient(), coefficient(), coefficient()),
      fc.double({ min: -0.5, max: 1.5, noNaN: true }),
      fc.double({ min: -0.5, max: 1.5, noNaN: true }),
      ([x, y], [a, b, c], p, q) => {
        const plane = (r: number, l: number) => a + (b * r) / 1000 + (c * l) / 100;
        const cells = y.breakpoints.map((l) => x.breakpoints.map((r) => plane(r, l)));
        const table = createTable({ id: "p", name: "plane", quantity: "factor", rpm: x, load: y, cells });
        const rpmAt = between(x.breakpoints, p);
        const loadAt = between(y.breakpoints, q);
        const value = lookup(table, { rpm: rpmAt, load: loadAt, outside: "extend" });
        // Values up to 300, taken up to half the axis beyond the last cell, which may be 1/40 of it: 1e-16 · 300 · 40² · few.
        expect(Math.abs(value - plane(rpmAt, loadAt))).toBeLessThan(1e-9);
      },
    ),
    { numRuns: 1000 },
  );
});

test("the unit of an axis does not matter", () => {
  fc.assert(
    fc.property(tables(), share(), share(), fc.constantFrom(1 / 60, 0.145, 100), (table, a, b, factor) => {
      const stretched = createTable({
        ...table,
        rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.map((value) => value * factor) },
      });
      const x = between(table.rpm.breakpoints, a);
      const y = between(table.load.breakpoints, b);
      expect(lookup(stretched, { rpm: x * factor, load: y })).toBeCloseTo(lookup(table, { rpm: x, load: y }), 10);
    }),
    { numRuns: 1000 },
  );
});

test("a mirrored table gives mirrored values", () => {
  fc.assert(
    fc.property(tables(), share(), share(), (table, a, b) => {
      const mirrored = createTable({
        ...table,
        rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.map((value) => 10_000 - value).reverse() },
        cells: table.load.breakpoints.map((_, row) =>
          Array.from(
            table.cells.subarray(row * table.rpm.breakpoints.length).slice(0, table.rpm.breakpoints.length),
          ).reverse(),
        ),
      });
      const x = between(table.rpm.breakpoints, a);
      const y = between(table.load.breakpoints, b);
      expect(lookup(mirrored, { rpm: 10_000 - x, load: y })).toBeCloseTo(lookup(table, { rpm: x, load: y }), 10);
    }),
    { numRuns: 1000 },
  );
});

test("gaps of the smallest numbers give the cells on their breakpoints all the same", () => {
  const narrow = createTable({
    id: "narrow",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "rpm", breakpoints: [0, 5e-324, 1e-300, 1] }),
    load,
    cells: [
      [1, 1e9, -4, 2],
      [3, 0, 5, 1],
    ],
  });
  const read = narrow.rpm.breakpoints.map((x) => lookup(narrow, { rpm: x, load: 100 }));
  expect(read).toEqual([3, 0, 5, 1]);
});
