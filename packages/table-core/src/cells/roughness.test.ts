import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { gridRoughness, roughness } from "./roughness.ts";

test("on even spacing it is the mean square of y0 - 2 y1 + y2", () => {
  // Along rpm 1 and -3; along load there are too few breakpoints.
  expect(gridRoughness([0, 10, 20], [1, 2], Float64Array.of(0, 2, 5, 1, 1, -2))).toBeCloseTo(
    Math.sqrt((1 + 9) / 2),
    14,
  );
});

test("uneven spacing counts", () => {
  // u = 0, 0.5, 2: slopes 2 and 0, so 2 · (0 − 2) / 2 = −2.
  expect(gridRoughness([0, 100, 400], [5], Float64Array.of(1, 2, 2))).toBeCloseTo(2, 14);
});

test("a plane is smooth, and so is a table of two by two", () => {
  fc.assert(
    fc.property(tables(), fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }), (table, a, b) => {
      const columns = table.rpm.breakpoints.length;
      const plane = table.cells.map(
        (_, at) =>
          (a * table.rpm.breakpoints[at % columns]!) / 1000 +
          (b * table.load.breakpoints[Math.floor(at / columns)]!) / 100,
      );
      // Second differences of values below 150, whose rounding a narrow gap magnifies at most two thousandfold.
      expect(roughness({ ...table, cells: plane })).toBeLessThan(1e-9);
    }),
    { numRuns: 1000 },
  );
  expect(gridRoughness([1, 2], [1, 2], Float64Array.of(1, 9, 3, 0))).toBe(0);
});

test("the unit and the origin of an axis do not matter, and the table's unit scales it", () => {
  fc.assert(
    fc.property(tables(), (table) => {
      const other = createTable({
        ...table,
        // A throttle axis of the same shape: powers of two keep the spacing exact.
        load: createAxis({ quantity: "throttle-position", breakpoints: table.load.breakpoints.map((x) => x / 8 + 1) }),
        cells: table.cells.map((value) => value * 4),
      });
      expect(roughness(other)).toBeCloseTo(4 * roughness(table), 9);
    }),
    { numRuns: 1000 },
  );
});
