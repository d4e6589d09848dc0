import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { chooseBreakpoints } from "./choose-breakpoints.ts";
import { rebinReport, rebinTable } from "./rebin-table.ts";

const tent = createTable({
  id: "t",
  name: "invented",
  quantity: "fuel-mass",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000, 5000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] }),
  cells: [
    [0, 1, 2, 1, 0],
    [0, 1, 2, 1, 0],
  ],
});

test("breakpoints stand where the surface bends, and the cost of fewer is told", () => {
  const [two, three, four] = chooseBreakpoints(tent, { along: "rpm", count: 4 });
  expect(three!.breakpoints).toEqual([1000, 3000, 5000]);
  expect(three!.largest).toBe(0);
  expect(two!.breakpoints).toEqual([1000, 5000]);
  expect(two!.largest).toBe(2);
  // ∫ over a tent of height 2: two thirds of 2² times half the width each way, so a mean square of 4/3.
  expect(two!.rootMeanSquare).toBeCloseTo(Math.sqrt(4 / 3), 12);
  expect(four!.count).toBe(4);
});

test("more than there are halve the widest gaps, at no cost", () => {
  const choices = chooseBreakpoints(tent, { along: "load", count: 4 });
  expect(choices.map(({ breakpoints }) => breakpoints)).toEqual([
    [40, 80],
    [40, 60, 80],
    [40, 50, 60, 80],
  ]);
  expect(choices.at(-1)!.largest).toBe(0);
});

test("the widest gap is halved, the first of several", () => {
  const uneven = createTable({
    ...tent,
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 1100, 1600, 1800, 2400] }),
  });
  const more = chooseBreakpoints(uneven, { along: "rpm", count: 8 }).slice(3);
  expect(more.map(({ count, breakpoints }) => [count, breakpoints])).toEqual([
    [5, [1000, 1100, 1600, 1800, 2400]],
    [6, [1000, 1100, 1600, 1800, 2100, 2400]],
    [7, [1000, 1100, 1350, 1600, 1800, 2100, 2400]],
    [8, [1000, 1100, 1350, 1600, 1800, 1950, 2100, 2400]],
  ]);
  for (const { rootMeanSquare, largest } of more) expect([rootMeanSquare, largest]).toEqual([0, 0]);
});

test("a table turned on its side has the same choices along load", () => {
  fc.assert(
    fc.property(tables({ min: 0, max: 9 }), (table) => {
      const columns = table.rpm.breakpoints.length;
      const rows = table.load.breakpoints.length;
      const turned = createTable({
        ...table,
        rpm: createAxis({ quantity: "rpm", breakpoints: table.load.breakpoints }),
        load: createAxis({ quantity: "air-charge", breakpoints: table.rpm.breakpoints }),
        cells: table.cells.map((_, at) => table.cells[(at % rows) * columns + Math.floor(at / rows)]!),
      });
      const count = columns + 2;
      expect(chooseBreakpoints(turned, { along: "load", count })).toEqual(
        chooseBreakpoints(table, { along: "rpm", count }),
      );
    }),
    { numRuns: 40 },
  );
});

test("a one-row table has breakpoints to choose along its row only", () => {
  const row = createTable({
    id: "volts",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "battery-voltage", breakpoints: [8, 10, 12, 14] }),
    cells: [[1.3, 1.2, 1.1, 1]],
  });
  const [two] = chooseBreakpoints(row, { along: "rpm", count: 3 });
  expect(two!.breakpoints).toEqual([8, 14]);
  expect(two!.largest).toBeCloseTo(0, 14);
  expect(() => chooseBreakpoints(row, { along: "load", count: 3 })).toThrow(
    expect.objectContaining({ code: "one-row" }),
  );
});

/** Every way to keep `count` of the places with both ends. */
function subsets(places: readonly number[], count: number): number[][] {
  const inner = (from: number, left: number): number[][] =>
    left === 0
      ? [[]]
      : places.slice(from, -1).flatMap((place, at) => inner(from + at + 1, left - 1).map((rest) => [place, ...rest]));
  return inner(1, count - 2).map((between) => [places[0]!, ...between, places.at(-1)!]);
}

test("no other choice of as many costs less", () => {
  fc.assert(
    fc.property(tables({ min: 0, max: 9 }), fc.integer({ min: 2, max: 5 }), (table, count) => {
      const kept = Math.min(count, table.rpm.breakpoints.length);
      const best = chooseBreakpoints(table, { along: "rpm", count: kept }).at(-1)!;
      for (const places of subsets(table.rpm.breakpoints, kept)) {
        const only = keepOnly(table, places);
        expect(best.rootMeanSquare).toBeLessThanOrEqual(only + 1e-9);
      }
    }),
    { numRuns: 150 },
  );
});

/** The cost of reading off straight lines between kept cells, worked out on many points in another way. */
function keepOnly(table: FuelTable, places: readonly number[]): number {
  const choices = chooseBreakpoints(
    createTable({
      ...table,
      rpm: createAxis({ quantity: "rpm", breakpoints: places }),
      cells: table.load.breakpoints.map((_, r) =>
        places.map((x) => table.cells[r * table.rpm.breakpoints.length + table.rpm.breakpoints.indexOf(x)]!),
      ),
    }),
    { along: "rpm", count: 2 },
  );
  expect(choices[0]!.count).toBe(2);
  const columns = table.rpm.breakpoints.length;
  let squares = 0;
  let width = 0;
  for (let r = 0; r < table.load.breakpoints.length; r++)
    for (let c = 1; c < columns; c++) {
      const [x0, x1] = [table.rpm.breakpoints[c - 1]!, table.rpm.breakpoints[c]!];
      const STEPS = 2;
      // The difference is straight on this piece, so its square is a parabola and Simpson's rule is exact.
      const off = (share: number) => {
        const x = x0 + share * (x1 - x0);
        const own = table.cells[r * columns + c - 1]! * (1 - share) + table.cells[r * columns + c]! * share;
        const gap = places.findIndex((place, at) => x <= (places[at + 1] ?? place));
        const [p0, p1] = [places[gap]!, places[gap + 1]!];
        const at = (place: number) => table.cells[r * columns + table.rpm.breakpoints.indexOf(place)]!;
        return (own - (at(p0) + ((x - p0) / (p1 - p0)) * (at(p1) - at(p0)))) ** 2;
      };
      squares += ((x1 - x0) * (off(0) + 4 * off(1 / STEPS) + off(1))) / 6;
      width += x1 - x0;
    }
  return Math.sqrt(squares / width);
}

test("the table carried over to the choice is no rougher than told", () => {
  fc.assert(
    fc.property(tables({ min: 1, max: 9 }), (table) => {
      const all = chooseBreakpoints(table, { along: "rpm", count: table.rpm.breakpoints.length }).at(-1)!;
      expect(all.largest).toBe(0);
      expect(rebinReport(table, rebinTable(table, { rpm: all.breakpoints })).changed).toBe(0);
    }),
    { numRuns: 200 },
  );
});

test("what can't be chosen is refused", () => {
  expect(() => chooseBreakpoints(tent, { along: "rpm", count: 1 })).toThrow("between 2 and 256");
});
