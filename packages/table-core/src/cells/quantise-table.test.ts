import fc from "fast-check";
import { expect, test } from "vitest";
import { lockedTablesWithRegion, tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable, type Storage } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { quantiseReport } from "./quantise-report.ts";
import { quantiseTable } from "./quantise-table.ts";
import { storageLevels } from "./storage-levels.ts";

/** Storages as controllers have them, and some that no controller has. */
const storages: fc.Arbitrary<Storage> = fc
  .record({
    min: fc.oneof(fc.integer({ min: -10, max: 4 }), fc.double({ min: -10, max: 4, noNaN: true })),
    step: fc.oneof(
      fc.constantFrom(0.1, 0.05, 0.004, 0.3, 1 / 128, 0.5, 1, 2.5),
      fc.double({ min: 1e-3, max: 3, noNaN: true }),
    ),
    steps: fc.double({ min: 1, max: 300, noNaN: true }),
  })
  .map(({ min, step, steps }) => ({ min: min + 0, step, max: min + step * steps }))
  .filter(({ min, max, step }) => step <= max - min);

test("every free cell becomes the nearest level within the range; a second time changes nothing", () => {
  fc.assert(
    fc.property(
      lockedTablesWithRegion(tables({ min: -12, max: 14, quantity: "trim" })),
      storages,
      fc.boolean(),
      ({ table }, storage, diffuse) => {
        const { min, max, step } = storage;
        const after = quantiseTable(table, { storage, diffuse });
        const free = editWeights(table);
        const highest = storageLevels(storage).value(storageLevels(storage).top);
        expect(max - highest).toBeLessThan(step * (1 + 1e-9));
        const wrong = Array.from(after.cells.keys()).filter((at) => {
          const [old, value] = [table.cells[at]!, after.cells[at]!];
          if (free[at] === 0) return !Object.is(value, old);
          const level = (value - min) / step;
          const wanted = Math.min(Math.max(old, min), highest);
          // Levels: the quotient of numbers below 400 and a step of 0.001 or more, taken of rounded sums.
          const between = Math.abs(level - Math.round(level)) > 1e-9;
          const outside = value < min - 1e-12 || value > max;
          return between || outside || Math.abs(value - wanted) > (diffuse ? 1 : 0.5) * step + 1e-12;
        });
        expect(wrong).toEqual([]);
        expect(quantiseTable(after, { diffuse }).cells).toEqual(after.cells);
        expect(after.storage).toEqual(storage);
      },
    ),
    { numRuns: 1000 },
  );
});

test("diffused, the sum of a row moves by half a step at most", () => {
  fc.assert(
    fc.property(tables({ min: 0, max: 20 }), fc.constantFrom(0.1, 0.3, 1, 2.5), (table, step) => {
      const after = quantiseTable(table, { storage: { min: 0, max: 20, step }, diffuse: true });
      const highest = Math.floor(20 / step + 1e-9) * step;
      const columns = table.rpm.breakpoints.length;
      for (let row = 0; row < table.load.breakpoints.length; row++) {
        const sum = (cells: Float64Array) =>
          cells
            .subarray(row * columns, (row + 1) * columns)
            .reduce((total, value) => total + Math.min(value, highest), 0);
        expect(Math.abs(sum(after.cells) - sum(table.cells))).toBeLessThanOrEqual(step / 2 + 1e-9);
      }
    }),
    { numRuns: 1000 },
  );
});

const row = (...cells: number[]) =>
  createTable({
    id: "t",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: cells.map((_, at) => 1000 * (at + 1)) }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] }),
    cells: [cells, cells],
  });

test("halves go up, and levels are the decimal numbers themselves", () => {
  const storage = { min: 0, max: 25.5, step: 0.1 };
  const after = quantiseTable(row(0.25, 0.3, 0.349, 0.1 + 0.2, 25.46, 99, -1), { storage });
  expect(cellRows(after)[0]).toEqual([0.3, 0.3, 0.3, 0.3, 25.5, 25.5, 0]);
  expect(cellRows(quantiseTable(row(-0.25, -0.35), { storage: { min: -10, max: 10, step: 0.1 } }))[0]).toEqual([
    -0.2, -0.3,
  ]);
  expect(cellRows(quantiseTable(row(2.4, 2.6), { storage: { min: 0.5, max: 9, step: 2 } }))[0]).toEqual([2.5, 2.5]);
});

test("the range's last level is the last whole step", () => {
  expect(storageLevels({ min: 0, max: 25.5, step: 0.1 }).top).toBe(255);
  expect(storageLevels({ min: 0, max: 1, step: 0.3 }).top).toBe(3);
  expect(storageLevels({ min: -12.8, max: 12.7, step: 0.1 }).top).toBe(255);
  expect(storageLevels({ min: 0, max: 65_535 / 250, step: 0.004 }).top).toBe(65_535);
});

test("what is rounded off goes on along the row, not to the next row", () => {
  const after = quantiseTable(row(1.4, 1.4, 1.4, 1.4, 1.4), { storage: { min: 0, max: 9, step: 1 }, diffuse: true });
  expect(cellRows(after)).toEqual([
    [1, 2, 1, 2, 1],
    [1, 2, 1, 2, 1],
  ]);
  const cut = quantiseTable(row(9, 1.2, 1.2), { storage: { min: 0, max: 5, step: 1 }, diffuse: true });
  expect(cellRows(cut)[0]).toEqual([5, 1, 1]);
});

test("the report says the errors, the cells cut off, and those that stayed unrounded", () => {
  const before = {
    ...row(1.02, 1.26, 30, -4, 7.77),
    locked: [{ rpm: [5000, 5000] as const, load: [30, 30] as const }],
  };
  const storage = { min: 0, max: 25.5, step: 0.1 };
  const after = quantiseTable(before, { storage });
  const report = quantiseReport(before, after);
  expect(report.largest).toMatchObject({ at: 1, rpm: 2000, load: 30, before: 1.26, after: 1.3 });
  expect(report.largest!.error).toBeCloseTo(0.04, 12);
  // Two errors of -0.02, two of 0.04, one of 0.03 and one of 0 (locked).
  expect(report.rootMeanSquare).toBeCloseTo(Math.sqrt((2 * 0.0004 + 2 * 0.0016 + 0.0009) / 6), 12);
  expect(report.clipped.map(({ at, end }) => [at, end])).toEqual([
    [2, "max"],
    [3, "min"],
    [7, "max"],
    [8, "min"],
  ]);
  expect(report.unstored).toEqual([{ at: 4, rpm: 5000, load: 30, before: 7.77, after: 7.77, error: 0 }]);
  expect(quantiseReport(after, quantiseTable({ ...after, locked: [{}] }))).toMatchObject({
    largest: null,
    clipped: [],
  });
});

test("a storage is asked for, and must make sense", () => {
  expect(() => quantiseTable(row(1, 2))).toThrow(expect.objectContaining({ code: "storage-missing" }));
  expect(() => quantiseTable(row(1, 2), { storage: { min: 0, max: 1, step: 2 } })).toThrow(
    /quantiseTable: storage must have/,
  );
  expect(() => quantiseTable(row(1, 2), { storage: { min: 0, max: 1, step: 1e-20 } })).toThrow(/steps at most/);
  expect(() => quantiseReport(row(1, 2), row(1, 2, 3))).toThrow(expect.objectContaining({ code: "axes-differ" }));
});
