import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { anyTables } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis, singleRow } from "./axis.ts";
import {
  cellPlace,
  cellRows,
  createStorage,
  createTable,
  type FuelTableSpec,
  type Storage,
  viewCells,
  withCells,
} from "./fuel-table.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 100] });
const rows = [
  [2, 4, 3],
  [10, 14, 12],
];
const spec: FuelTableSpec = { id: "main", name: "invented", quantity: "pulse-width", rpm, load, cells: rows };
const table = createTable(spec);
const warmUp = createTable({
  id: "warm-up",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 80] }),
  cells: [[1.6, 1]],
});

test("a table is a frozen copy, its cells row by row with rising load", () => {
  expect(table).toEqual({
    id: "main",
    name: "invented",
    quantity: "pulse-width",
    unit: "ms",
    rpm,
    load,
    cells: Float64Array.of(2, 4, 3, 10, 14, 12),
    locked: [],
  });
  expect(Object.isFrozen(table) && Object.isFrozen(table.locked)).toBe(true);
  expect(cellRows(table)).toEqual(rows);
  expect(cellRows(warmUp)).toEqual([[1.6, 1]]);
  expect(warmUp.load).toBe(singleRow);
});

test("rows and flat numbers make the same table, and neither is kept", () => {
  const flat = Float64Array.of(2, 4, 3, 10, 14, 12);
  const made = createTable({ ...spec, cells: flat });
  flat[0] = 99;
  expect(made).toEqual(table);
});

test("storage, cylinder and locked parts are kept where they are given", () => {
  const storage = { min: 0, max: 25, step: 0.1 };
  const full = createTable({ ...spec, storage, cylinder: 2, locked: [{ rpm: [1000, 2000] }] });
  expect(full).toMatchObject({ storage, cylinder: 2, locked: [{ rpm: [1000, 2000] }] });
  expect(Object.isFrozen(full.storage)).toBe(true);
  expect(table).not.toHaveProperty("storage");
  expect(table).not.toHaveProperty("cylinder");
});

test("minus zero is kept as zero, in rows and in flat numbers", () => {
  const zero = { ...spec, quantity: "trim" as const };
  for (const cells of [
    [
      [-0, 1, 1],
      [1, 1, 1],
    ],
    Float64Array.of(-0, 1, 1, 1, 1, 1),
  ])
    expect(Object.is(createTable({ ...zero, cells }).cells[0], 0)).toBe(true);
});

describe("what is no table is refused with its place", () => {
  test("names that are missing or too long", () => {
    expect(refusal(() => createTable({ ...spec, id: "" }))).toMatchObject({
      code: "bad-text",
      details: { where: "createTable: id" },
    });
    expect(refusal(() => createTable({ ...spec, id: "a".repeat(101) })).code).toBe("bad-text");
    expect(createTable({ ...spec, id: "a".repeat(100) }).id).toHaveLength(100);
    expect(refusal(() => createTable({ ...spec, name: " " })).details.where).toBe("createTable: main.name");
  });

  test("a quantity or a unit that cells do not have", () => {
    expect(refusal(() => createTable({ ...spec, quantity: "rpm" as never }))).toMatchObject({
      code: "unknown-choice",
      details: { where: "createTable: main.quantity" },
    });
    expect(refusal(() => createTable({ ...spec, unit: "us" })).code).toBe("unit-not-canonical");
  });

  test("axes on the wrong side", () => {
    const across = refusal(() => createTable({ ...spec, rpm: load, load: rpm }));
    expect(across).toMatchObject({ code: "wrong-axis", details: { quantity: "manifold-pressure" } });
    expect(refusal(() => createTable({ ...spec, rpm: singleRow })).code).toBe("wrong-axis");
    expect(refusal(() => createTable({ ...spec, rpm: singleRow, load: singleRow, cells: [[1]] })).code).toBe(
      "wrong-axis",
    );
    expect(refusal(() => createTable({ ...spec, load: rpm, cells: [[], [], []] }))).toMatchObject({
      code: "unknown-choice",
      details: { where: "createTable: main.load.quantity" },
    });
  });

  test("another number of cells than the axes ask for", () => {
    const flat = refusal(() => createTable({ ...spec, cells: Float64Array.of(1, 2, 3) }));
    expect(flat).toMatchObject({ code: "wrong-cell-count", details: { rows: 2, columns: 3, got: 3 } });
    expect(flat.message).toBe("createTable: main.cells must be 2 rows of 3 (6), got 3; check the axes");
    const short = refusal(() => createTable({ ...spec, cells: [[1, 2, 3]] }));
    expect(short).toMatchObject({ code: "wrong-cell-count", details: { rows: 2, columns: 3 } });
    expect(short.message).toContain("got a list of 1;");
    expect(refusal(() => createTable({ ...spec, cells: { length: 2 } as never })).code).toBe("wrong-cell-count");
    const ragged = refusal(() =>
      createTable({
        ...spec,
        cells: [
          [1, 2, 3],
          [1, 2],
        ],
      }),
    );
    expect(ragged).toMatchObject({ code: "ragged-rows", details: { row: 1, columns: 3, got: 2 } });
    expect(ragged.message).toContain("createTable: main.cells[1] must have 3 cells");
    expect(refusal(() => createTable({ ...spec, cells: [[1, 2, 3], null as never] }))).toMatchObject({
      code: "ragged-rows",
      details: { row: 1, columns: 3, got: undefined },
    });
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, "4" as never, null as never])("a cell that is %s", (bad) => {
    const inRows = refusal(() =>
      createTable({
        ...spec,
        cells: [
          [2, 4, 3],
          [10, bad, 12],
        ],
      }),
    );
    expect(inRows.message).toContain("createTable: main.cells[1][1] (2000 rpm, 100 kPa) must be a finite number");
    expect(inRows).toMatchObject({ code: "cell-not-finite", details: { row: 1, column: 1, value: bad } });
  });

  test("a flat cell that is no number", () => {
    const flat = refusal(() => createTable({ ...spec, cells: Float64Array.of(1, 2, 3, 4, 5, Number.NaN) }));
    expect(flat.message).toContain("createTable: main.cells: the cell at 4000 rpm, 100 kPa must be a finite number");
    expect(flat).toMatchObject({ code: "cell-not-finite", details: { at: 5, value: Number.NaN } });
  });

  test("cylinders and locked parts that are none", () => {
    expect(refusal(() => createTable({ ...spec, cylinder: 0 })).code).toBe("out-of-range");
    expect(refusal(() => createTable({ ...spec, cylinder: 65 })).code).toBe("out-of-range");
    expect(createTable({ ...spec, cylinder: 64 }).cylinder).toBe(64);
    expect(refusal(() => createTable({ ...spec, locked: [{}, { rpm: [2, 1] }] })).message).toContain(
      "createTable: main.locked[1].rpm must run from low to high",
    );
  });
});

