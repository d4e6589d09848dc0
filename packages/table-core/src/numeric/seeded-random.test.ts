import { expect, test } from "vitest";
import { seededRandom } from "./seeded-random.ts";

const many = (count: number, draw: () => number) => Float64Array.from({ length: count }, draw);
const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
const share = (values: Float64Array, holds: (value: number) => boolean) => mean(values.map((v) => Number(holds(v))));

test("the same seed gives the same numbers, another one others", () => {
  const draw = (seed: number) => {
    const random = seededRandom(seed);
    return [random.uniform(), random.normal(), random.normal(), random.normal(), random.uniform()];
  };
  expect(draw(7)).toEqual(draw(7));
  expect(draw(7.9)).toEqual(draw(7));
  expect(new Set([...draw(7), ...draw(8)]).size).toBe(10);
});

test("uniform numbers fill [0, 1) evenly, and neighbours have nothing to do with one another", () => {
  const random = seededRandom(3);
  const values = many(40_000, random.uniform);
  expect(values.every((value) => value >= 0 && value < 1)).toBe(true);
  // Four standard errors of each share: √(0.1 · 0.9 / 40,000) = 0.0015.
  for (let tenth = 0; tenth < 10; tenth++)
    expect(share(values, (value) => Math.floor(10 * value) === tenth)).toBeCloseTo(0.1, 2);
  const together = mean(values.slice(1).map((value, at) => (value - 0.5) * (values[at]! - 0.5)));
  expect(Math.abs(together)).toBeLessThan((4 * (1 / 12)) / Math.sqrt(40_000));
});

// Shares of the normal distribution: Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.1.
test("normal numbers have the normal distribution's shares, and each is drawn anew", () => {
  const random = seededRandom(11);
  const values = many(40_000, random.normal);
  for (const [below, wanted] of [
    [-2, 0.02275],
    [-1, 0.15866],
    [0, 0.5],
    [0.5, 0.69146],
    [1, 0.84134],
    [2, 0.97725],
    [3, 0.99865],
  ] as const)
    expect(Math.abs(share(values, (value) => value < below) - wanted)).toBeLessThan(
      4 * Math.sqrt((wanted * (1 - wanted)) / 40_000),
    );
  expect(Math.abs(mean(values.map((value) => value * value)) - 1)).toBeLessThan(4 * Math.sqrt(2 / 40_000));
  for (const lag of [1, 2]) {
    const together = mean(values.slice(lag).map((value, at) => value * values[at]!));
    expect(Math.abs(together)).toBeLessThan(4 / Math.sqrt(40_000));
  }
  expect(new Set(values).size).toBe(40_000);
});

test("normal numbers come in pairs: each second one costs no draw", () => {
  const [one, other] = [seededRandom(5), seededRandom(5)];
  one.normal();
  const after = one.uniform();
  other.normal();
  other.normal();
  expect(other.uniform()).toBe(after);
});
