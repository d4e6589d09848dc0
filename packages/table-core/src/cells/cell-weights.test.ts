import fc from "fast-check";
import { expect, test } from "vitest";
import { regionsOf, tables } from "../../testing/arbitraries.ts";
import { regionWeights } from "../values/region.ts";
import { type CellWeight, cellWeights } from "./cell-weights.ts";

const withRegions = tables().chain((table) =>
  fc.tuple(fc.constant(table), regionsOf(table), regionsOf(table), fc.constantFrom(0, 0.3, 2), fc.constantFrom(0, 5)),
);

test("without being said all cells count alike, and numbers are taken as they are", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 1 });
  expect(cellWeights("w", table!, undefined)).toEqual(table!.cells.map(() => 1));
  expect(cellWeights("w", table!, [])).toEqual(table!.cells.map(() => 1));
  expect(cellWeights("w", table!, table!.cells)).toEqual(table!.cells);
});

test("the last region that covers a cell counts, elsewhere 1, and feathers lead over", () => {
  fc.assert(
    fc.property(withRegions, ([table, first, second, a, b]) => {
      const weights = cellWeights("w", table, [
        { region: first, weight: a },
        { region: second, weight: b },
      ]);
      const inFirst = regionWeights(table, first);
      const inSecond = regionWeights(table, second);
      weights.forEach((weight, at) => {
        const under = 1 + inFirst[at]! * (a - 1);
        expect(weight).toBeCloseTo(under + inSecond[at]! * (b - under), 13);
        if (inSecond[at] === 1) expect(weight).toBe(b);
      });
    }),
    { numRuns: 1000 },
  );
});

test("what is no weight is refused by its place", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 1 });
  expect(() => cellWeights("w", table!, [{ region: {}, weight: Number.NaN }])).toThrow("w[0].weight must be a finite");
  expect(() => cellWeights("w", table!, [{ region: { rpm: [2, 1] }, weight: 1 }])).toThrow("w[0].region.rpm");
  expect(() => cellWeights("w", table!, [0.5])).toThrow("w must hold one number for each");
  const size = table!.cells.length;
  expect(() => cellWeights("w", table!, [0.5])).toThrow(
    expect.objectContaining({ code: "bad-weights", details: { size, got: 1 } }),
  );
  const below = Array.from({ length: size }, (_, at) => (at === 2 ? -1 : 1));
  expect(() => cellWeights("w", table!, below)).toThrow(
    expect.objectContaining({ code: "bad-weights", details: { where: "w[2]", weight: -1 } }),
  );
  const nothing = [{ region: {}, weight: 1 }, null] as unknown as CellWeight[];
  expect(() => cellWeights("w", table!, nothing)).toThrow("w[1].weight must be a finite number");
});
