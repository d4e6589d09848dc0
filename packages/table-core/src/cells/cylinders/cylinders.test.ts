import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lockedTablesWithRegion, tables } from "../../../testing/arbitraries.ts";
import { lookup } from "../../lookup/lookup.ts";
import { createAxis } from "../../values/axis.ts";
import { cellRows, createTable, type FuelTable } from "../../values/fuel-table.ts";
import { editWeights } from "../../values/region.ts";
import { compareCylinders } from "./compare-cylinders.ts";
import { copyCylinder } from "./copy-cylinder.ts";
import { trimBetween, trimmed } from "./cylinder-trim.ts";
import { joinCylinders } from "./join-cylinders.ts";
import { splitByCylinder } from "./split-by-cylinder.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 90] });
const base = createTable({
  id: "fuel",
  name: "Fuel",
  quantity: "fuel-mass",
  rpm,
  load,
  cells: [
    [4, 8],
    [10, 20],
  ],
});
const trimOf = (cylinder: number, cells: number[][], id = `trim${cylinder}`) =>
  createTable({ id, name: "invented", quantity: "trim", rpm, load, cells, cylinder });

/** Tables of two to four cylinders whose cells are within a share of one another. */
const engines = (share: number) =>
  tables({ quantity: "fuel-mass" }).chain((table) =>
    fc
      .array(
        fc.array(fc.double({ min: -share, max: share, noNaN: true }), {
          minLength: table.cells.length,
          maxLength: table.cells.length,
        }),
        { minLength: 2, maxLength: 4 },
      )
      .map((offs) =>
        offs.map((off, at) =>
          createTable({
            ...table,
            id: `t-cylinder-${at + 1}`,
            cells: table.cells.map((cell, c) => cell * (1 + off[c]!)),
            cylinder: at + 1,
          }),
        ),
      ),
  );

describe("splitting", () => {
  test("each cylinder gets the base with its own trim", () => {
    const [front, rear] = splitByCylinder(base, {
      cylinders: 2,
      trims: [
        trimOf(2, [
          [0, 5],
          [-10, 2.5],
        ]),
      ],
    });
    expect(front).toMatchObject({ id: "fuel-cylinder-1", name: "Fuel, cylinder 1", cylinder: 1 });
    expect(front!.cells).toEqual(base.cells);
    expect(cellRows(rear!)).toEqual([
      [4, 8.4],
      [9, 20.5],
    ]);
  });

  test("a trim on other axes is looked up, and a trim on a trim counts on the fuel", () => {
    const coarse = createTable({
      ...trimOf(1, [
        [10, 30],
        [10, 30],
      ]),
      rpm: createAxis({ quantity: "rpm", breakpoints: [0, 4000] }),
    });
    const unit = createTable({ ...base, quantity: "trim", unit: "%" });
    const [first] = splitByCylinder(unit, { cylinders: 2, trims: [coarse] });
    const trims = [1000, 3000].map((speed) => lookup(coarse, { rpm: speed, load: 30 }));
    expect(first!.cells[0]).toBeCloseTo(1.04 * (100 + trims[0]!) - 100, 10);
    expect(first!.cells[1]).toBeCloseTo(1.08 * (100 + trims[1]!) - 100, 10);
  });

  test("what makes no sense is refused", () => {
    const zero = [
      [0, 0],
      [0, 0],
    ];
    const split = (trims: FuelTable[]) => () => splitByCylinder(base, { cylinders: 2, trims });
    expect(split([trimOf(3, zero)])).toThrow(expect.objectContaining({ code: "cylinder-twice" }));
    expect(split([trimOf(1, zero), trimOf(1, zero)])).toThrow(expect.objectContaining({ code: "cylinder-twice" }));
    expect(split([{ ...base, cylinder: 1 }])).toThrow(expect.objectContaining({ code: "not-a-trim" }));
    const { cylinder: _, ...nobody } = trimOf(1, zero);
    expect(split([nobody])).toThrow(expect.objectContaining({ code: "cylinder-missing", details: { id: "trim1" } }));
    expect(split([trimOf(3, zero)])).toThrow(expect.objectContaining({ details: { id: "trim3", cylinder: 3 } }));
    const targets = createTable({ ...base, quantity: "lambda", unit: "lambda" });
    expect(() => splitByCylinder(targets, { cylinders: 2, trims: [trimOf(1, zero)] })).toThrow(
      expect.objectContaining({ code: "not-a-trim", details: { id: "trim1", quantity: "trim" } }),
    );
    expect(() => splitByCylinder({ ...base, cylinder: 1 }, { cylinders: 2 })).toThrow(
      expect.objectContaining({ code: "already-one-cylinder" }),
    );
    expect(() => splitByCylinder(base, { cylinders: 1 })).toThrow(/cylinders must be between 2 and 64/);
  });
});

