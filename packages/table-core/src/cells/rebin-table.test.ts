import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { lookup } from "../lookup/lookup.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import { cellRows, createTable, type FuelTable } from "../values/fuel-table.ts";
import { rebinReport, rebinTable } from "./rebin-table.ts";

const make = (rpm: number[], load: number[], cells: number[][]): FuelTable =>
  createTable({
    id: "t",
    name: "invented",
    quantity: "fuel-mass",
    rpm: createAxis({ quantity: "rpm", breakpoints: rpm }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: load }),
    cells,
  });

const expectClose = (got: ArrayLike<number>, wanted: ArrayLike<number>, digits: number) =>
  expect(Array.from(got)).toEqual(Array.from(wanted, (value) => expect.closeTo(value, digits)));

/** Old breakpoints with some more between them. */
const withMore = (places: readonly number[], shares: readonly number[]) =>
  [...new Set([...places, ...shares.map((share, at) => {
    const gap = at % (places.length - 1);
    return places[gap]! + share * (places[gap + 1]! - places[gap]!);
  })])].sort((a, b) => a - b); // biome-ignore format: one expression

describe("on paper", () => {
  test("a breakpoint between is looked up, and one beyond the end is held", () => {
    const table = make([1000, 2000], [40, 80], [[10, 20], [30, 40]]); // biome-ignore format: rows
    expect(cellRows(rebinTable(table, { rpm: [1000, 1500, 2000, 2500] }))).toEqual([
      [10, 15, 20, 20],
      [30, 35, 40, 40],
    ]);
  });

  test("what lay between kept breakpoints still counts, by least squares", () => {
    // A tent of height 1 over 0..2. The straight line closest to it: by symmetry the constant 1/2, its mean.
    const tent = make([0, 1, 2], [40, 80], [[0, 1, 0], [0, 1, 0]]); // biome-ignore format: rows
    for (const cell of rebinTable(tent, { rpm: [0, 2] }).cells) expect(cell).toBeCloseTo(0.5, 14);
    expect(rebinReport(tent, rebinTable(tent, { rpm: [0, 2] })).largestFall!.absolute).toBeCloseTo(-0.5, 14);
  });

  test("a rebin of both sides is that of one after the other", () => {
    const table = make([0, 1, 2, 4], [10, 20, 40], [[1, 5, 2, 0], [0, 3, 9, 2], [4, 4, 1, 1]]); // biome-ignore format: rows
    const both = rebinTable(table, { rpm: [0, 2, 4], load: [10, 40] });
    const inTurn = rebinTable(rebinTable(table, { load: [10, 40] }), { rpm: [0, 2, 4] });
    expectClose(both.cells, inTurn.cells, 12);
  });

  test("the ends are held on both sides, along rpm and along load", () => {
    const table = make([1000, 2000], [40, 80], [[10, 20], [30, 40]]); // biome-ignore format: rows
    expect(cellRows(rebinTable(table, { rpm: [500, 1000, 2000], load: [20, 40, 60, 80, 100] }))).toEqual([
      [10, 10, 20],
      [10, 10, 20],
      [20, 20, 30],
      [30, 30, 40],
      [30, 30, 40],
    ]);
  });

  test("what lies outside the new range does not count", () => {
    // Between 1 and 3 a tent of height 1; the nines beyond would draw it up.
    const tent = make([0, 1, 2, 3, 4], [40, 80], [[9, 0, 1, 0, 9], [9, 0, 1, 0, 9]]); // biome-ignore format: rows
    expectClose(rebinTable(tent, { rpm: [1, 3] }).cells, [0.5, 0.5, 0.5, 0.5], 14);
    const upright = make([0, 1], [10, 20, 30, 40, 50], [[9, 9], [0, 0], [1, 1], [0, 0], [9, 9]]); // biome-ignore format: rows
    expectClose(rebinTable(upright, { load: [20, 40] }).cells, [0.5, 0.5, 0.5, 0.5], 14);
  });

  test("cut to a part of its breakpoints, the cells left are what they were, bit for bit", () => {
    const odd = [0.1, 0.7, 0.3, 1.9, 0.9, 0.2, 1.1];
    const table = make([0, 1, 3, 4, 7, 8, 9], [40, 80], [odd, odd.map((cell) => cell / 3)]);
    const part = rebinTable(table, { rpm: [1, 3, 4, 7] });
    expect(cellRows(part)).toEqual([odd.slice(1, 5), odd.slice(1, 5).map((cell) => cell / 3)]);
    // Also where a breakpoint left out between them lies on the straight line.
    const straight = make([0, 1, 2, 3], [40, 80], [[0.1, 0.2, 0.3, 0.7], [0.3, 0.6, 0.9, 0.1]]); // biome-ignore format: rows
    expect(cellRows(rebinTable(straight, { rpm: [0, 2, 3] }))).toEqual([
      [0.1, 0.3, 0.7],
      [0.3, 0.9, 0.1],
    ]);
  });

  test("how it is stored, whom it serves and what is locked goes on", () => {
    const table = createTable({
      ...make([1000, 2000], [40, 80], [[10, 20], [30, 40]]), // biome-ignore format: rows
      storage: { min: 0, max: 127.5, step: 0.5 },
      cylinder: 2,
      locked: [{ rpm: [1000, 1200] }],
    });
    const { storage, cylinder, locked } = rebinTable(table, { rpm: [1000, 1500, 2000] });
    expect({ storage, cylinder, locked }).toEqual({
      storage: table.storage,
      cylinder: 2,
      locked: [{ rpm: [1000, 1200] }],
    });
    expect(rebinTable(make([1, 2], [4, 8], [[1, 2], [3, 4]]), { rpm: [1, 2, 3] })).not.toHaveProperty("cylinder"); // biome-ignore format: rows
  });

  test("its own breakpoints, or none, leave the table itself", () => {
    const table = make([1000, 2000], [40, 80], [[10, 20], [30, 40]]); // biome-ignore format: rows
    expect(rebinTable(table, {})).toBe(table);
    expect(rebinTable(table, { rpm: [1000, 2000], load: [40, 80] })).toBe(table);
  });
});

