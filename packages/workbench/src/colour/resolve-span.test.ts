import fc from "fast-check";
import { expect, test } from "vitest";
import { resolveSpan } from "./resolve-span.ts";

const automatic = { span: { kind: "automatic" } } as const;
const symmetrical = { span: { kind: "symmetrical" } } as const;

test("automatic: each side to its own greatest change", () => {
  expect(resolveSpan(automatic, [-12, 0, 3, 1])).toEqual({ less: 12, more: 3 });
  expect(resolveSpan(automatic, Float64Array.of(4, 9))).toEqual({ less: 9, more: 9 });
});

test("symmetrical: both to the greater", () => {
  expect(resolveSpan(symmetrical, [-12, 0, 3])).toEqual({ less: 12, more: 12 });
});

test("fixed: as said, whatever the changes", () => {
  expect(resolveSpan({ span: { kind: "fixed", percent: 30 } }, [-90])).toEqual({ less: 30, more: 30 });
});

test("without any change there is a span all the same", () => {
  expect(resolveSpan(automatic, [])).toEqual({ less: 10, more: 10 });
  expect(resolveSpan(symmetrical, [0, 0])).toEqual({ less: 10, more: 10 });
});

test("a cell that was 0 before does not stretch the span, and rounding does not shrink it to nothing", () => {
  expect(resolveSpan(automatic, [Infinity, -Infinity, Number.NaN, 5])).toEqual({ less: 5, more: 5 });
  expect(resolveSpan(symmetrical, [1e-9])).toEqual({ less: 0.1, more: 0.1 });
});

test("covers every finite change, and is above zero on both sides", () => {
  fc.assert(
    fc.property(fc.array(fc.double()), fc.constantFrom(automatic, symmetrical), (percents, scheme) => {
      const { less, more } = resolveSpan(scheme, percents);
      expect(Math.min(less, more)).toBeGreaterThan(0);
      for (const percent of percents.filter(Number.isFinite)) {
        expect(percent).toBeLessThanOrEqual(more);
        expect(-percent).toBeLessThanOrEqual(less);
      }
    }),
  );
});
