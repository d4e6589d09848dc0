import fc from "fast-check";
import { expect, test } from "vitest";
import { lockedTablesWithRegion, regionsOf, tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { regionWeights } from "../values/region.ts";
import { lockCells, unlockCells } from "./lock-cells.ts";
import { setCells } from "./set-cells.ts";

const isLocked = (table: FuelTable) => {
  const masks = table.locked.map((lock) => regionWeights(table, lock));
  return Array.from(table.cells, (_, at) => masks.some((mask) => mask[at]! > 0));
};

test("a locked cell survives every edit; unlocked it moves again", () => {
  fc.assert(
    fc.property(
      tables().chain((table) => fc.tuple(fc.constant(table), regionsOf(table))),
      ([table, region]) => {
        const locked = lockCells(table, { region });
        const weights = regionWeights(table, region);
        setCells(locked, { value: -1 }).cells.forEach((value, at) => {
          expect(value).toBe(weights[at]! > 0 ? table.cells[at] : -1);
        });
        expect(unlockCells(locked, { region }).locked).toEqual([]);
        expect(lockCells(locked, { region })).toBe(locked);
      },
    ),
    { numRuns: 1000 },
  );
});

test("unlocking a region frees exactly its cells, however the locks lie", () => {
  fc.assert(
    fc.property(lockedTablesWithRegion(), ({ table, region }) => {
      const before = isLocked(table);
      const freed = regionWeights(table, region);
      const after = unlockCells(table, { region });
      expect(isLocked(after)).toEqual(before.map((held, at) => held && freed[at] === 0));
      expect(after.cells).toBe(table.cells);
    }),
    { numRuns: 1000 },
  );
});

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "throttle-position", breakpoints: [10, 20, 30] }),
  cells: new Float64Array(9).fill(1),
});

test("a lock that is cut keeps its remaining cells as boxes", () => {
  const locked = lockCells(table, { region: { rpm: [500, 3500] } });
  expect(unlockCells(locked, { region: { rpm: [2000, 2000], load: [20, 20] } }).locked).toEqual([
    {
      rpm: [1000, 3000],
      load: [10, 10],
      also: [
        { rpm: [1000, 1000], load: [20, 20] },
        { rpm: [3000, 3000], load: [20, 20] },
        { rpm: [1000, 3000], load: [30, 30] },
      ],
    },
  ]);
});

test("locks that the region does not touch stay as they were said; without a region all go", () => {
  const low = { rpm: [0, 1500] as const, feather: { rpm: 100 } };
  const locked = lockCells(lockCells(table, { region: low }), { region: { rpm: [3000, 3000] } });
  expect(unlockCells(locked, { region: { rpm: [2500, 9000] } }).locked).toEqual([low]);
  expect(unlockCells(locked).locked).toEqual([]);
});

test("a bad region is named", () => {
  expect(() => lockCells(table, { region: { rpm: [2, 1] } })).toThrow(
    /^lockCells: region\.rpm must run from low to high/,
  );
});
