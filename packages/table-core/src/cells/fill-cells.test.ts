import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { regionsOf, tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { type FillCells, fillCells } from "./fill-cells.ts";
import { lockCells } from "./lock-cells.ts";
import { setCells } from "./set-cells.ts";

const grid = (cells: number[][]) =>
  createTable({
    id: "grid",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: cells[0]!.map((_, i) => 1000 * (i + 1)) }),
    load: createAxis({ quantity: "throttle-position", breakpoints: cells.map((_, i) => 10 * (i + 1)) }),
    cells,
  });

const ways = fc.constantFrom<"rpm" | "load" | "both">("rpm", "load", "both");

/** A table with a region of one or two boxes, sometimes feathered, and sometimes a lock. */
const parts: fc.Arbitrary<{ table: FuelTable; region: Region }> = tables().chain((table) =>
  fc
    .tuple(regionsOf(table), regionsOf(table), fc.constantFrom("one", "two", "locked"))
    .map(([region, { rpm, load }, kind]) => ({
      region: kind === "two" ? { ...region, also: [{ rpm: rpm!, load: load! }] } : region,
      table: kind === "locked" ? lockCells(table, { region: { rpm: rpm!, load: load! } }) : table,
    })),
);

/** The filled table, or null where there is no rim. */
function attempt(table: FuelTable, settings: FillCells): FuelTable | null {
  try {
    return fillCells(table, settings);
  } catch (error) {
    if (error instanceof FuelwrightError && error.code === "fill-no-rim") return null;
    throw error;
  }
}

describe("cases on paper", () => {
  const table = grid([
    [1, 2, 3, 4],
    [2, 99, -9, 8],
    [5, 6, 9, 4],
  ]);
  const middle: Region = { rpm: [2000, 3000], load: [20, 20] };

  test("along rpm and along load it draws straight lines", () => {
    expect([...fillCells(table, { region: middle, along: "rpm" }).cells.slice(4, 8)]).toEqual([2, 4, 6, 8]);
    expect([...fillCells(table, { region: middle, along: "load" }).cells.slice(4, 8)]).toEqual([2, 4, 6, 8]);
  });

  test("along both, each cell hangs between its neighbours", () => {
    // On axes of mean spacing 1: 4a = 2 + 6 + 2 + b and 4b = 3 + 9 + 8 + a.
    const [, a, b] = fillCells(table, { region: middle }).cells.slice(4, 8);
    expect(a).toBeCloseTo(4, 13);
    expect(b).toBeCloseTo(6, 13);
  });

  test("at an edge of the table the other side is held", () => {
    const right: Region = { rpm: [3000, 4000], load: [20, 20] };
    expect([...fillCells(table, { region: right, along: "rpm" }).cells.slice(4, 8)]).toEqual([2, 99, 99, 99]);
    const row = createTable({
      ...table,
      load: { ...table.load, breakpoints: [10, 20] },
      cells: table.cells.slice(0, 8),
    });
    // The outer columns are half as wide: 2a = 1 + b and 4b = a + (5 − b) + 4, mirrored about 2.5.
    const top = fillCells(row, { region: { load: [20, 20] } });
    expect([...top.cells.slice(4)]).toEqual([14 / 9, 19 / 9, 26 / 9, 31 / 9].map((value) => expect.closeTo(value, 12)));
  });

  test("locked cells inside stay and count as rim", () => {
    const locked = lockCells(table, { region: { rpm: [2000, 2000], load: [20, 20] } });
    const filled = fillCells(locked, { region: middle, along: "rpm" });
    expect([...filled.cells.slice(4, 8)]).toEqual([2, 99, 53.5, 8]);
  });

  test("where no rim reaches, it is said which cell", () => {
    expect(() => fillCells(table, { region: {} })).toThrow(
      "fillCells: the cell at 1000 rpm, 10 % needs a cell outside",
    );
    const row: Region = { load: [20, 20] };
    expect(() => fillCells(table, { region: row, along: "rpm" })).toThrow("in its row");
    expect(fillCells(table, { region: row, along: "load" }).cells[5]).toBe(4);
    const column: Region = { rpm: [2000, 2000] };
    expect(() => fillCells(table, { region: column, along: "load" })).toThrow("in its column");
    expect(() => fillCells(table, { region: middle, along: "up" as "rpm" })).toThrow("rpm, load, both");
  });

  test("a one-row table is filled along its columns", () => {
    const warmUp = createTable({
      id: "warm-up",
      name: "invented",
      quantity: "factor",
      rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 0, 60, 80] }),
      cells: [[1.6, 7, 7, 1]],
    });
    for (const along of ["rpm", "both"] as const) {
      const filled = fillCells(warmUp, { region: { rpm: [0, 60] }, along });
      expect([...filled.cells]).toEqual([1.6, 1.48, 1.12, 1].map((value) => expect.closeTo(value, 12)));
    }
  });
});

