import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable, type FuelTable } from "../values/fuel-table.ts";
import { regionWeights } from "../values/region.ts";
import { extrapolateCells } from "./extrapolate-cells.ts";
import { lockCells } from "./lock-cells.ts";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "pulse-width",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 60, 80] }),
  cells: [
    [2, 3, 4],
    [4, 5, 6],
    [6, 7, 9],
  ],
});

/** A random table and new breakpoints on all four sides. */
const wider = tables().chain((one) =>
  fc.record({
    one: fc.constant(one),
    steps: fc.tuple(...[1, 2, 3, 4].map(() => fc.array(fc.integer({ min: 1, max: 900 }), { maxLength: 3 }))),
  }),
);
const beyond = (from: number, steps: readonly number[], way: 1 | -1) => {
  let at = from;
  return steps.map((step) => (at += way * step));
};
const sidesOf = (one: FuelTable, [a, b, c, d]: readonly number[][]) => ({
  rpm: [...beyond(one.rpm.breakpoints[0]!, a!, -1), ...beyond(one.rpm.breakpoints.at(-1)!, b!, 1)],
  load: [...beyond(one.load.breakpoints[0]!, c!, -1), ...beyond(one.load.breakpoints.at(-1)!, d!, 1)],
});

describe("cases on paper", () => {
  test("the trend of the last three goes on, damped", () => {
    const { table: out } = extrapolateCells(table, { rpm: [4000] });
    // Slope 1 over an extent of 2000: 2 · (1 − e^(−1/2)); in the last row 3/2 as much.
    const rise = 2 * (1 - Math.exp(-0.5));
    expect(cellRows(out)[0]).toEqual([2, 3, 4, expect.closeTo(4 + rise, 13)]);
    expect(cellRows(out)[2]![3]).toBeCloseTo(9 + 1.5 * rise, 13);
  });

  test("over two breakpoints, held, and far away", () => {
    const far = (settings: object) => extrapolateCells(table, { rpm: [1e9], ...settings }).table.cells[11]!;
    expect(far({})).toBeCloseTo(9 + 3, 12);
    expect(far({ trendOver: 2 })).toBeCloseTo(9 + 2, 12);
    expect(far({ trendOver: 2, fade: 0.5 })).toBeCloseTo(9 + 1, 12);
    expect(far({ fade: 0 })).toBe(9);
  });

  test("in the corner both trends add up", () => {
    const plane = createTable({ ...table, cells: Float64Array.of(2, 3, 4, 4, 5, 6, 6, 7, 8) });
    const { table: out } = extrapolateCells(plane, { rpm: [4000], load: [100] });
    const share = 1 - Math.exp(-0.5);
    expect(out.cells[15]).toBeCloseTo(8 + 2 * share + 4 * share, 12);
  });

  test("what has no meaning below 0 is held there and counted, a trim is not", () => {
    const falling = createTable({ ...table, cells: Float64Array.of(1, 3, 6, 1, 3, 6, 0.5, 3, 6) });
    const { table: out, heldAtZero } = extrapolateCells(falling, { rpm: [100] });
    expect(cellRows(out).map((row) => row[0])).toEqual([0, 0, 0]);
    expect(heldAtZero).toBe(3);
    const trim = createTable({ ...falling, quantity: "trim", unit: "%" });
    expect(extrapolateCells(trim, { rpm: [100] })).toMatchObject({ heldAtZero: 0 });
    expect(extrapolateCells(trim, { rpm: [100] }).table.cells[0]).toBeLessThan(0);
  });

  test("a table that goes below 0 anywhere may go on below it; one that touches 0 may not", () => {
    const grown = (last: readonly number[]) =>
      extrapolateCells(
        createTable({ ...table, quantity: "factor", unit: "factor", cells: [[1, 3, 6], [1, 3, 6], [...last]] }),
        { rpm: [100] },
      );
    expect(grown([5, 5, -1]).heldAtZero).toBe(0);
    expect(grown([5, 5, -1]).table.cells[0]).toBeLessThan(0);
    expect(grown([5, 5, 0]).heldAtZero).toBe(2);
    expect(grown([5, 5, 0]).table.cells[0]).toBe(0);
  });

  test("an edge of 0 that is held at 0 is not counted as cut off", () => {
    const dry = createTable({ ...table, cells: Float64Array.of(0, 3, 6, 0, 3, 6, 0, 3, 6) });
    expect(extrapolateCells(dry, { rpm: [100], fade: 0 })).toMatchObject({ heldAtZero: 0 });
  });

  test("new breakpoints may be given in any order", () => {
    const { table: out } = extrapolateCells(table, { rpm: [6000, 500, 4000, 900] });
    expect(out.rpm.breakpoints).toEqual([500, 900, 1000, 2000, 3000, 4000, 6000]);
    expect(out.cells).toEqual(extrapolateCells(table, { rpm: [500, 900, 4000, 6000] }).table.cells);
  });

  test("a one-row table grows along its columns", () => {
    const row = createTable({
      id: "volts",
      name: "invented",
      quantity: "factor",
      rpm: createAxis({ quantity: "battery-voltage", breakpoints: [10, 12, 14] }),
      cells: [[1.2, 1.1, 1]],
    });
    const { table: out, extrapolated } = extrapolateCells(row, { rpm: [8, 15] });
    expect(out.rpm.breakpoints).toEqual([8, 10, 12, 14, 15]);
    expect(extrapolated).toEqual({ rpm: [8, 8], also: [{ rpm: [15, 15] }] });
    expect(() => extrapolateCells(row, { load: [1] })).toThrow("load does not exist on a one-row table");
  });
});

