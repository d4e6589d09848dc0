import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rideLoad, rideOf, rideRpm, seriesOf } from "../../testing/rides.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { createGrid, ModelRow } from "./dynamics-pass.ts";
import { passOver, unknownsFor } from "./find-dynamics.ts";
import { NormalSums } from "./normal-sums.ts";
import type { Series } from "./series.ts";

const grid = createGrid(rideRpm, rideLoad);
const dynamics = [{ constant: 0.06, flow: 0.25, lag: 0.12, filmShare: 0.18, filmTime: 0.18 }];
const options = {
  rpm: rideRpm,
  load: rideLoad,
  film: { share: 0.18, time: 0.18 },
  warmUp: false,
  minutes: 4,
  hertz: 25,
} as const;
const cells = Float64Array.from({ length: grid.cells }, (_, at) => 0.03 * Math.sin(at));

const sumsOf = (parts: readonly Series[]) =>
  passOver(
    parts.map((series) => ({ sensor: 0, series })),
    dynamics,
    {
      grid,
      band: grid.cells - 1,
      unknowns: unknownsFor(1, true),
      cells,
      scale: 0.015,
      robustness: "final",
      suspects: true,
    },
  );

/** The largest difference of two sums, as a share of the largest number in each. */
function difference(a: NormalSums, b: NormalSums): number {
  const pairs = [
    [a.matrix.values, b.matrix.values],
    [a.right, b.right],
    [a.cross, b.cross],
    [a.corner, b.corner],
    [a.extraRight, b.extraRight],
    [[a.square], [b.square]],
    [[a.weight], [b.weight]],
    [[a.count], [b.count]],
  ] as const;
  return Math.max(
    ...pairs.map(([u, v]) => {
      let most = 0;
      let size = 0;
      for (let at = 0; at < u.length; at++) {
        most = Math.max(most, Math.abs(u[at]! - v[at]!));
        size = Math.max(size, Math.abs(u[at]!));
      }
      return most / size;
    }),
  );
}

describe("sums of a log", () => {
  const { log } = rideOf({ seed: 11, ...options });
  const whole = sumsOf(seriesOf(log));

  test("are the same for parts of any size, added in any order", () => {
    expect(whole.sums.count).toBeGreaterThan(3000);
    const chunk = [...(log.open() as Iterable<{ count: number; columns: Record<string, Float64Array> }>)];
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 3000 }),
        fc.integer({ min: 37, max: 900 }),
        fc.nat(1000),
        (rows, size, seed) => {
          // The log in chunks of another size, cut into parts, the parts shuffled.
          const cut = chunk.flatMap(({ count, columns }) =>
            Array.from({ length: Math.ceil(count / size) }, (_, at) => ({
              count: Math.min(size, count - at * size),
              first: 0,
              columns: Object.fromEntries(
                Object.entries(columns).map(([key, values]) => [key, values.subarray(at * size, (at + 1) * size)]),
              ),
            })),
          );
          const parts = seriesOf({ ...log, open: () => cut as never }, undefined, rows, 20);
          const random = seededRandom(seed);
          const order = parts.map((part) => ({ part, at: random.uniform() })).sort((a, b) => a.at - b.at);
          const together = new NormalSums(grid.cells, grid.cells - 1, whole.sums.extras);
          for (const { part } of order) together.merge(sumsOf([part]).sums);
          expect(difference(whole.sums, together)).toBeLessThan(1e-10);
        },
      ),
      { numRuns: 12 },
    );
  });

  test("of two logs are the sums of both", () => {
    const other = rideOf({ seed: 12, ...options }).log;
    const both = sumsOf([...seriesOf(log), ...seriesOf(other)]).sums;
    const apart = new NormalSums(grid.cells, grid.cells - 1, both.extras);
    apart.merge(sumsOf(seriesOf(other)).sums);
    apart.merge(whole.sums);
    expect(difference(both, apart)).toBeLessThan(1e-12);
  });

  test("tempered count for less, and solve the same without a penalty", () => {
    const half = whole.sums.tempered(2);
    expect(half.count).toBe(whole.sums.count / 2);
    expect(half.right[40]).toBe(whole.sums.right[40]! / 2);
    expect(half.matrix.values[900]).toBe(whole.sums.matrix.values[900]! / 2);
  });
});

test("a row wider than the band is left out and counted", () => {
  const sums = new NormalSums(10, 2, 0);
  const row = new ModelRow(10);
  row.add(0, 0.5);
  row.add(2, 0.5);
  expect(sums.add(row, 1, 1, new Float64Array())).toBe(true);
  row.add(9, 0.1);
  expect(sums.add(row, 1, 1, new Float64Array())).toBe(false);
  expect([sums.count, sums.wide, sums.matrix.values[2 * 2 + 0 + 2]]).toEqual([1, 1, 0.25]);
});