describe("joining", () => {
  test("split without trims and joined, the base comes back bit for bit and the trims are 0", () => {
    fc.assert(
      fc.property(tables(), fc.integer({ min: 2, max: 6 }), (table, cylinders) => {
        const joined = joinCylinders(splitByCylinder(table, { cylinders }));
        expect(joined.base).toEqual(table);
        expect(joined.inexact).toEqual([]);
        expect(joined.trims.every(({ cells }) => cells.every((cell) => cell === 0))).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  test("joined and split again, the tables come back bit for bit", () => {
    fc.assert(
      fc.property(engines(0.06), (all) => {
        const { base: joined, trims, inexact } = joinCylinders(all);
        expect(inexact).toEqual([]);
        const again = splitByCylinder(joined, { cylinders: all.length, trims });
        again.forEach(({ cells, id, cylinder }, at) => {
          expect(cells).toEqual(all[at]!.cells);
          expect([id, cylinder]).toEqual([all[at]!.id, all[at]!.cylinder]);
        });
      }),
      { numRuns: 1000 },
    );
  });

  test("told the base, it gives that back, and trims that give the tables", () => {
    fc.assert(
      fc.property(engines(0.05), fc.double({ min: 0.95, max: 1.05, noNaN: true }), (all, factor) => {
        const { cylinder: _, ...first } = all[0]!;
        const given: FuelTable = { ...first, id: "base", cells: first.cells.map((cell) => cell * factor) };
        const joined = joinCylinders(all, { base: given });
        expect(joined.base).toBe(given);
        splitByCylinder(given, { cylinders: all.length, trims: joined.trims }).forEach(({ cells }, at) => {
          const inexact = new Set(joined.inexact.filter(({ cylinder }) => cylinder === at + 1).map((cell) => cell.at));
          const wrong = Array.from(cells.keys()).filter((c) => {
            const wanted = all[at]!.cells[c]!;
            // Where it is not exact, to the last place.
            return inexact.has(c) ? Math.abs(cells[c]! - wanted) > wanted * 2 ** -52 : cells[c] !== wanted;
          });
          expect(wrong).toEqual([]);
        });
      }),
      { numRuns: 1000 },
    );
  });

  test("every trim up to 12.5 % is found bit for bit", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        fc.double({ min: -0.125, max: 0.125, noNaN: true }),
        fc.boolean(),
        (from, share, negative) => {
          const start = negative ? -from : from;
          const wanted = start * (1 + share);
          const trim = trimBetween("factor", start, wanted);
          expect(trimmed("factor", start, trim)).toBe(wanted);
          expect(Math.abs(trim - share * 100)).toBeLessThan(1e-12);
        },
      ),
      { numRuns: 5000 },
    );
  });

  test("a base on other breakpoints is looked up on those of the tables", () => {
    const wide = createTable({
      ...base,
      rpm: createAxis({ quantity: "rpm", breakpoints: [0, 2000, 4000] }),
      cells: [
        [2, 6, 10],
        [5, 15, 25],
      ],
    });
    // At 1000 and 3000 rpm 4, 8 and 10, 20, as the cylinders have.
    const joined = joinCylinders(splitByCylinder(base, { cylinders: 2 }), { base: wide });
    expect(joined.base).toMatchObject({ id: "fuel", rpm, load });
    // A lookup rounds.
    joined.base.cells.forEach((cell, at) => {
      expect(cell).toBeCloseTo(base.cells[at]!, 10);
    });
    for (const trim of joined.trims) for (const percent of trim.cells) expect(percent).toBeCloseTo(0, 10);
  });

  test("cells that no trim brings back are told by cylinder and place", () => {
    const factors = (cells: number[][]) => createTable({ ...base, quantity: "factor", unit: "factor", cells });
    const tenths = factors([
      [0.1, 0.1],
      [0.1, 0.1],
    ]);
    const [front] = splitByCylinder(tenths, { cylinders: 2 });
    // 0.1 · (1 + trim / 100) comes to 1.5 but never quite to 0.3.
    const rear = factors([
      [0.1, 0.3],
      [1.5, 0.1],
    ]);
    const joined = joinCylinders([front!, { ...rear, id: "rear", cylinder: 2 }], { base: tenths });
    expect(joined.inexact).toEqual([{ cylinder: 2, at: 1 }]);
    expect(joined.trims[1]!.cells[1]).toBeCloseTo(200, 10);
  });

  test("a trim cannot make something of nothing, and lambda has none", () => {
    const zero = { ...base, cells: Float64Array.of(0, 8, 10, 20) };
    const all = splitByCylinder(base, { cylinders: 2 });
    expect(() => joinCylinders(all, { base: zero })).toThrow(
      /cylinder 1 at 1000 rpm, 30 kPa must be 0 where the base is, got 4/,
    );
    expect(() => joinCylinders(all, { base: zero })).toThrow(
      expect.objectContaining({ code: "no-trim-fits", details: { cylinder: 1, at: 0 } }),
    );
    const targets = splitByCylinder(createTable({ ...base, quantity: "lambda", unit: "lambda" }), { cylinders: 2 });
    expect(() => joinCylinders(targets)).toThrow(expect.objectContaining({ code: "no-trim-fits" }));
  });

  test("tables that are not of one engine are refused", () => {
    const [front, rear] = splitByCylinder(base, { cylinders: 2 });
    expect(() => joinCylinders([front!])).toThrow(expect.objectContaining({ code: "too-few-cylinders" }));
    expect(() => joinCylinders([front!, front!])).toThrow(expect.objectContaining({ code: "cylinder-twice" }));
    expect(() => joinCylinders([front!, base])).toThrow(expect.objectContaining({ code: "cylinder-missing" }));
    const moved = { ...rear!, rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 4000] }) };
    expect(() => joinCylinders([front!, moved])).toThrow(
      expect.objectContaining({ code: "axes-differ", details: { first: "fuel-cylinder-1", other: "fuel-cylinder-2" } }),
    );
    expect(() => joinCylinders([])).toThrow(expect.objectContaining({ details: { count: 0 } }));
    expect(() => joinCylinders([rear!, rear!])).toThrow(
      expect.objectContaining({ details: { id: "fuel-cylinder-2", cylinder: 2 } }),
    );
  });
});

