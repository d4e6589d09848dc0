import fc from "fast-check";
import { expect, test } from "vitest";
import { extremeAxes, tables } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { lookup } from "./lookup.ts";
import { lookupMany } from "./lookup-many.ts";
import type { Outside } from "./outside.ts";

/** Many points spread over and around the table, all its breakpoints among them. */
function pointsOf(table: FuelTable, count: number, within = false): { rpm: Float64Array; load: Float64Array } {
  const x = table.rpm.breakpoints;
  const y = table.load.breakpoints;
  const spread = (breakpoints: readonly number[], k: number, step: number) => {
    if (k % 7 === 0) return breakpoints[(k / 7) % breakpoints.length]!;
    const share = ((k * step) % 1) * (within ? 1 : 1.6) - (within ? 0 : 0.3);
    return breakpoints[0]! + share * (breakpoints.at(-1)! - breakpoints[0]!);
  };
  return {
    rpm: Float64Array.from({ length: count }, (_, k) => spread(x, k, 0.618)),
    load: Float64Array.from({ length: count }, (_, k) => spread(y, k, 0.7548)),
  };
}

const anyTable = () =>
  fc.oneof(
    tables({ min: -50, max: 50 }),
    tables({ min: -50, max: 50, rpm: extremeAxes("rpm"), load: extremeAxes("air-charge") }),
  );

test("it gives what lookup gives, bit for bit, for few points and for many", () => {
  fc.assert(
    fc.property(
      anyTable(),
      fc.constantFrom<Outside>("hold", "extend"),
      fc.constantFrom(3, 400),
      (table, outside, n) => {
        const { rpm, load } = pointsOf(table, n);
        const values = lookupMany(table, { rpm, load, outside });
        expect(values).toEqual(values.map((_, k) => lookup(table, { rpm: rpm[k]!, load: load[k]!, outside })));
      },
    ),
    { numRuns: 1000 },
  );
});

test("more points than one chunk, plain arrays and one-row tables are read alike", () => {
  const row = createTable({
    id: "volts",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "battery-voltage", breakpoints: [9, 11, 14] }),
    cells: [[1.3, 1.1, 1]],
  });
  const volts = Array.from({ length: 10_000 }, (_, k) => 8 + (k % 700) / 100);
  const values = lookupMany(row, { rpm: volts });
  expect(values).toHaveLength(10_000);
  for (const k of [0, 4095, 4096, 8191, 8192, 9999]) expect(values[k]).toBe(lookup(row, { rpm: volts[k]! }));
});

test("the values go into the array that is given", () => {
  fc.assert(
    fc.property(tables(), (table) => {
      const { rpm, load } = pointsOf(table, 50, true);
      const out = new Float64Array(50);
      expect(lookupMany(table, { rpm, load, out, outside: "refuse" })).toBe(out);
      expect(out).toEqual(lookupMany(table, { rpm, load }));
    }),
  );
});

test("the point at fault is named", () => {
  fc.assert(
    fc.property(tables(), fc.constantFrom(20, 9000), fc.nat(), fc.boolean(), (table, count, seed, onLoad) => {
      const { rpm, load } = pointsOf(table, count, true);
      const at = seed % count;
      const side = onLoad ? load : rpm;
      side[at] = Number.NaN;
      const named = `${onLoad ? "load" : "rpm"}[${at}] must be a finite number, got NaN`;
      expect(() => lookupMany(table, { rpm, load })).toThrow(named);
      side[at] = 1e6;
      expect(() => lookupMany(table, { rpm, load, outside: "refuse" })).toThrow(
        `${onLoad ? "load" : "rpm"}[${at}] must lie on the axis`,
      );
    }),
    { numRuns: 100 },
  );
});

test("infinite queries are refused, the largest finite ones held", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 3 }) as [FuelTable];
  const load = new Float64Array(500).fill(50);
  const rpm = new Float64Array(500).fill(Number.MAX_VALUE);
  expect(lookupMany(table, { rpm, load })[0]).toBe(lookup(table, { rpm: 1e9, load: 50 }));
  rpm[7] = Number.NEGATIVE_INFINITY;
  expect(() => lookupMany(table, { rpm, load })).toThrow("lookupMany: rpm[7] must be a finite number, got -Infinity");
});

test("sides of different length are refused", () => {
  const [table] = fc.sample(tables(), { numRuns: 1, seed: 3 }) as [FuelTable];
  expect(() => lookupMany(table, { rpm: [1000, 2000], load: [50] })).toThrow("equally long, got 2, 1 and 2");
  expect(refusal(() => lookupMany(table, { rpm: [1000] }))).toMatchObject({
    code: "lengths-differ",
    details: { rpm: 1, load: 0, out: 1 },
  });
  expect(() => lookupMany(table, { rpm: [1000], load: [50], out: new Float64Array(2) })).toThrow("equally long");
});