test("a storage range needs room for one step", () => {
  const storage: Storage = { min: 0, max: 2, step: 2 };
  expect(createStorage("s", storage)).toEqual(storage);
  for (const [min, max, step] of [
    [2, 2, 1],
    [3, 2, 1],
    [0, 2, 2.1],
  ] as const) {
    const { code, message, details } = refusal(() => createStorage("main.storage", { min, max, step }));
    expect(code).toBe("bad-storage");
    expect(message).toContain(`main.storage must have max above min by at least one step, got ${min} to ${max}`);
    expect(details).toEqual({ min, max, step });
  }
  for (const [side, code] of [
    ["min", "not-finite"],
    ["max", "not-finite"],
    ["step", "not-finite"],
  ] as const) {
    const bad = refusal(() => createStorage("s", { ...storage, [side]: Number.NaN }));
    expect(bad).toMatchObject({ code, details: { where: `s.${side}` } });
  }
  expect(refusal(() => createStorage("s", { ...storage, step: 0 })).code).toBe("not-positive");
});

test("other cells make another table, and cells that are no numbers none", () => {
  const cells = Float64Array.of(1, 1, 1, 1, 1, 1);
  const made = withCells(table, cells, "smooth");
  expect(made).toEqual({ ...table, cells });
  expect(made.cells).toBe(cells);
  expect(Object.isFrozen(made)).toBe(true);
  const bad = refusal(() => withCells(table, Float64Array.of(1, Number.NaN, 1, 1, 1, 1), "smooth"));
  expect(bad.message).toMatch(/^smooth: the cell at 2000 rpm, 20 kPa must be a finite number, got NaN;/);
});

test("a cell is named by its rpm and load, in a one-row table by its column alone", () => {
  expect(cellPlace(table, 0)).toBe("1000 rpm, 20 kPa");
  expect(cellPlace(table, 5)).toBe("4000 rpm, 100 kPa");
  expect(cellPlace(warmUp, 1)).toBe("80 °C");
});

test("a view writes through to the cells, [load][rpm]", () => {
  const cells = table.cells.slice();
  const view = viewCells(cells, table);
  expect(view.shape).toEqual([2, 3]);
  expect(view.get(1, 2)).toBe(12);
  view.set(0, 1, 7);
  expect(cells[1]).toBe(7);
});

test("a table made from a table, or from its rows, is the same", () => {
  fc.assert(
    fc.property(anyTables(), (any) => {
      expect(createTable(any)).toEqual(any);
      expect(createTable({ ...any, cells: cellRows(any) })).toEqual(any);
    }),
    { numRuns: 200 },
  );
});