test("cells outside and locked ones come out bit for bit, and what was inside does not matter", () => {
  fc.assert(
    fc.property(parts, ways, ({ table, region }, along) => {
      const { feather: _, ...hard } = region;
      const filled = attempt(table, { region: hard, along });
      const inside = editWeights(table, hard);
      const emptied = attempt(setCells(table, { region: hard, value: 1e6 }), { region: hard, along });
      if (!filled) {
        expect(emptied).toBe(null);
        return;
      }
      expect(filled.cells.every((cell, at) => inside[at]! > 0 || Object.is(cell, table.cells[at]))).toBe(true);
      expect(emptied!.cells).toEqual(filled.cells);
      expect(fillCells(filled, { region: hard, along }).cells).toEqual(filled.cells);
    }),
    { numRuns: 1000 },
  );
});

test("no filled cell passes the lowest and the highest cell outside", () => {
  fc.assert(
    fc.property(parts, ways, ({ table, region }, along) => {
      const filled = attempt(table, { region, along });
      if (!filled) return;
      const inside = editWeights(table, region);
      const outside = table.cells.filter((_, at) => inside[at] === 0);
      const low = Math.min(...outside);
      const high = Math.max(...outside);
      expect(filled.cells.every((cell, at) => inside[at] !== 1 || (cell >= low && cell <= high))).toBe(true);
    }),
    { numRuns: 1000 },
  );
});

test("a plane is filled in as a plane where there is a rim all round", () => {
  const number = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(
    fc.property(parts, ways, fc.tuple(number, number, number), ({ table, region }, along, [a, b, c]) => {
      const cells = table.load.breakpoints.map((l) =>
        table.rpm.breakpoints.map((r) => a + (b * r) / 1000 + (c * l) / 50),
      );
      const plane = createTable({ ...table, cells });
      const { feather: _, ...hard } = region;
      const inside = editWeights(plane, hard);
      const columns = plane.rpm.breakpoints.length;
      const rows = plane.load.breakpoints.length;
      const onEdge = (at: number) => {
        const column = at % columns;
        const row = Math.floor(at / columns);
        const alongRpm = along !== "load" && (column === 0 || column === columns - 1);
        const alongLoad = along !== "rpm" && (row === 0 || row === rows - 1);
        return alongRpm || alongLoad;
      };
      if (inside.some((weight, at) => weight > 0 && onEdge(at))) return;
      fillCells(plane, { region: hard, along }).cells.forEach((cell, at) => {
        expect(cell).toBeCloseTo(plane.cells[at]!, 9);
      });
    }),
    { numRuns: 2000 },
  );
});

test("feathered cells go their share of the way", () => {
  fc.assert(
    fc.property(parts, ways, ({ table, region }, along) => {
      const filled = attempt(table, { region, along });
      if (!filled) return;
      const weights = editWeights(table, region);
      const also = Array.from(weights.keys())
        .filter((at) => weights[at]! > 0)
        .map((at) => {
          const rpm = table.rpm.breakpoints[at % table.rpm.breakpoints.length]!;
          const load = table.load.breakpoints[Math.floor(at / table.rpm.breakpoints.length)]!;
          return { rpm: [rpm, rpm] as const, load: [load, load] as const };
        });
      if (also.length === 0) return;
      const whole = fillCells(table, { region: { also }, along });
      filled.cells.forEach((cell, at) => {
        const old = table.cells[at]!;
        expect(cell).toBeCloseTo(old + weights[at]! * (whole.cells[at]! - old), 11);
      });
    }),
    { numRuns: 1000 },
  );
});

test("units of an axis do not matter and mirrored tables give mirrored results", () => {
  fc.assert(
    fc.property(parts, ways, ({ table, region }, along) => {
      const { feather: _, ...hard } = region;
      const filled = attempt(table, { region: hard, along });
      if (!filled) return;
      const columns = table.rpm.breakpoints.length;
      const flip = (cells: Float64Array) =>
        cells.map((__, at) => cells[at - (at % columns) + (columns - 1 - (at % columns))]!);
      const turn = (value: number) => (10_000 - value) / 60;
      const box = ({ rpm, load }: Region) => ({ rpm: [turn(rpm![1]), turn(rpm![0])] as const, load: load! });
      const mirrored = createTable({
        ...table,
        rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.map(turn).reverse() },
        cells: flip(table.cells),
        locked: table.locked.map(box),
      });
      const also = hard.also ? { also: hard.also.map(box) } : {};
      const other = fillCells(mirrored, { region: { ...box(hard), ...also }, along });
      flip(other.cells).forEach((cell, at) => {
        expect(cell).toBeCloseTo(filled.cells[at]!, 9);
      });
    }),
    { numRuns: 1000 },
  );
});
