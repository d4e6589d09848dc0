import { describe, expect, test } from "vitest";
import { gridSide } from "../numeric/grid-penalty.ts";
import { type PenalisedGrid, solveGrid } from "../numeric/penalised-grid.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { countedCells, type Judge, judgeAlike, judgeByBand, judgeByFields } from "./judge-smoothing.ts";

const grid = (columns: number, rows: number, values: readonly number[], more: Partial<PenalisedGrid> = {}) => ({
  x: gridSide([...Array(columns).keys()], 1),
  y: gridSide([...Array(rows).keys()], 1),
  values: Float64Array.from(values),
  weights: new Float64Array(columns * rows).fill(1),
  free: new Uint8Array(columns * rows).fill(1),
  ...more,
});

const byFields = (one: PenalisedGrid): Judge => judgeByFields("test", one);
const close = (value: number) => expect.closeTo(value, 10);

describe.each([
  ["by band", judgeByBand],
  ["by fields", byFields],
] as const)("on paper, %s", (_, judge) => {
  test("one cell between four that stand fast", () => {
    // The bend couples it with itself by 1 + 4 + 1, so w / (w + 6·s) of it is kept, and of 7 over zeros the rest goes.
    const free = Uint8Array.of(0, 0, 1, 0, 0);
    const weights = Float64Array.of(1, 1, 3, 1, 1);
    const judged = judge(grid(5, 1, [0, 0, 7, 0, 0], { free, weights }));
    expect(judged(1, 0)).toEqual({ misfit: close(3 * (7 * (6 / 9)) ** 2), dimension: close(3 / 9) });
    expect(judged(2, 5)).toEqual({ misfit: close(3 * (7 * (12 / 15)) ** 2), dimension: close(3 / 15) });
  });

  test("cells that do not touch add up, and those of no weight count nothing", () => {
    // Two rows are not coupled along rpm; in the second the cell is filled in from the others whatever it holds.
    const free = Uint8Array.of(0, 0, 1, 0, 0, 0, 0, 1, 0, 0);
    const weights = Float64Array.of(1, 1, 1, 1, 1, 1, 1, 0, 1, 1);
    const values = [0, 0, 7, 0, 0, 0, 0, 50, 0, 0];
    expect(judge(grid(5, 2, values, { free, weights }))(1, 0)).toEqual({ misfit: close(36), dimension: close(1 / 7) });
    const both = judge(grid(5, 2, values, { free }))(1, 0);
    expect(both).toEqual({ misfit: close(36 + (50 * (6 / 7)) ** 2), dimension: close(2 / 7) });
  });

  test("along load as along rpm", () => {
    const free = Uint8Array.of(0, 0, 1, 0, 0);
    expect(judge(grid(1, 5, [0, 0, 7, 0, 0], { free }))(0, 2)).toEqual({
      misfit: close((7 * (12 / 13)) ** 2),
      dimension: close(1 / 13),
    });
  });
});

test("cells that count may move and have some weight", () => {
  const one = grid(4, 1, [1, 2, 3, 4], { free: Uint8Array.of(1, 1, 0, 1), weights: Float64Array.of(1, 0, 1, 0.5) });
  expect(countedCells(one)).toEqual([0, 3]);
});

test("alike, three cells keep all but their one bend", () => {
  // Of a bend d a share 1 / (1 + 6·s) is left, of constants and lines all: 2 + 1/7, and of (0, 3, 0) d = −6 the rest.
  const { misfit, dimension } = judgeAlike(grid(3, 1, [0, 3, 0]))(1, 0);
  expect(dimension).toBeCloseTo(2 + 1 / 7, 12);
  // The moves are 6/7, −12/7, 6/7.
  expect(misfit).toBeCloseTo((36 + 144 + 36) / 49, 12);
});

describe("laws", () => {
  const random = seededRandom(5);
  const values = Array.from({ length: 42 }, () => 10 * random.uniform());
  const weights = Float64Array.from(values, (_, at) => (at % 9 === 0 ? 0 : 0.5 + random.uniform()));
  const free = Uint8Array.from(values, (_, at) => (at % 7 === 3 ? 0 : 1));

  test("alike and by band say the same of a whole grid", () => {
    const whole = grid(7, 6, values, { weights: new Float64Array(42).fill(2) });
    for (const [x, y] of [[0.1, 0.1], [3, 40], [1000, 0]] as const) // biome-ignore format: pairs
      expect(judgeByBand(whole)(x, y)).toEqual({
        misfit: expect.closeTo(judgeAlike(whole)(x, y).misfit, 8),
        dimension: expect.closeTo(judgeAlike(whole)(x, y).dimension, 8),
      });
  });

  test("the misfit is that of the smoothed cells, the dimension how much each follows itself", () => {
    const part = grid(7, 6, values, { weights, free });
    const counted = countedCells(part);
    const strengths = { x: { ...part.x, strength: 3 }, y: { ...part.y, strength: 0.5 } };
    const smoothed = (of: Float64Array) => solveGrid("test", { ...part, ...strengths, values: of });
    const smooth = smoothed(part.values);
    const misfit = counted.reduce((sum, at) => sum + weights[at]! * (smooth[at]! - values[at]!) ** 2, 0);
    const dimension = counted.reduce((sum, at) => {
      const raised = Float64Array.from(values, (value, other) => (other === at ? value + 1 : value));
      return sum + smoothed(raised)[at]! - smooth[at]!;
    }, 0);
    expect(judgeByBand(part)(3, 0.5)).toEqual({
      misfit: expect.closeTo(misfit, 8),
      dimension: expect.closeTo(dimension, 8),
    });
    const estimate = byFields(part)(3, 0.5);
    expect(estimate.misfit).toBeCloseTo(misfit, 8);
    // Two fields of some thirty cells: their scatter is about 2 of some 16; fields of one sign would say some 30.
    expect(Math.abs(estimate.dimension - dimension)).toBeLessThan(4);
  });
});
