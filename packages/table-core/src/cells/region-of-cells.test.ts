import fc from "fast-check";
import { expect, test } from "vitest";
import { tables } from "../../testing/arbitraries.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import { regionWeights } from "../values/region.ts";
import { regionOfCells } from "./region-of-cells.ts";

test("the region holds exactly the chosen cells", () => {
  fc.assert(
    fc.property(tables(), fc.infiniteStream(fc.boolean()), (table, stream) => {
      const chosen = Array.from(table.cells, () => stream.next().value as boolean);
      const region = regionOfCells(table, (at) => chosen[at]!);
      if (region === null) expect(chosen).not.toContain(true);
      else expect(Array.from(regionWeights(table, region), (weight) => weight === 1)).toEqual(chosen);
    }),
    { numRuns: 1000 },
  );
});

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] });
const load = createAxis({ quantity: "throttle-position", breakpoints: [10, 20, 30] });

test("a rectangle is one box, and runs of another width start a new one", () => {
  const low = (at: number) => at < 6;
  expect(regionOfCells({ rpm, load }, low)).toEqual({ rpm: [1000, 3000], load: [10, 20] });
  expect(regionOfCells({ rpm, load }, (at) => low(at) || at === 7)).toEqual({
    rpm: [1000, 3000],
    load: [10, 20],
    also: [{ rpm: [2000, 2000], load: [30, 30] }],
  });
});

test("a one-row table's boxes say rpm only", () => {
  expect(regionOfCells({ rpm, load: singleRow }, (at) => at > 0)).toEqual({ rpm: [2000, 3000] });
});
