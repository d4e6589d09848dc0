import { createAxis, regionWeights, singleRow } from "@fuelwright/table-core";
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  blockBounds,
  blocksOf,
  type CellBlock,
  clampSelection,
  type GridSelection,
  isSelected,
  oneCell,
  regionOfSelection,
  selectedCount,
  selectionOfRegion,
} from "./grid-selection.ts";

const axes = {
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60, 90] }),
};
const positions = fc.record({ row: fc.nat(2), column: fc.nat(3) });
const blocks: fc.Arbitrary<CellBlock> = fc.record({ anchor: positions, focus: positions });
const selections: fc.Arbitrary<GridSelection> = fc.oneof(
  blocks,
  fc.record({ anchor: positions, focus: positions, also: fc.array(blocks, { minLength: 1, maxLength: 3 }) }),
);

test("a block is said in rpm and load, lower end first, whichever way it was drawn", () => {
  const selection = { anchor: { row: 1, column: 2 }, focus: { row: 0, column: 1 } };
  expect(regionOfSelection(axes, selection)).toEqual({ rpm: [2000, 3000], load: [30, 60] });
});

test("a whole row, a whole column and everything leave the spanned side out", () => {
  const to = (row: number, column: number) => ({ anchor: { row: 1, column: 1 }, focus: { row, column } });
  expect(regionOfSelection(axes, { anchor: { row: 1, column: 0 }, focus: { row: 1, column: 3 } })).toEqual({
    load: [60, 60],
  });
  expect(regionOfSelection(axes, { anchor: { row: 2, column: 1 }, focus: { row: 0, column: 1 } })).toEqual({
    rpm: [2000, 2000],
  });
  const all = { anchor: { row: 0, column: 0 }, focus: { row: 2, column: 3 } };
  expect(regionOfSelection(axes, all)).toEqual({});
  expect(regionOfSelection(axes, { ...to(1, 1), also: [all] })).toEqual({});
});

test("a one-row table has no load side", () => {
  const oneRow = { rpm: axes.rpm, load: singleRow };
  expect(regionOfSelection(oneRow, oneCell({ row: 0, column: 2 }))).toEqual({ rpm: [3000, 3000] });
});

test("whatever is selected, its region weighs exactly the selected cells", () => {
  fc.assert(
    fc.property(selections, (selection) => {
      const weights = regionWeights(axes, regionOfSelection(axes, selection));
      const bounds = blocksOf(selection).map(blockBounds);
      const selected = Array.from(weights, (_, at) => (isSelected(bounds, Math.floor(at / 4), at % 4) ? 1 : 0));
      expect(Array.from(weights)).toEqual(selected);
      expect(selectedCount(selection)).toBe(selected.filter((weight) => weight === 1).length);
    }),
  );
});

test("the selection of a region selects what the region weighs", () => {
  fc.assert(
    fc.property(selections, (selection) => {
      const region = regionOfSelection(axes, selection);
      expect(regionWeights(axes, regionOfSelection(axes, selectionOfRegion(axes, region)!))).toEqual(
        regionWeights(axes, region),
      );
    }),
  );
});

test("a region between breakpoints selects the breakpoints inside, or nothing", () => {
  expect(selectionOfRegion(axes, { rpm: [1500, 3500], load: [0, 59] })).toEqual({
    anchor: { row: 0, column: 1 },
    focus: { row: 0, column: 2 },
  });
  expect(selectionOfRegion(axes, { rpm: [2100, 2900] })).toBeNull();
});

test("a selection that fits another table stays as it is, and one that does not is moved inside", () => {
  const fits = { anchor: { row: 0, column: 0 }, focus: { row: 2, column: 3 } };
  expect(clampSelection(axes, fits)).toBe(fits);
  expect(clampSelection(axes, { anchor: { row: 9, column: 1 }, focus: { row: 1, column: 9 } })).toEqual({
    anchor: { row: 2, column: 1 },
    focus: { row: 1, column: 3 },
  });
});
