import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import type { CellQuantity } from "../values/quantities.ts";
import { regionWeights } from "../values/region.ts";
import type { Remedy } from "./inspect/finding.ts";
import { type InspectTable, inspectTable } from "./inspect-table.ts";
import { smoothCells } from "./smooth-cells.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [800, 1200, 1600, 2400, 3200, 4000, 5000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [25, 35, 45, 55, 65, 80, 100] });
const COLUMNS = 8;

/** An invented table that rises with load and bends over rpm, with `change` made to some cells. */
function grown(
  change: (row: number, column: number, value: number) => number = (_, __, value) => value,
  quantity: CellQuantity = "pulse-width",
) {
  const cells = load.breakpoints.map((kpa, row) =>
    rpm.breakpoints.map((speed, column) => change(row, column, (kpa / 12) * (1 - ((speed - 3500) / 6000) ** 2))),
  );
  return createTable({ id: "t", name: "invented", quantity, rpm, load, cells });
}
const kinds = (table: FuelTable, thresholds?: InspectTable) => inspectTable(table, thresholds).map(({ kind }) => kind);

test("a table without faults has no findings", () => {
  expect(inspectTable(grown())).toEqual([]);
});

describe("cells out of line", () => {
  test("a spike inside is found, with its place, its size, and filling as the remedy", () => {
    const [finding, ...more] = inspectTable(
      grown((row, column, value) => (row === 3 && column === 4 ? value * 1.2 : value)),
    );
    expect(more).toEqual([]);
    expect(finding).toEqual({
      kind: "out-of-line",
      cells: [3 * COLUMNS + 4],
      region: { rpm: [3200, 3200], load: [55, 55] },
      reason: expect.stringMatching(/^3200 rpm, 55 kPa is 20 % above what its neighbours suggest, \d+ times the usual/),
      remedy: { kind: "fill-cells", settings: { region: { rpm: [3200, 3200], load: [55, 55] }, along: "both" } },
    });
  });

  test("a dip on the rim is found, its neighbours are not", () => {
    const findings = inspectTable(grown((row, column, value) => (row === 0 && column === 3 ? value * 0.85 : value)));
    expect(findings.map(({ kind, cells }) => [kind, cells])).toEqual([["out-of-line", [3]]]);
    expect(findings[0]!.reason).toMatch(/^2400 rpm, 25 kPa is 1\d % below/);
  });

  test("the worst comes first, and small ones are left alone", () => {
    const uneven = grown((row, column, value) => {
      if (row === 2 && column === 2) return value * 1.1;
      if (row === 4 && column === 5) return value * 0.7;
      return row === 5 && column === 1 ? value * 1.015 : value;
    });
    expect(inspectTable(uneven).map(({ cells }) => cells)).toEqual([[4 * COLUMNS + 5], [2 * COLUMNS + 2]]);
    expect(inspectTable(uneven, { outOfLinePercent: 1 }).map(({ cells }) => cells)).toContainEqual([5 * COLUMNS + 1]);
  });

  test("the corners of a target table's blocks are meant", () => {
    const blocks = grown((row, column) => (row > 3 ? 0.86 : column < 2 ? 0.94 : row > 1 ? 1 : 1.04), "lambda");
    expect(kinds(blocks)).not.toContain("out-of-line");
  });
});

describe("jumps", () => {
  test("a wall between two columns is one finding, and smoothing reaches one breakpoint further", () => {
    const findings = inspectTable(grown((_, column, value) => (column > 4 ? value * 1.5 : value)));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      kind: "step",
      region: { rpm: [3200, 4000], load: [25, 100] },
      reason: expect.stringMatching(
        /^From 3200 to 4000 rpm the cells rise by up to 40 % at once \(3200 to 4000 rpm, 25 to 100 kPa\)\.$/,
      ),
      remedy: { kind: "smooth-cells", settings: { region: { rpm: [2400, 5000], load: [25, 100] }, strength: 1 } },
    });
  });

  test("its remedy, carried out, makes the jump less", () => {
    const wall = grown((_, column, value) => (column > 4 ? value * 1.5 : value));
    const { settings } = inspectTable(wall)[0]!.remedy as Extract<Remedy, { kind: "smooth-cells" }>;
    const jump = ({ cells }: FuelTable) => cells[3 * COLUMNS + 5]! / cells[3 * COLUMNS + 4]!;
    expect(jump(smoothCells(wall, settings))).toBeLessThan(0.9 * jump(wall));
  });

  test("a table that is steep everywhere has none", () => {
    const steep = grown((row, column) => 1.35 ** (row + column));
    expect(kinds(steep)).not.toContain("step");
    expect(kinds(steep, { stepTimes: 0.5 })).toContain("step");
  });

  test("a trim's jumps are those of the fuel it asks for", () => {
    const trims = grown((_, column) => (column > 3 ? 12 : 0), "trim");
    expect(inspectTable(trims)[0]).toMatchObject({
      kind: "step",
      reason: expect.stringContaining("rise by up to 11 %"),
    });
    expect(kinds(trims, { stepPercent: 12 })).toEqual([]);
  });
});