test("a one-row table goes along its one side, and refuses the other", () => {
  const row = createTable({
    id: "w",
    name: "warm-up, invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 20, 80] }),
    cells: [[1.4, 1.2, 1]],
  });
  const fine = rebinTable(row, { rpm: [-20, 0, 20, 80] });
  expect(fine.load).toBe(singleRow);
  expect(Array.from(fine.cells)).toEqual([1.4, 1.2999999999999998, 1.2, 1].map((value) => expect.closeTo(value, 14)));
  expect(() => rebinTable(row, { load: [1, 2] })).toThrow("one row");
});

test("bad breakpoints are refused", () => {
  const table = make([1000, 2000], [40, 80], [[10, 20], [30, 40]]); // biome-ignore format: rows
  expect(() => rebinTable(table, { rpm: [2000, 1000] })).toThrow("must be a finite number above 2000");
  expect(() => rebinTable(table, { rpm: [2000] })).toThrow("at least 2");
});

const shares = fc.array(fc.double({ min: 0.05, max: 0.95, noNaN: true }), { maxLength: 6 });

test("onto more breakpoints the surface stays the same, and back it is the identity, bit for bit", () => {
  fc.assert(
    fc.property(tables({ min: -20, max: 20 }), shares, shares, (table, more, above) => {
      const rpm = withMore(table.rpm.breakpoints, more);
      const load = withMore(table.load.breakpoints, above);
      const fine = rebinTable(table, { rpm, load });
      for (const [x, y] of [[rpm[1]!, load[0]!], [(rpm[0]! + rpm[1]!) / 2, (load[0]! + load[1]!) / 2]] as const) // biome-ignore format: points
        expect(lookup(fine, { rpm: x, load: y })).toBeCloseTo(lookup(table, { rpm: x, load: y }), 9);
      expect(rebinTable(fine, { rpm: table.rpm, load: table.load }).cells).toEqual(table.cells);
    }),
    { numRuns: 1000 },
  );
});

