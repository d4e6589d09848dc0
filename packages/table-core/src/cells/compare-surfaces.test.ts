import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { lookup } from "../lookup/lookup.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { compareSurfaces } from "./compare-surfaces.ts";
import { compareTables } from "./compare-tables.ts";

const table = (rpm: number[], load: number[], cells: number[][]) =>
  createTable({
    id: `t${rpm.length}`,
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: rpm }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: load }),
    cells,
  });

test("the difference is found where only one of the two has a breakpoint", () => {
  const coarse = table(
    [1000, 3000],
    [20, 60],
    [
      [2, 4],
      [4, 6],
    ],
  );
  const fine = table(
    [500, 2000, 4000],
    [20, 60, 80],
    [
      [1.5, 3.5, 5],
      [3.5, 5, 7],
      [9, 9, 9],
    ],
  );
  const comparison = compareSurfaces(coarse, fine);
  expect(comparison.rpm).toEqual([1000, 2000, 3000]);
  expect(comparison.load).toEqual([20, 60]);
  expect(comparison.largestRise).toMatchObject({ rpm: 2000, load: 20, before: 3, after: 3.5, absolute: 0.5 });
});

test("on equal axes it says what the comparison by cell says", () => {
  fc.assert(
    fc.property(tables(), fc.double({ min: 0.5, max: 2, noNaN: true }), (a, factor) => {
      const b = createTable({ ...a, cells: a.cells.map((value, at) => (at % 2 ? value * factor : value)) });
      const { rpm, load, ...surfaces } = compareSurfaces(a, b);
      expect(surfaces).toEqual(compareTables(a, b));
      expect(rpm).toEqual(a.rpm.breakpoints);
      expect(load).toEqual(a.load.breakpoints);
    }),
    { numRuns: 1000 },
  );
});

test("nowhere in the common part do the surfaces differ more", () => {
  const shares = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 20, maxLength: 20 });
  fc.assert(
    fc.property(tables(), tables(), shares, (a, b, between) => {
      const low = Math.max(a.rpm.breakpoints[0]!, b.rpm.breakpoints[0]!);
      const high = Math.min(a.rpm.breakpoints.at(-1)!, b.rpm.breakpoints.at(-1)!);
      const bottom = Math.max(a.load.breakpoints[0]!, b.load.breakpoints[0]!);
      const top = Math.min(a.load.breakpoints.at(-1)!, b.load.breakpoints.at(-1)!);
      if (low > high || bottom > top) {
        expect(() => compareSurfaces(a, b)).toThrow(expect.objectContaining({ code: "no-common-part" }));
        return;
      }
      const { largestRise, largestFall } = compareSurfaces(a, b);
      for (let i = 0; i < between.length; i += 2) {
        const point = { rpm: low + between[i]! * (high - low), load: bottom + between[i + 1]! * (top - bottom) };
        const change = lookup(b, point) - lookup(a, point);
        // Both lookups round, on cells up to 20.
        expect(change).toBeLessThanOrEqual((largestRise?.absolute ?? 0) + 1e-12);
        expect(change).toBeGreaterThanOrEqual((largestFall?.absolute ?? 0) - 1e-12);
      }
    }),
    { numRuns: 1000 },
  );
});

test("tables that touch in one breakpoint are compared there", () => {
  const low = table(
    [1000, 2000],
    [20, 60],
    [
      [1, 2],
      [3, 4],
    ],
  );
  const high = table(
    [2000, 3000],
    [20, 60],
    [
      [5, 6],
      [7, 9],
    ],
  );
  const { rpm, largestRise } = compareSurfaces(low, high);
  expect(rpm).toEqual([2000]);
  expect(largestRise).toMatchObject({ rpm: 2000, load: 20, absolute: 3 });
});

test("tables along other quantities are refused", () => {
  const a = table(
    [1000, 2000],
    [20, 60],
    [
      [1, 2],
      [3, 4],
    ],
  );
  const b = createTable({ ...a, load: createAxis({ quantity: "throttle-position", breakpoints: [20, 60] }) });
  expect(() => compareSurfaces(a, b)).toThrow(
    /runs along rpm and manifold-pressure, .* along rpm and throttle-position/,
  );
});
