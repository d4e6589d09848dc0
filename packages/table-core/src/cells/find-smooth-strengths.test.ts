import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { axes, tables } from "../../testing/arbitraries.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { cellRows, createTable, type FuelTable } from "../values/fuel-table.ts";
import { findSmoothStrengths } from "./find-smooth-strengths.ts";
import { smoothCells } from "./smooth-cells.ts";
import { smoothReport } from "./smooth-report.ts";

/** A hill of the kind fuel tables are, n × n, with noise of the given standard deviation. */
function hill(n: number, noise: number, seed: number): { clean: FuelTable; noisy: FuelTable } {
  const random = seededRandom(seed);
  const points = Array.from({ length: n }, (_, i) => i / (n - 1));
  const surface = points.map((y) => points.map((x) => 4 + 6 * y + 2 * Math.exp(-(((x - 0.6) / 0.3) ** 2)) * (0.4 + y)));
  const make = (cells: number[][]) =>
    createTable({
      id: "hill",
      name: "invented",
      quantity: "pulse-width",
      rpm: { quantity: "rpm", unit: "rpm", breakpoints: points.map((x) => 800 + 7000 * x) },
      load: { quantity: "manifold-pressure", unit: "kPa", breakpoints: points.map((y) => 20 + 80 * y) },
      cells,
    });
  return { clean: make(surface), noisy: make(surface.map((row) => row.map((cell) => cell + noise * random.normal()))) };
}

/** Leave-one-out error of a smoothing, by leaving each cell out in turn. */
function leaveOneOut(table: FuelTable, rpmStrength: number, loadStrength: number): number {
  let sum = 0;
  table.cells.forEach((cell, at) => {
    const weights = table.cells.map((_, other) => (other === at ? 0 : 1));
    sum += (smoothCells(table, { rpmStrength, loadStrength, weights }).cells[at]! - cell) ** 2;
  });
  return sum / table.cells.length;
}

test("a noisy hill comes out nearer to the hill than it was, by far, and the noise is told", () => {
  for (const [n, noise, seed] of [
    [16, 0.2, 1],
    [20, 0.05, 2],
    [32, 0.4, 3],
  ] as const) {
    const { clean, noisy } = hill(n, noise, seed);
    const found = findSmoothStrengths(noisy);
    const smooth = smoothCells(noisy, { strength: "auto" });
    expect(smooth.cells).toEqual(smoothCells(noisy, found).cells);
    const left = smoothReport(clean, smooth).meanSize / smoothReport(clean, noisy).meanSize;
    expect(left).toBeLessThan(0.5);
    expect(found.noise / noise).toBeGreaterThan(0.85);
    expect(found.noise / noise).toBeLessThan(1.15);
    expect(found.effectiveDimension).toBeGreaterThan(4);
    expect(found.effectiveDimension).toBeLessThan(n * n * 0.5);
  }
});

test("what it finds leaves cells out about as well as the best of a grid of strengths", () => {
  const { noisy } = hill(9, 0.3, 4);
  const { rpmStrength, loadStrength } = findSmoothStrengths(noisy);
  const grid = [0.03, 1, 30, 1000];
  const best = Math.min(...grid.flatMap((x) => grid.map((y) => leaveOneOut(noisy, x, y))));
  expect(leaveOneOut(noisy, rpmStrength, loadStrength)).toBeLessThan(1.05 * best);
});

test("noise along one side only is smoothed along that side", () => {
  const { clean } = hill(14, 0, 5);
  const random = seededRandom(6);
  const byColumn = Array.from({ length: 14 }, () => 0.4 * random.normal());
  const striped = createTable({ ...clean, cells: clean.cells.map((cell, at) => cell + byColumn[at % 14]!) });
  const { rpmStrength, loadStrength } = findSmoothStrengths(striped);
  expect(rpmStrength / loadStrength).not.toBeCloseTo(1, 0);
});

describe("the ways of judging", () => {
  test("agree where all cells are alike, but for a weight that is said", () => {
    const { noisy } = hill(12, 0.2, 7);
    const alike = findSmoothStrengths(noisy);
    // One weight a little off: the band has to do it.
    const weights = noisy.cells.map((_, at) => (at === 5 ? 1 + 1e-9 : 1));
    const byBand = findSmoothStrengths(noisy, { weights });
    for (const side of ["rpmStrength", "loadStrength"] as const)
      expect(Math.abs(Math.log10(byBand[side] / alike[side]))).toBeLessThan(0.15);
    expect(byBand.effectiveDimension / alike.effectiveDimension).toBeCloseTo(1, 1);
  });

  test("random fields do for tables that are large", () => {
    const { noisy } = hill(52, 0.2, 8);
    const alike = findSmoothStrengths(noisy);
    const weights = noisy.cells.map((_, at) => (at % 11 === 0 ? 0 : 1));
    const byFields = findSmoothStrengths(noisy, { weights });
    for (const side of ["rpmStrength", "loadStrength"] as const)
      expect(Math.abs(Math.log10(byFields[side] / alike[side]))).toBeLessThan(0.6);
    expect(byFields.noise).toBeCloseTo(0.2, 1);
  }, 30_000);
});

