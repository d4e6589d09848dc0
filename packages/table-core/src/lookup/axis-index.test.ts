import fc from "fast-check";
import { expect, test } from "vitest";
import { extremeAxes, rpmAxes } from "../../testing/arbitraries.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import { axisIndex, findBreakpoint } from "./axis-index.ts";

const searched = (breakpoints: readonly number[], value: number) =>
  breakpoints.filter((breakpoint) => breakpoint <= value).length - 1;

test("the breakpoint below a value is found on an axis by hand", () => {
  const index = axisIndex(createAxis({ quantity: "rpm", breakpoints: [1000, 1500, 4000, 8000] }));
  const found = [1000, 1499.9, 1500, 3999, 4000, 7999, 8000].map((value) => findBreakpoint(index, value));
  expect(found).toEqual([0, 0, 1, 1, 2, 2, 3]);
  expect(index.direct).toBe(true);
});

test("the buckets agree with a search, on breakpoints, beside them and between, however uneven the axis", () => {
  fc.assert(
    fc.property(fc.oneof(rpmAxes(), extremeAxes("rpm")), fc.double({ min: 0, max: 1, noNaN: true }), (axis, share) => {
      const { breakpoints } = axis;
      const index = axisIndex(axis);
      const low = breakpoints[0]!;
      const high = breakpoints.at(-1)!;
      const beside = breakpoints.flatMap((value) => [value, value * (1 - 2 ** -52), value * (1 + 2 ** -52)]);
      for (const value of [...beside, low + share * (high - low)]) {
        if (value < low || value > high) continue;
        expect(findBreakpoint(index, value)).toBe(searched(breakpoints, value));
      }
    }),
    { numRuns: 2000 },
  );
});

test("an axis too uneven for buckets is searched, the index is built once, and one row has one breakpoint", () => {
  const uneven = createAxis({ quantity: "rpm", breakpoints: [1, 1 + 2 ** -50, 1e9] });
  expect(axisIndex(uneven).direct).toBe(false);
  expect(axisIndex(uneven)).toBe(axisIndex(uneven));
  expect(findBreakpoint(axisIndex(singleRow), 0)).toBe(0);
});
