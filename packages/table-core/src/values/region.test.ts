import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { regionsOf, tables } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis } from "./axis.ts";
import { createTable } from "./fuel-table.ts";
import { createRegion, editWeights, everywhere, type Region, regionWeight, regionWeights } from "./region.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 60, 100] });
const table = createTable({
  id: "t",
  name: "invented",
  quantity: "factor",
  rpm,
  load,
  cells: [
    [1, 1, 1, 1],
    [1, 1, 1, 1],
    [1, 1, 1, 1],
  ],
});
const warmUp = createTable({ id: "w", name: "invented", quantity: "factor", rpm, cells: [[1, 1, 1, 1]] });

test("a region is a frozen copy of what was given, and of nothing else", () => {
  const given = {
    rpm: [2000, 3000],
    load: [20, 20],
    feather: { rpm: 500, load: 0 },
    also: [{ rpm: [1000, 1000] }, {}],
    colour: "red",
  };
  const region = createRegion(given as unknown as Region);
  expect(region).toEqual({
    rpm: [2000, 3000],
    load: [20, 20],
    feather: { rpm: 500, load: 0 },
    also: [{ rpm: [1000, 1000] }, {}],
  });
  const parts = [region, region.rpm, region.load, region.feather, region.also, region.also![0], region.also![0]!.rpm];
  for (const part of parts) expect(Object.isFrozen(part)).toBe(true);
  expect(createRegion({})).toEqual({});
  expect(createRegion({ feather: { load: 5 } })).toEqual({ feather: { load: 5 } });
  expect(everywhere).toEqual({});
  expect(Object.isFrozen(everywhere)).toBe(true);
});

describe("what is no region is refused with its place", () => {
  test.each([
    ["a list", [], "region must be an object"],
    ["nothing", null, "region must be an object"],
    ["text", "everywhere", "region must be an object"],
    ["a range of one number", { rpm: [1000] }, "region.rpm must be [from, to]"],
    ["a range of three numbers", { rpm: [1, 2, 3] }, "region.rpm must be [from, to]"],
    ["a range that is no list", { load: 5 }, "region.load must be [from, to]"],
    ["a range from high to low", { load: [60, 20] }, "region.load must run from low to high, got 60 to 20"],
    ["a feather below 0", { feather: { rpm: -1 } }, "region.feather.rpm must be 0 or above, got -1"],
    ["boxes that are no list", { also: {} }, "region.also must be a list of boxes"],
    ["too many boxes", { also: new Array(65_537).fill({}) }, "region.also must be a list of boxes"],
    ["a bad box", { also: [{}, { load: [2, 1] }] }, "region.also[1].load must run from low to high"],
  ])("%s", (_, given, said) => {
    const { code, message } = refusal(() => createRegion(given as Region));
    expect(code).toBe("bad-region");
    expect(message).toContain(said);
  });

  test("ends and widths that are no numbers, and under a name that is given", () => {
    const end = refusal(() => createRegion({ rpm: [1000, Number.NaN] }, "steps[2].region"));
    expect(end).toMatchObject({ code: "not-finite", details: { where: "steps[2].region.rpm[1]" } });
    expect(refusal(() => createRegion({ rpm: ["a", 1] as never })).details).toMatchObject({ where: "region.rpm[0]" });
    expect(refusal(() => createRegion({ feather: { load: "wide" as never } })).code).toBe("not-finite");
  });

  test("the facts are given as values too", () => {
    expect(refusal(() => createRegion({ load: [60, 20] })).details).toEqual({ where: "region.load", from: 60, to: 20 });
    expect(refusal(() => createRegion({ load: [60] as never })).details).toEqual({ where: "region.load" });
  });

  test("as many boxes as the largest table has cells are taken", () => {
    expect(createRegion({ also: new Array(65_536).fill({}) }).also).toHaveLength(65_536);
  });
});