test("planes are kept on any breakpoints inside", () => {
  fc.assert(
    fc.property(
      tables(),
      fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 })),
      (table, [a, b]) => {
        const plane = createTable({
          ...table,
          cells: table.load.breakpoints.map((l) => table.rpm.breakpoints.map((r) => 3 + a * r * 0.001 + b * l * 0.01)),
        });
        const ends = (places: readonly number[]) => [
          places[0]!,
          places[0]! + 0.37 * (places.at(-1)! - places[0]!),
          places.at(-1)!,
        ];
        const coarse = rebinTable(plane, { rpm: ends(table.rpm.breakpoints), load: ends(table.load.breakpoints) });
        const wanted = coarse.load.breakpoints.flatMap((l) =>
          coarse.rpm.breakpoints.map((x) => 3 + a * x * 0.001 + b * l * 0.01),
        );
        expectClose(coarse.cells, wanted, 9);
      },
    ),
    { numRuns: 1000 },
  );
});

test("no other cells on the new breakpoints come closer to the old surface", () => {
  /** ∫ (a − b)² along one row, by Simpson's rule on every straight piece, where it is exact. */
  const distance = (a: FuelTable, b: FuelTable) => {
    const places = [...new Set([...a.rpm.breakpoints, ...b.rpm.breakpoints])].sort((x, y) => x - y);
    const off = (x: number) => (lookup(a, { rpm: x, load: 0 }) - lookup(b, { rpm: x, load: 0 })) ** 2;
    return places.slice(1).reduce((sum, x, at) => {
      const before = places[at]!;
      return sum + ((x - before) * (off(before) + 4 * off((before + x) / 2) + off(x))) / 6;
    }, 0);
  };
  fc.assert(
    fc.property(
      tables({ min: -10, max: 10 }),
      fc.nat(),
      fc.double({ min: -0.5, max: 0.5, noNaN: true }),
      (table, pick, by) => {
        fc.pre(table.rpm.breakpoints.length > 3 && Math.abs(by) > 1e-3);
        const row = createTable({
          id: "r",
          name: "invented",
          quantity: "factor",
          rpm: createAxis({ quantity: "coolant-temperature", breakpoints: table.rpm.breakpoints }),
          cells: [Array.from(table.cells.subarray(0, table.rpm.breakpoints.length))],
        });
        const coarse = rebinTable(row, {
          rpm: row.rpm.breakpoints.filter((_, at) => at % 2 === 0 || at === row.cells.length - 1),
        });
        const other = coarse.cells.slice();
        other[pick % other.length]! += by;
        expect(distance(row, coarse)).toBeLessThan(distance(row, { ...coarse, cells: other }));
      },
    ),
    { numRuns: 400 },
  );
});

test("a mirrored table gives a mirrored result", () => {
  fc.assert(
    fc.property(tables(), (table) => {
      const turn = (places: readonly number[]) => places.map((x) => places[0]! + places.at(-1)! - x).reverse();
      const mirrored = createTable({
        ...table,
        rpm: createAxis({ quantity: "rpm", breakpoints: turn(table.rpm.breakpoints) }),
        cells: cellRows(table).map((row) => row.reverse()),
      });
      const [low, high] = [table.rpm.breakpoints[0]!, table.rpm.breakpoints.at(-1)!];
      const wished = [low, low + 0.3 * (high - low), high];
      const plain = cellRows(rebinTable(table, { rpm: wished }));
      const back = cellRows(rebinTable(mirrored, { rpm: turn(wished) })).map((row) => row.reverse());
      expectClose(plain.flat(), back.flat(), 8);
    }),
    { numRuns: 1000 },
  );
});