test("scale, offset and unit of the cells do not matter to the strengths", () => {
  const { noisy } = hill(10, 0.3, 9);
  const found = findSmoothStrengths(noisy);
  const other = findSmoothStrengths(createTable({ ...noisy, cells: noisy.cells.map((cell) => 1000 * cell - 7) }));
  expect(other.rpmStrength).toBeCloseTo(found.rpmStrength, 6);
  expect(other.noise / found.noise).toBeCloseTo(1000, 4);
});

test("it stays within its range on any table, and the region alone counts", () => {
  fc.assert(
    fc.property(tables({ rpm: axes("rpm", { minLength: 3 }), load: axes("air-charge", { minLength: 3 }) }), (table) => {
      const { rpmStrength, loadStrength, effectiveDimension } = findSmoothStrengths(table);
      for (const strength of [rpmStrength, loadStrength]) {
        expect(strength).toBeGreaterThanOrEqual(1e-3 * (1 - 1e-9));
        expect(strength).toBeLessThanOrEqual(1e7 * (1 + 1e-9));
      }
      expect(effectiveDimension).toBeGreaterThan(3.99);
      expect(effectiveDimension).toBeLessThanOrEqual(table.cells.length);
    }),
    { numRuns: 300 },
  );
  const { noisy } = hill(12, 0.2, 10);
  const region = { rpm: [2000, 6000] as const, load: [40, 90] as const };
  const wild = createTable({ ...noisy, cells: noisy.cells.map((cell, at) => (at === 143 ? 500 : cell)) });
  const inside = findSmoothStrengths(wild, { region });
  expect(inside.noise).toBeLessThan(0.5);
});

/** The rows and columns of a table from its first on. */
const cut = (table: FuelTable, rows: number, columns: number) =>
  createTable({
    ...table,
    rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.slice(0, columns) },
    load: { ...table.load, breakpoints: table.load.breakpoints.slice(0, rows) },
    cells: cellRows(table)
      .slice(0, rows)
      .map((row) => row.slice(0, columns)),
  });

test("a side of two breakpoints has no strength, and a table of two such nothing to find", () => {
  const { noisy } = hill(6, 0.2, 11);
  const narrow = findSmoothStrengths(cut(noisy, 2, 6));
  expect(narrow.loadStrength).toBe(0);
  expect(narrow.rpmStrength).toBeGreaterThan(0);
  const tall = findSmoothStrengths(cut(noisy, 6, 2));
  expect(tall.rpmStrength).toBe(0);
  expect(tall.loadStrength).toBeGreaterThan(0);
  expect(findSmoothStrengths(cut(noisy, 2, 2))).toEqual({
    rpmStrength: 0,
    loadStrength: 0,
    effectiveDimension: 4,
    noise: 0,
  });
});

test("five cells that may move are enough, four are refused", () => {
  const { noisy } = hill(6, 0.2, 11);
  const [from, ...loads] = noisy.load.breakpoints;
  const column = (last: number) => ({ region: { rpm: [800, 800] as const, load: [from!, loads[last]!] as const } });
  expect(findSmoothStrengths(noisy, column(3)).noise).toBeGreaterThan(0);
  expect(() => findSmoothStrengths(noisy, column(2))).toThrow(
    expect.objectContaining({ code: "too-few-cells", details: { counted: 4 } }),
  );
  // Cells without weight do not count.
  const weights = noisy.cells.map((_, at) => (at === 0 ? 0 : 1));
  expect(() => findSmoothStrengths(noisy, { ...column(3), weights })).toThrow("at least 5 cells");
});

test("the noise is what the smoothing takes off, for each cell that it does not use up", () => {
  const { noisy } = hill(8, 0.3, 12);
  const weights = noisy.cells.map((_, at) => (at % 5 === 0 ? 0 : 1 + (at % 3)));
  const { noise, effectiveDimension, ...strengths } = findSmoothStrengths(noisy, { weights });
  const smooth = smoothCells(noisy, { ...strengths, weights });
  const counted = weights.filter((weight) => weight > 0).length;
  const misfit = noisy.cells.reduce((sum, cell, at) => sum + weights[at]! * (smooth.cells[at]! - cell) ** 2, 0);
  expect(noise ** 2).toBeCloseTo(misfit / (counted - effectiveDimension), 10);
});

test("a hill without noise is hardly smoothed, and a chessboard to a plane", () => {
  const { clean } = hill(12, 0, 1);
  const gentle = findSmoothStrengths(clean);
  expect(gentle.rpmStrength).toBeLessThan(0.1);
  // Along load it rises in straight lines, which no strength bends.
  expect(gentle.loadStrength).toBeGreaterThan(1e4);
  const chequered = clean.cells.map((_, at) => 5 + ((at + Math.floor(at / 12)) % 2));
  const { rpmStrength, loadStrength, effectiveDimension } = findSmoothStrengths(
    createTable({ ...clean, cells: chequered }),
  );
  expect(Math.min(rpmStrength, loadStrength)).toBeGreaterThan(1e4);
  // Of 144; a plane and its twist are 4.
  expect(effectiveDimension).toBeLessThan(5);
});
