import fc from "fast-check";
import { expect, test } from "vitest";
import { extremeAxes, tables } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { bilinearWeights } from "./bilinear-weights.ts";
import { locateMany } from "./locate-many.ts";
import { lookup } from "./lookup.ts";
import type { Outside } from "./outside.ts";

const anyTable = () => fc.oneof(tables(), tables({ rpm: extremeAxes("rpm"), load: extremeAxes("air-charge") }));
const part = () => fc.double({ min: -0.3, max: 1.3, noNaN: true });
const at = (breakpoints: readonly number[], share: number) =>
  breakpoints[0]! + share * (breakpoints.at(-1)! - breakpoints[0]!);
const row = createTable({
  id: "row",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "air-temperature", breakpoints: [-10, 20, 60] }),
  cells: [[1.1, 1, 0.9]],
});

test("the weights of a point on paper", () => {
  const table = createTable({
    id: "t",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 4000] }),
    load: createAxis({ quantity: "throttle-position", breakpoints: [0, 50, 100] }),
    cells: new Float64Array(9),
  });
  const { cells, weights } = bilinearWeights(table, { rpm: 2500, load: 25 });
  expect([...cells]).toEqual([1, 2, 4, 5]);
  expect([...weights]).toEqual([0.375, 0.125, 0.375, 0.125]);
});

test("weights add up to one and give the looked-up value; inside they lie in 0..1", () => {
  fc.assert(
    fc.property(tables(), part(), part(), fc.constantFrom<Outside>("hold", "extend"), (table, a, b, outside) => {
      const point = { rpm: at(table.rpm.breakpoints, a), load: at(table.load.breakpoints, b), outside };
      const { cells, weights } = bilinearWeights(table, point);
      const sum = weights.reduce((total, weight) => total + weight, 0);
      const value = weights.reduce((total, weight, i) => total + weight * table.cells[cells[i]!]!, 0);
      expect(sum).toBeCloseTo(1, 9);
      // Extended cells may be 1/40 of an axis: weights of some hundreds, cells of 20.
      expect(Math.abs(value - lookup(table, point))).toBeLessThan(1e-8);
      if (outside === "hold") for (const weight of weights) expect(weight >= 0 && weight <= 1).toBe(true);
    }),
    { numRuns: 1000 },
  );
});

test("on a breakpoint one cell has all the weight, exactly", () => {
  fc.assert(
    fc.property(anyTable(), fc.nat(), fc.nat(), (table, r, c) => {
      const column = c % table.rpm.breakpoints.length;
      const line = r % table.load.breakpoints.length;
      const point = { rpm: table.rpm.breakpoints[column]!, load: table.load.breakpoints[line]! };
      const { cells, weights } = bilinearWeights(table, point);
      const whole = [...weights].flatMap((weight, i) => (weight === 1 ? [cells[i]] : []));
      expect(whole).toEqual([line * table.rpm.breakpoints.length + column]);
      expect(weights.filter((weight) => weight === 0)).toHaveLength(3);
    }),
    { numRuns: 1000 },
  );
});

test("many points are located as each is alone", () => {
  fc.assert(
    fc.property(
      anyTable(),
      fc.array(fc.tuple(part(), part()), { minLength: 1, maxLength: 20 }),
      fc.constantFrom<Outside>("hold", "extend"),
      (table, shares, outside) => {
        const rpm = shares.map(([a]) => at(table.rpm.breakpoints, a));
        const load = shares.map(([, b]) => at(table.load.breakpoints, b));
        const { corner, rpmShare, loadShare } = locateMany(table, { rpm, load, outside });
        shares.forEach((_, k) => {
          const alone = bilinearWeights(table, { rpm: rpm[k]!, load: load[k]!, outside });
          const f = rpmShare[k]!;
          const g = loadShare[k]!;
          expect(corner[k]).toBe(alone.cells[0]);
          expect([(1 - f) * (1 - g), f * (1 - g), (1 - f) * g, f * g]).toEqual([...alone.weights]);
        });
      },
    ),
    { numRuns: 1000 },
  );
});

test("one row: the load does not count, and the arrays given are filled", () => {
  const out = { corner: new Int32Array(3), rpmShare: new Float64Array(3), loadShare: new Float64Array(3).fill(9) };
  expect(locateMany(row, { rpm: [-20, 20, 40], out })).toBe(out);
  expect([...out.corner]).toEqual([0, 1, 1]);
  expect([...out.rpmShare]).toEqual([0, 0, 0.5]);
  expect([...out.loadShare]).toEqual([0, 0, 0]);
  expect([...bilinearWeights(row, { rpm: 40, load: 3 }).weights]).toEqual([0.5, 0.5, 0, 0]);
  expect([...bilinearWeights(row, { rpm: 40 }).cells]).toEqual([1, 2, 1, 2]);
});

test("the point at fault is named", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 5 }) as [FuelTable];
  const load = new Float64Array(6000).fill(table.load.breakpoints[0]!);
  const rpm = new Float64Array(6000).fill(table.rpm.breakpoints[0]!);
  rpm[5000] = Number.NaN;
  expect(() => locateMany(table, { rpm, load })).toThrow("locateMany: rpm[5000] must be a finite number");
  rpm[5000] = -1;
  expect(() => locateMany(table, { rpm, load, outside: "refuse" })).toThrow("rpm[5000] must lie on the axis");
  expect(refusal(() => locateMany(table, { rpm, load: load.subarray(1) }))).toMatchObject({
    code: "lengths-differ",
    details: { rpm: 6000, load: 5999, out: 6000 },
  });
  rpm[5000] = rpm[0]!;
  load[4999] = 1e6;
  expect(refusal(() => locateMany(table, { rpm, load, outside: "refuse" }))).toMatchObject({
    code: "outside-table",
    details: { where: "load[4999]", value: 1e6 },
  });
  const short = { corner: new Int32Array(5999), rpmShare: new Float64Array(6000), loadShare: new Float64Array(6000) };
  expect(refusal(() => locateMany(table, { rpm, load, out: short })).details).toEqual({
    rpm: 6000,
    load: 6000,
    out: 5999,
  });
  expect(refusal(() => locateMany(row, { rpm: [1, 2], out: { ...short, corner: new Int32Array(1) } })).details).toEqual(
    { rpm: 2, load: null, out: 1 },
  );
  expect(() => bilinearWeights(table, { rpm: -1, load: 50, outside: "refuse" })).toThrow("rpm must lie on the axis");
});
