import { describe, expect, test } from "vitest";
import { applyPenalty, gridSide } from "../numeric/grid-penalty.ts";
import type { PenalisedGrid } from "../numeric/penalised-grid.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { smoothWithin } from "./smooth-within.ts";

/** One row of cells a breakpoint apart, all of weight 1. */
const row = (values: readonly number[], more: Partial<PenalisedGrid> = {}): PenalisedGrid => ({
  x: gridSide([...values.keys()], 1),
  y: gridSide([0], 1),
  values: Float64Array.from(values),
  weights: new Float64Array(values.length).fill(1),
  free: new Uint8Array(values.length).fill(1),
  ...more,
});
const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 12));
const within = (grid: PenalisedGrid, mostChange: number) => Array.from(smoothWithin("test", grid, mostChange));

describe("three cells of 0, 3, 0: Σ moves² + (a − 2b + c)² is least", () => {
  test("freely at 6/7, 9/7, 6/7", () => {
    // With the bend d = −6 / (1 + 6): the moves are −d, 2d, −d.
    expect(within(row([0, 3, 0]), 2)).toEqual(close([6 / 7, 9 / 7, 6 / 7]));
  });

  test("with the middle held at its limit, and the others going further to meet it", () => {
    // b = 1.5, and 2a² + (2a − 3)² is least at a = 1.
    expect(within(row([0, 3, 0]), 1.5)).toEqual(close([1, 1.5, 1]));
    expect(within(row([0, -3, 0]), 1.5)).toEqual(close([-1, -1.5, -1]));
  });

  test("with all of them at their limit, once the middle is", () => {
    // b = 2, and 2a² + (2a − 4)² would be least at a = 4/3.
    expect(within(row([0, 3, 0]), 1)).toEqual([1, 2, 1]);
    expect(within(row([0, -3, 0]), 1)).toEqual([-1, -2, -1]);
  });

  test("with weights", () => {
    // b = 1.5, and 3a² + c² + (a + c − 3)² is least at c = 3a and 4a = 3 − a … : a = 3/7, c = 9/7.
    const weights = Float64Array.of(3, 1, 1);
    expect(within(row([0, 3, 0], { weights }), 1.5)).toEqual(close([3 / 7, 1.5, 9 / 7]));
  });

  test("with a cell that stands fast, which does not take part however far it is off", () => {
    // a = 0 is held; b at its limit of 1.5, and c² + (c − 3)² is least at c = 1.5.
    expect(within(row([0, 3, 0], { free: Uint8Array.of(0, 1, 1) }), 1.5)).toEqual(close([0, 1.5, 1.5]));
  });
});

/**
 * By how much a limited smoothing misses what makes it the best there is (Karush 1939): where a cell is not at its limit
 * the cost has no slope, and at a limit the slope leads beyond it.
 */
function missOfBest(grid: PenalisedGrid, z: Float64Array, mostChange: number): number {
  const pull = new Float64Array(z.length);
  applyPenalty(grid, z, pull);
  let miss = 0;
  z.forEach((value, at) => {
    const move = value - grid.values[at]!;
    if (!grid.free[at]) {
      miss = Math.max(miss, Math.abs(move));
      return;
    }
    const drive = -grid.weights[at]! * move - pull[at]!;
    // One rounding of a cell of up to 10.
    const onward = Math.abs(Math.abs(move) - mostChange) < 4e-15 ? Math.min(drive * Math.sign(move), 0) : drive;
    miss = Math.max(miss, Math.abs(onward), Math.abs(move) - mostChange);
  });
  return miss;
}

/** A grid at random, its strengths between 0.1 and `strongest`: some cells stand fast, some have no weight. */
function randomGrid(
  random: ReturnType<typeof seededRandom>,
  [columns, rows]: readonly [number, number],
  strongest: number,
): PenalisedGrid {
  const points = (count: number) => {
    let at = 0;
    return Array.from({ length: count }, () => (at += 0.5 + random.uniform()));
  };
  const strength = () => 0.1 * (10 * strongest) ** random.uniform();
  const cells = <T>(make: () => T) => Array.from({ length: columns * rows }, make);
  return {
    x: gridSide(points(columns), strength()),
    y: gridSide(points(rows), strength()),
    values: Float64Array.from(cells(() => 10 * random.uniform())),
    weights: Float64Array.from(cells(() => (random.uniform() < 0.1 ? 0 : 0.5 + random.uniform()))),
    free: Uint8Array.from(cells(() => (random.uniform() < 0.85 ? 1 : 0))),
  };
}

test("hundreds of cells come to their limits at once rather than one after another", () => {
  const random = seededRandom(17);
  const grid = randomGrid(random, [26, 18], 1000);
  const z = smoothWithin("test", grid, 0.2);
  const atLimit = z.filter((value, at) => Math.abs(value - grid.values[at]!) > 0.2 - 1e-9);
  // More than there are rounds.
  expect(atLimit.length).toBeGreaterThan(300);
  expect(missOfBest(grid, z, 0.2)).toBeLessThan(1e-9);
});

/** The strong ones want to be planes, far beyond their limits; cells held once have to be let go, some of them twice. */
test.each([
  { size: [5, 4], strongest: 100 },
  { size: [8, 1], strongest: 1e4 },
  { size: [4, 3], strongest: 1e7 },
] as const)(
  "it comes to the best there is, on all of 80 rough grids as strong as $strongest",
  ({ size, strongest }) => {
    const random = seededRandom(11);
    let limited = 0;
    for (let run = 0; run < 80; run++) {
      const grid = randomGrid(random, size, strongest);
      const mostChange = 0.3 + 3 * random.uniform();
      const z = smoothWithin("test", grid, mostChange);
      if (z.some((value, at) => Math.abs(value - grid.values[at]!) > mostChange - 1e-9)) limited++;
      // Some rounding of the bends, times the strength.
      expect(missOfBest(grid, z, mostChange)).toBeLessThan(1e-12 * Math.max(strongest, 100));
    }
    expect(limited).toBeGreaterThan(50);
  },
);