test("old cells come out bit for bit, the new ones are said, and locks and names are kept", () => {
  fc.assert(
    fc.property(wider, ({ one, steps }) => {
      const sides = sidesOf(one, steps);
      if (sides.rpm.length + sides.load.length === 0) return;
      const locked = lockCells(one, { region: { rpm: [0, 1000] } });
      const { table: out, extrapolated } = extrapolateCells(locked, sides);
      expect(out).toMatchObject({ id: one.id, quantity: one.quantity, locked: locked.locked });
      const marked = regionWeights(out, extrapolated);
      let old = 0;
      const faults: string[] = [];
      out.load.breakpoints.forEach((load, row) => {
        out.rpm.breakpoints.forEach((rpm, column) => {
          const at = row * out.rpm.breakpoints.length + column;
          const isOld = one.rpm.breakpoints.includes(rpm) && one.load.breakpoints.includes(load);
          if (marked[at] !== (isOld ? 0 : 1)) faults.push(`mark of ${at}`);
          if (isOld && !Object.is(out.cells[at], one.cells[old++])) faults.push(`cell ${at}`);
        });
      });
      expect(faults).toEqual([]);
      expect(old).toBe(one.cells.length);
    }),
    { numRuns: 1000 },
  );
});

test("a row's new cells go on monotonically and change by no more than the trend did", () => {
  fc.assert(
    fc.property(tables({ quantity: "trim", min: -20, max: 20 }), fc.integer({ min: 2, max: 5 }), (one, trendOver) => {
      const last = one.rpm.breakpoints.at(-1)!;
      const { table: out } = extrapolateCells(one, { rpm: [last + 10, last + 400, last + 1e5], trendOver });
      const columns = one.rpm.breakpoints.length;
      cellRows(out).forEach((row, r) => {
        const edge = one.cells[r * columns + columns - 1]!;
        const trend = edge - one.cells[r * columns + Math.max(columns - trendOver, 0)]!;
        const moves = row.slice(-3).map((cell) => (cell - edge) * Math.sign(trend));
        expect(moves[0]).toBeGreaterThanOrEqual(0);
        expect(moves[1]).toBeGreaterThanOrEqual(moves[0]!);
        expect(moves[2]).toBeGreaterThanOrEqual(moves[1]!);
        expect(moves[2]).toBeLessThanOrEqual(Math.abs(trend) + 1e-12);
      });
    }),
    { numRuns: 1000 },
  );
});

test("the unit of an axis does not matter, and a mirrored table gives mirrored cells", () => {
  fc.assert(
    fc.property(wider, ({ one, steps }) => {
      const sides = sidesOf(one, steps);
      if (sides.rpm.length === 0) return;
      const turn = (value: number) => (20_000 - value) / 60;
      const columns = one.rpm.breakpoints.length;
      const mirrored = createTable({
        ...one,
        rpm: { ...one.rpm, breakpoints: one.rpm.breakpoints.map(turn).reverse() },
        cells: one.cells.map((_, at) => one.cells[at - (at % columns) + (columns - 1 - (at % columns))]!),
      });
      const out = cellRows(extrapolateCells(one, sides).table);
      const back = cellRows(extrapolateCells(mirrored, { ...sides, rpm: sides.rpm.map(turn) }).table);
      out.forEach((row, r) => {
        row.forEach((cell, c) => {
          expect(back[r]![row.length - 1 - c]).toBeCloseTo(cell, 10);
        });
      });
    }),
    { numRuns: 1000 },
  );
});

test("what cannot be done is said", () => {
  expect(() => extrapolateCells(table, {})).toThrow("rpm or load must be given");
  expect(() => extrapolateCells(table, { rpm: [2500] })).toThrow(
    "extrapolateCells: rpm[0] must lie beyond the axis, 1000 to 3000",
  );
  expect(() => extrapolateCells(table, { load: [80] })).toThrow(
    expect.objectContaining({ code: "not-beyond", details: { side: "load", value: 80, low: 40, high: 80 } }),
  );
  expect(() => extrapolateCells(table, { rpm: [1000] })).toThrow("must lie beyond the axis");
  expect(() => extrapolateCells(table, { load: [90, 90] })).toThrow("sort the breakpoints and drop repeats");
  expect(() => extrapolateCells(table, { rpm: [4000], fade: -1 })).toThrow("fade must be between 0 and 100");
  expect(() => extrapolateCells(table, { rpm: [4000], trendOver: 1 })).toThrow("trendOver must be between 2");
  expect(() => extrapolateCells(table, { rpm: [Number.NaN] })).toThrow("rpm[0] must be a finite number");
});
