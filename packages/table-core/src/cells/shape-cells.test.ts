import fc from "fast-check";
import { expect, test } from "vitest";
import { lockedTablesWithRegion } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable } from "../values/fuel-table.ts";
import { editWeights } from "../values/region.ts";
import { shapeCells } from "./shape-cells.ts";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "fuel-mass",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000, 5000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
  cells: [
    [10, 10, 10, 10, 10],
    [20, 20, 20, 20, 20],
  ],
});

test("the factor is the point's at each point, held beyond them, and smooth between", () => {
  const shaped = shapeCells(table, {
    along: "rpm",
    points: [
      [2000, 1],
      [4000, 1.2],
    ],
  });
  const [low, high] = cellRows(shaped);
  // Between two points the curve is the straight line: their slope is the only one there is.
  expect(low).toEqual([10, 10, expect.closeTo(11, 12), 12, 12]);
  expect(high![3]).toBe(24);
  const byLoad = shapeCells(table, {
    along: "load",
    points: [
      [40, 0.5],
      [80, 2],
    ],
  });
  expect(cellRows(byLoad).map((row) => row[0])).toEqual([5, 40]);
  expect(shapeCells(table, { along: "rpm", points: [[3000, 1.1]] }).cells).toEqual(
    table.cells.map((cell) => cell * 1.1),
  );
});

test("factors lie between those of the points, cells move by the weight, and others stay bit for bit", () => {
  const points = fc
    .array(fc.tuple(fc.integer({ min: 1, max: 3000 }), fc.double({ min: 0.5, max: 2, noNaN: true })), {
      minLength: 1,
      maxLength: 6,
    })
    .map((steps) => {
      let x = 0;
      return steps.map(([step, factor]) => [(x += step), factor] as const);
    });
  fc.assert(
    fc.property(
      lockedTablesWithRegion(),
      points,
      fc.constantFrom("rpm", "load"),
      ({ table: before, region }, curve, along) => {
        const after = shapeCells(before, { along, points: curve, region });
        const weights = editWeights(before, region);
        const factors = curve.map(([, factor]) => factor);
        const low = Math.min(...factors, 1);
        const high = Math.max(...factors, 1);
        const wrong = Array.from(after.cells.keys()).filter((at) => {
          const [old, value] = [before.cells[at]!, after.cells[at]!];
          if (weights[at] === 0) return !Object.is(value, old);
          // Rounding of the cubic's four terms.
          return value < old * low * (1 - 1e-12) || value > old * high * (1 + 1e-12);
        });
        expect(wrong).toEqual([]);
      },
    ),
    { numRuns: 1000 },
  );
});

test("a one-row table is shaped along its row only", () => {
  const row = createTable({
    id: "w",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 0, 20] }),
    cells: [[2, 2, 2]],
  });
  const points = [[-20, 0.5], [20, 1.5]] as const; // biome-ignore format: points
  expect(cellRows(shapeCells(row, { along: "rpm", points }))).toEqual([[1, expect.closeTo(2, 12), 3]]);
  expect(() => shapeCells(row, { along: "load", points })).toThrow("along must be rpm on a one-row table");
});

test("points that draw no curve are refused by their place", () => {
  const shape = (points: unknown) => () => shapeCells(table, { along: "rpm", points: points as [number, number][] });
  expect(shape([])).toThrow(/points must be 1 to 256 pairs/);
  const drawn = (count: number) => Array.from({ length: count }, (_, at) => [at, 1]);
  expect(shape(drawn(257))).toThrow(/points must be 1 to 256 pairs/);
  expect(shape(drawn(256))).not.toThrow();
  expect(
    shape([
      [2000, 1],
      [2000, 2],
    ]),
  ).toThrow(/points\[1\]\[0\] must be above 2000, got 2000/);
  expect(
    shape([
      [2000, 1],
      [3000, 0],
    ]),
  ).toThrow(/points\[1\]\[1\] must be above 0/);
  expect(shape([7])).toThrow(/points\[0\]\[0\] must be a finite number, got undefined/);
  const row = createTable({ id: "r", name: "invented", quantity: "factor", rpm: table.rpm, cells: [[1, 1, 1, 1, 1]] });
  expect(() => shapeCells(row, { along: "load", points: [[1, 1]] })).toThrow(/along must be rpm on a one-row table/);
});
