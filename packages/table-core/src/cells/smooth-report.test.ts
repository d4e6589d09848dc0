import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createTable } from "../values/fuel-table.ts";
import { roughness } from "./roughness.ts";
import { smoothCells } from "./smooth-cells.ts";
import { smoothReport } from "./smooth-report.ts";

test("it tells the largest move either way, the mean, and how rough both tables are", () => {
  fc.assert(
    fc.property(tables(), fc.constantFrom(0.5, 50), (table, strength) => {
      const smooth = smoothCells(table, { strength });
      const report = smoothReport(table, smooth);
      const moves = smooth.cells.map((cell, at) => cell - table.cells[at]!);
      const sizes = moves.map(Math.abs);
      expect(Math.abs(report.largest?.absolute ?? 0)).toBe(Math.max(...sizes));
      expect(report.meanSize).toBeCloseTo(sizes.reduce((sum, size) => sum + size, 0) / sizes.length, 12);
      expect(report.meanChange).toBeCloseTo(0, 9);
      expect(report.roughness).toEqual({ before: roughness(table), after: roughness(smooth) });
    }),
    { numRuns: 1000 },
  );
});

test("a fall larger than any rise is told, and nothing where nothing moved", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 2 });
  const cells = table!.cells.map((cell, at) => cell + (at === 0 ? -3 : at === 1 ? 2 : 0));
  const report = smoothReport(table!, createTable({ ...table!, cells }));
  expect(report.largest).toMatchObject({ at: 0, absolute: expect.closeTo(-3, 12) });
  expect(report.changed).toBe(2);
  expect(smoothReport(table!, table!)).toMatchObject({ largest: null, meanSize: 0, meanChange: 0, changed: 0 });
});