describe("against load", () => {
  test("a fall while load rises is found; runs side by side are one finding", () => {
    const dented = grown((row, column, value) => (row === 4 && column > 1 && column < 5 ? value * 0.8 : value));
    const found = inspectTable(dented).filter(({ kind }) => kind === "against-load");
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      region: { rpm: [1600, 3200], load: [55, 65] },
      reason: expect.stringMatching(/^At 1600 to 3200 rpm, 55 to 65 kPa the cells fall by 5\.5 % while load rises\.$/),
      remedy: { kind: "smooth-cells" },
    });
  });

  test("quantities without a trend are asked only if one is given", () => {
    const falling = grown((row, column) => 100 - row - column / 8, "volumetric-efficiency");
    expect(kinds(falling)).toEqual([]);
    expect(kinds(falling, { trend: "rising", againstLoadPercent: 1 })).toEqual(["against-load"]);
    expect(kinds(falling, { trend: "falling" })).toEqual([]);
  });
});

describe("flats", () => {
  test("a patch of one value is found, and filled where it has cells all round it", () => {
    const patched = grown((row, column, value) => (row > 1 && row < 4 && column > 1 && column < 5 ? 4 : value));
    const flat = inspectTable(patched).find(({ kind }) => kind === "flat");
    expect(flat).toMatchObject({
      region: { rpm: [1600, 3200], load: [45, 55] },
      reason:
        "6 neighbouring cells all hold 4.00 ms (1600 to 3200 rpm, 45 to 55 kPa); perhaps they were never filled in, or were cut off.",
      remedy: { kind: "fill-cells" },
    });
  });

  test("a patch at the storage's end says so, and one at the edge is smoothed", () => {
    const cut = { ...grown((_, __, value) => Math.min(value, 6)), storage: { min: 0, max: 6, step: 0.1 } };
    const flat = inspectTable(cut).find(({ kind }) => kind === "flat");
    expect(flat).toMatchObject({
      reason: expect.stringContaining("all hold 6.00 ms"),
      remedy: { kind: "smooth-cells" },
    });
    expect(flat!.reason).toContain("the most that the controller stores.");
  });

  test("a table of one value has nothing to be compared with", () => {
    expect(inspectTable(grown(() => 5))).toEqual([]);
  });
});

test("every finding's region holds its cells, and its remedy's region holds them too", () => {
  fc.assert(
    fc.property(tables(), (table) => {
      for (const { cells, region, reason, remedy } of inspectTable(table, { flatCells: 3 })) {
        const weights = regionWeights(table, region);
        expect(Array.from(weights.keys()).filter((at) => weights[at] === 1)).toEqual(cells);
        const mended = regionWeights(table, remedy.settings.region);
        expect(cells.every((at) => mended[at] === 1)).toBe(true);
        expect(reason).not.toMatch(/NaN|undefined/);
      }
    }),
    { numRuns: 1000 },
  );
});

test("mirrored tables have mirrored findings", () => {
  fc.assert(
    fc.property(tables({ quantity: "volumetric-efficiency", min: 20, max: 90 }), (table) => {
      const columns = table.rpm.breakpoints.length;
      const end = table.rpm.breakpoints[0]! + table.rpm.breakpoints.at(-1)!;
      const mirror = (at: number) => at - (at % columns) + (columns - 1 - (at % columns));
      const mirrored = createTable({
        ...table,
        rpm: createAxis({ quantity: "rpm", breakpoints: [...table.rpm.breakpoints].reverse().map((x) => end - x) }),
        cells: table.cells.map((_, at) => table.cells[mirror(at)]!),
      });
      const said = (findings: ReturnType<typeof inspectTable>, place: (at: number) => number) =>
        findings.map(({ kind, cells }) => `${kind} ${cells.map(place).sort((a, b) => a - b)}`).sort();
      expect(said(inspectTable(mirrored), mirror)).toEqual(said(inspectTable(table), (at) => at));
    }),
    { numRuns: 1000 },
  );
});

test("a one-row table is inspected along its axis", () => {
  const warmUp = createTable({
    id: "w",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({
      quantity: "coolant-temperature",
      breakpoints: [-20, -10, 0, 10, 20, 30, 40, 50, 60, 70, 80, 90],
    }),
    cells: [[1.6, 1.55, 1.5, 1.45, 1.4, 1.6, 1.3, 1.25, 1.2, 1.15, 1.1, 1.05]],
  });
  expect(inspectTable(warmUp)).toMatchObject([
    {
      kind: "out-of-line",
      cells: [5],
      region: { rpm: [30, 30] },
      reason: expect.stringMatching(/^30 °C is 19 % above/),
    },
  ]);
});

test("thresholds that make no sense are refused by name", () => {
  expect(() => inspectTable(grown(), { stepPercent: 0 })).toThrow(/inspectTable: stepPercent must be above 0/);
  expect(() => inspectTable(grown(), { flatCells: 1 })).toThrow(/inspectTable: flatCells must be between 3/);
  expect(() => inspectTable(grown(), { trend: "up" as "rising" })).toThrow(/inspectTable: trend must be one of/);
});