test("the weight is 1 in the closed range and falls to 0 over the feather", () => {
  const region = { rpm: [2000, 3000], feather: { rpm: 500 } } as const;
  const at = [1000, 1500, 1600, 1750, 2000, 2500, 3000, 3250, 3500, 3501].map((x) => regionWeight(region, x, 50));
  const expected = [0, 0, 0.2, 0.5, 1, 1, 1, 0.5, 0, 0];
  for (const [i, weight] of at.entries()) expect(weight).toBeCloseTo(expected[i]!, 14);
  expect(regionWeight({ load: [40, 60] }, 9999, 60)).toBe(1);
  expect(regionWeight({ load: [40, 60] }, 9999, 60.01)).toBe(0);
  expect(regionWeight({ load: [40, 60], feather: { load: 10 } }, 0, 35)).toBe(0.5);
  // The sides multiply at a corner.
  expect(regionWeight({ rpm: [0, 1], load: [0, 1], feather: { rpm: 4, load: 2 } }, 2, 2)).toBeCloseTo(0.75 * 0.5, 15);
});

test("of several boxes the greatest weight counts, and a bare first one stands for nothing", () => {
  const two = { rpm: [1000, 1000], feather: { rpm: 1000 }, also: [{ rpm: [2000, 2000] }] } as const;
  expect(regionWeight(two, 1250, 0)).toBeCloseTo(0.75, 14);
  expect(regionWeight(two, 1900, 0)).toBeCloseTo(0.9, 14);
  expect(regionWeight({ also: [{ rpm: [2000, 2000] }] }, 1000, 0)).toBe(0);
  expect(regionWeight({ also: [] }, 1000, 0)).toBe(1);
  expect(regionWeight({ rpm: [1000, 1000], also: [{ load: [5, 6] }] }, 1000, 0)).toBe(1);
  expect(regionWeight({ load: [0, 1], also: [{ load: [5, 6] }] }, 1000, 0)).toBe(1);
  expect(regionWeight({ load: [0, 1], also: [{ load: [5, 6] }] }, 1000, 3)).toBe(0);
});

test("weights of cells lie row by row, load rising", () => {
  const weights = regionWeights(table, { rpm: [2000, 3000], load: [60, 60], feather: { load: 80 } });
  expect(Array.from(weights)).toEqual([0, 0.5, 0.5, 0, 0, 1, 1, 0, 0, 0.5, 0.5, 0]);
  expect(refusal(() => regionWeights(table, { rpm: [2, 1] })).code).toBe("bad-region");
});

test("on a one-row table the load ranges do not count", () => {
  const weights = (region: Region) => Array.from(regionWeights(warmUp, region));
  expect(weights({ load: [60, 100] })).toEqual([1, 1, 1, 1]);
  expect(weights({ rpm: [2000, 2000], load: [60, 100], feather: { rpm: 2000 } })).toEqual([0.5, 1, 0.5, 0]);
  expect(weights({ rpm: [1000, 1000], also: [{ rpm: [4000, 4000], load: [1, 2] }] })).toEqual([1, 0, 0, 1]);
  expect(weights({ rpm: [1000, 1000], also: [{ load: [1, 2] }] })).toEqual([1, 1, 1, 1]);
});

test("an edit has no weight in locked cells, not even where a lock only fades", () => {
  const locked = createTable({
    ...table,
    locked: [
      { rpm: [1000, 1000], load: [20, 20] },
      { rpm: [4000, 4000], feather: { rpm: 1500 } },
    ],
  });
  expect(Array.from(editWeights(locked))).toEqual([0, 1, 0, 0, 1, 1, 0, 0, 1, 1, 0, 0]);
  expect(Array.from(editWeights(locked, { load: [20, 20] }))).toEqual([0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
  expect(Array.from(editWeights(table))).toEqual(new Array(12).fill(1));
});

test("the weights of cells are the weight at their points, for any region", () => {
  const some = tables({ quantity: "factor" }).chain((one) =>
    fc.tuple(fc.constant(one), regionsOf(one), fc.array(regionsOf(one), { maxLength: 2 })),
  );
  fc.assert(
    fc.property(some, ([one, first, also]) => {
      const region = createRegion({ ...first, also });
      const weights = regionWeights(one, region);
      one.load.breakpoints.forEach((y, row) => {
        one.rpm.breakpoints.forEach((x, column) => {
          expect(weights[row * one.rpm.breakpoints.length + column]).toBe(regionWeight(region, x, y));
        });
      });
    }),
    { numRuns: 200 },
  );
});
