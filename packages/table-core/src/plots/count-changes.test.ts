import fc from "fast-check";
import { expect, test } from "vitest";
import { countChanges } from "./count-changes.ts";

const count = (...percent: number[]) => countChanges({ percent: Float64Array.from(percent) });

test("round bins meet at zero, and a change of just an edge counts below it", () => {
  expect(count(0, 0, 2, 2.1, 15, -4)).toEqual({
    step: 2,
    unchanged: 2,
    bins: [
      { from: -4, to: -2, count: 1 },
      { from: -2, to: 0, count: 0 },
      { from: 0, to: 2, count: 1 },
      { from: 2, to: 4, count: 1 },
      { from: 4, to: 6, count: 0 },
      { from: 6, to: 8, count: 0 },
      { from: 8, to: 10, count: 0 },
      { from: 10, to: 12, count: 0 },
      { from: 12, to: 14, count: 0 },
      { from: 14, to: 16, count: 1 },
    ],
  });
  expect(count(0, 0)).toEqual({ step: 1, unchanged: 2, bins: [] });
});

test("a few changes far out, and those from zero, are counted in an open bin", () => {
  const { bins, step } = count(
    ...Array.from({ length: 30 }, (_, at) => 0.1 + at / 10),
    900,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  );
  expect(step).toBe(0.5);
  expect(bins.at(-1)).toEqual({ from: 4, to: Number.POSITIVE_INFINITY, count: 2 });
  expect(bins[0]).toEqual({ from: Number.NEGATIVE_INFINITY, to: -4, count: 1 });
});

test("every changed cell is in one bin, bins have no gaps, and there are few of them", () => {
  const changes = fc.oneof(
    fc.constant(0),
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.constantFrom(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
  );
  fc.assert(
    fc.property(fc.array(changes, { minLength: 1, maxLength: 80 }), (list) => {
      const percent = list.map((change) => (Math.abs(change) < 1e-6 ? 0 : change));
      const { bins, unchanged } = count(...percent);
      expect(bins.reduce((sum, bin) => sum + bin.count, unchanged)).toBe(percent.length);
      expect(bins.length).toBeLessThanOrEqual(18);
      expect(bins.slice(1).map(({ from }) => from)).toEqual(bins.slice(0, -1).map(({ to }) => to));
      for (const bin of bins) {
        const inside = percent.filter((change) => change > bin.from + 1e-9 && change < bin.to - 1e-9);
        expect(bin.count).toBeGreaterThanOrEqual(inside.length);
      }
    }),
  );
});
