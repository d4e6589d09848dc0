import { expect, test } from "vitest";
import { seededRandom } from "../../numeric/seeded-random.ts";
import type { CellQuantity } from "../../values/quantities.ts";
import { trimBetween, trimmed } from "./cylinder-trim.ts";

test("a trim is a share of the cell, and on a trim a share of the fuel", () => {
  expect(trimmed("fuel-mass", 8, 25)).toBe(10);
  expect(trimmed("fuel-mass", -8, 25)).toBe(-10);
  // 25 % more than 120 % of the fuel is 150 % of it.
  expect(trimmed("trim", 20, 25)).toBe(50);
});

test("a trim of 0 leaves the cell bit for bit, and is what no change comes to, of nothing too", () => {
  for (const base of [0.1, -0.3, 0, -0]) {
    expect(trimmed("factor", base, 0)).toBe(base);
    expect(trimBetween("factor", base, base)).toBe(0);
  }
  expect(trimBetween("trim", -100, -100)).toBe(0);
});

test("no trim makes something of nothing", () => {
  expect(trimBetween("fuel-mass", 0, 4)).toBeNaN();
  expect(trimBetween("trim", -100, 5)).toBeNaN();
  expect(trimBetween("trim", 0, 5)).toBe(5);
  expect(trimBetween("fuel-mass", -100, 5)).toBe(-105);
});

/** Where the quotient as it is computed misses the wanted value, and a number beside it does not. */
test.each<[CellQuantity, number, number]>([
  ["factor", 0.1, 1.5],
  ["factor", 0.1, 2.9],
  ["factor", 0.1, -1.6],
  ["factor", 0.2, -1.7],
  ["factor", -3, -1],
  ["factor", -3, 1],
  ["factor", -1.8, -2.9],
  ["factor", -1.2, -1.7],
  ["trim", 0, -1.8],
  ["trim", 0, 3.4],
  ["trim", -3, 0.5],
  ["trim", -1.8, -2.9],
])("a %s of %d comes to %d bit for bit", (quantity, base, wanted) => {
  const scale = quantity === "trim" ? 100 + base : base;
  const quotient = ((wanted - base) / scale) * 100;
  expect(trimmed(quantity, base, quotient)).not.toBe(wanted);
  const trim = trimBetween(quantity, base, wanted);
  expect(trimmed(quantity, base, trim)).toBe(wanted);
  // Some units in the last place.
  expect(Math.abs(trim / quotient - 1)).toBeLessThan(1e-14);
});

test("where no number hits, the nearest is taken and not the quotient", () => {
  // −110 % of −3 is 3.3, and −3 and 3.3 are 0.3 but for rounding.
  expect(((0.3 - -3) / -3) * 100).not.toBe(-110);
  expect(trimBetween("factor", -3, 0.3)).toBe(-110);
  expect(trimmed("factor", -3, -110)).not.toBe(0.3);
  expect(trimmed("factor", -3, -110)).toBeCloseTo(0.3, 15);
});

/** A number that is not 0, and those up to three floating point numbers away on either side. */
function neighbours(value: number): number[] {
  const bits = new BigInt64Array(new Float64Array([value]).buffer)[0]!;
  return Array.from({ length: 7 }, (_, at) => new Float64Array(new BigInt64Array([bits + BigInt(at - 3)]).buffer)[0]!);
}

test("no number beside a trim comes nearer to what is wanted", () => {
  const random = seededRandom(3);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  let inexact = 0;
  const beaten: [number, number][] = [];
  for (let run = 0; run < 2000; run++) {
    const quantity = run % 2 === 0 ? "factor" : "trim";
    const base = between(-30, 60);
    const wanted = between(-90, 200);
    const miss = (trim: number) => Math.abs(trimmed(quantity, base, trim) - wanted);
    const trim = trimBetween(quantity, base, wanted);
    if (miss(trim) > 0) inexact++;
    if (miss(trim) > Math.min(...neighbours(trim).map(miss))) beaten.push([base, wanted]);
  }
  expect(beaten).toEqual([]);
  // So far beyond the base the step of a trim is often too large to hit.
  expect(inexact).toBeGreaterThan(100);
});
