import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { axes } from "../../testing/arbitraries.ts";
import { refusal } from "../../testing/refusal.ts";
import { createAxis, MOST_BREAKPOINTS, sameAxis, singleRow } from "./axis.ts";
import type { AxisQuantity } from "./quantities.ts";

const rising = (count: number) => Array.from({ length: count }, (_, at) => 500 + 10 * at);

test("an axis is a frozen copy in its quantity's own unit", () => {
  const given = [900, 1200, 6000];
  const axis = createAxis({ quantity: "rpm", unit: "1/min", breakpoints: given });
  given[0] = 1;
  expect(axis).toEqual({ quantity: "rpm", unit: "rpm", breakpoints: [900, 1200, 6000] });
  expect(Object.isFrozen(axis) && Object.isFrozen(axis.breakpoints)).toBe(true);
});

test("2 to 256 breakpoints make an axis", () => {
  expect(MOST_BREAKPOINTS).toBe(256);
  for (const count of [2, 256])
    expect(createAxis({ quantity: "rpm", breakpoints: rising(count) }).breakpoints).toHaveLength(count);
});

test("the load side of a one-row table is one and the same value", () => {
  expect(createAxis({ quantity: "single-row", breakpoints: [5, 4] })).toBe(singleRow);
  expect(singleRow).toEqual({ quantity: "single-row", unit: "", breakpoints: [0] });
  expect(Object.isFrozen(singleRow) && Object.isFrozen(singleRow.breakpoints)).toBe(true);
});

test("minus zero is kept as zero", () => {
  const { breakpoints } = createAxis({ quantity: "air-temperature", breakpoints: [-0, 20] });
  expect(Object.is(breakpoints[0], 0)).toBe(true);
});

describe("what is no axis is refused", () => {
  test("too few breakpoints", () => {
    const short = refusal(() => createAxis({ quantity: "rpm", breakpoints: [900] }));
    expect(short).toMatchObject({ code: "axis-too-short", details: { quantity: "rpm", count: 1 } });
    expect(short.message).toMatch(/^createAxis: rpm needs at least 2 breakpoints, got 1;/);
    const none = refusal(() => createAxis({ quantity: "rpm", breakpoints: undefined as never }));
    expect(none).toMatchObject({ code: "axis-too-short", details: { count: 0 } });
  });

  test("too many breakpoints", () => {
    const long = refusal(() => createAxis({ quantity: "rpm", breakpoints: rising(257) }));
    expect(long).toMatchObject({ code: "axis-too-long", details: { quantity: "rpm", count: 257 } });
  });

  test.each([
    ["a repeat", [900, 1200, 1200], 2, 1200],
    ["a fall", [900, 800, 1300], 1, 900],
    ["no number", [900, Number.NaN, 1300], 1, 900],
    ["an infinite end", [900, Number.POSITIVE_INFINITY], 1, 900],
    ["an infinite beginning", [Number.NEGATIVE_INFINITY, 900], 0, Number.NEGATIVE_INFINITY],
    ["text", [900, "1200" as unknown as number], 1, 900],
  ])("%s, named by its place", (_, breakpoints, at, floor) => {
    const { code, message, details } = refusal(() => createAxis({ quantity: "rpm", breakpoints }));
    expect(code).toBe("axis-not-rising");
    expect(message).toContain(`createAxis: rpm breakpoints[${at}] must be a finite number above ${floor} rpm, got`);
    expect(details).toEqual({ quantity: "rpm", at, value: breakpoints[at], floor });
  });

  test("a quantity that axes do not run along, and a unit that is another's", () => {
    const unknown = refusal(() => createAxis({ quantity: "lambda" as AxisQuantity, breakpoints: [1, 2] }));
    expect(unknown.code).toBe("unknown-choice");
    expect(unknown.message).toContain("one of rpm, manifold-pressure,");
    expect(refusal(() => createAxis({ quantity: "manifold-pressure", unit: "psi", breakpoints: [1, 2] })).code).toBe(
      "unit-not-canonical",
    );
  });
});

test("axes are the same by quantity and breakpoints, whatever object they are", () => {
  const make = (quantity: AxisQuantity, ...breakpoints: number[]) => createAxis({ quantity, breakpoints });
  const axis = make("rpm", 900, 1200, 6000);
  expect(sameAxis(axis, axis)).toBe(true);
  expect(sameAxis(axis, make("rpm", 900, 1200, 6000))).toBe(true);
  expect(sameAxis(axis, make("air-charge", 900, 1200, 6000))).toBe(false);
  expect(sameAxis(axis, make("rpm", 900, 1200))).toBe(false);
  expect(sameAxis(make("rpm", 900, 1200), axis)).toBe(false);
  expect(sameAxis(axis, make("rpm", 900, 1200, 6001))).toBe(false);
});

test("an axis made from an axis is the same", () => {
  fc.assert(
    fc.property(axes("throttle-position"), (axis) => {
      expect(createAxis(axis)).toEqual(axis);
      expect(sameAxis(createAxis(axis), axis)).toBe(true);
    }),
    { numRuns: 50 },
  );
});