describe("across cylinders", () => {
  test("one cylinder's cells go to the others within the region; locked cells and other cylinders stay", () => {
    fc.assert(
      fc.property(lockedTablesWithRegion(), ({ table, region }) => {
        const [first, second, third] = splitByCylinder(table, { cylinders: 3 }).map((one, at) => ({
          ...one,
          cells: one.cells.map((cell) => cell + at),
        }));
        const copied = copyCylinder([first!, second!, third!], { from: 1, to: [2], region });
        const weights = editWeights(table, region);
        expect(copied[0]).toBe(first);
        expect(copied[2]).toBe(third);
        copied[1]!.cells.forEach((cell, at) => {
          if (weights[at] === 1) expect(cell).toBe(first!.cells[at]);
          if (weights[at] === 0) expect(Object.is(cell, second!.cells[at])).toBe(true);
        });
      }),
      { numRuns: 1000 },
    );
    const all = splitByCylinder(base, {
      cylinders: 2,
      trims: [
        trimOf(2, [
          [1, 2],
          [3, 4],
        ]),
      ],
    });
    expect(copyCylinder(all, { from: 2 })[0]!.cells).toEqual(all[1]!.cells);
    expect(() => copyCylinder(all, { from: 3 })).toThrow(/cylinder must be one of 1, 2, got 3/);
  });

  test("they are compared with their mean, and the widest place is named", () => {
    const trims = [
      trimOf(1, [
        [0, 0],
        [0, -5],
      ]),
      trimOf(2, [
        [0, 2],
        [0, 5],
      ]),
    ];
    const { mean, cylinders, spreadPercent, widest } = compareCylinders(splitByCylinder(base, { cylinders: 2, trims }));
    expect(Array.from(mean)).toEqual([4, 8.08, 10, 20]);
    expect(spreadPercent[3]).toBeCloseTo(10, 12);
    expect(widest).toEqual({ at: 3, rpm: 3000, load: 90, percent: spreadPercent[3], lowest: 1, highest: 2 });
    expect(cylinders[0]!.comparison.largestFall).toMatchObject({ at: 3, absolute: -1, percent: -5 });
    expect(compareCylinders(splitByCylinder(base, { cylinders: 3 })).widest).toBeNull();
  });

  test("the lowest and the highest are told by number, whatever their order; of equal places the first counts", () => {
    const one = (cylinder: number, cells: number[][]) =>
      createTable({ ...base, id: `c${cylinder}`, name: "invented", cells, cylinder });
    const third = one(3, [
      [4, 12],
      [10, 12],
    ]);
    const second = one(2, [
      [4, 8],
      [10, 8],
    ]);
    const first = one(1, [
      [4, 10],
      [10, 10],
    ]);
    // From 8 to 12, of a mean of 10.
    for (const order of [
      [third, first, second],
      [second, third, first],
    ])
      expect(compareCylinders(order).widest).toEqual({
        at: 1,
        rpm: 3000,
        load: 30,
        percent: expect.closeTo(40, 12),
        lowest: 2,
        highest: 3,
      });
    // Where two are alike the lower number is taken for the lowest, the higher for the highest.
    const like = (cylinder: number, { cells }: FuelTable) => ({ ...first, id: `d${cylinder}`, cells, cylinder });
    expect(compareCylinders([like(5, second), like(4, second), third]).widest).toMatchObject({ lowest: 4, highest: 3 });
    expect(compareCylinders([like(5, third), like(4, third), second]).widest).toMatchObject({ lowest: 2, highest: 5 });
  });
});
