import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { requireUse } from "../../testing/answer.ts";
import { axes, extremeAxes, rpmAxes } from "../../testing/arbitraries.ts";
import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { applyPenalty, gridSide } from "./grid-penalty.ts";
import { bandNumbering, chooseMethod, gridBand, type PenalisedGrid, solveGrid, startValues } from "./penalised-grid.ts";

const strengths: fc.Arbitrary<number> = fc.constantFrom(0, 0.01, 1, 30, 1e4);

/** Grids with random values, weights (a third of them 0) and held cells (none to most). */
function grids(
  axis: () => fc.Arbitrary<Axis> = rpmAxes,
  strength: fc.Arbitrary<number> = strengths,
): fc.Arbitrary<PenalisedGrid> {
  return fc.tuple(axis(), axis(), strength, strength).chain(([x, y, sx, sy]) => {
    const size = x.breakpoints.length * y.breakpoints.length;
    const list = <T>(one: fc.Arbitrary<T>) => fc.array(one, { minLength: size, maxLength: size });
    return fc
      .record({
        values: list(fc.double({ min: -20, max: 20, noNaN: true })),
        weights: list(fc.oneof(fc.constant(0), fc.double({ min: 0.05, max: 4, noNaN: true }), fc.constant(1))),
        free: fc.oneof(
          list(fc.constantFrom(0, 1)),
          list(fc.constantFrom(1, 1, 1, 1, 0)),
          fc.constant(new Array(size).fill(1)),
        ),
      })
      .map(({ values, weights, free }) => ({
        x: gridSide(x.breakpoints, sx),
        y: gridSide(y.breakpoints, sy),
        values: Float64Array.from(values),
        weights: Float64Array.from(weights),
        free: Uint8Array.from(free),
      }));
  });
}

/** The answer, or null where it is refused. */
function attempt(grid: PenalisedGrid, method?: Parameters<typeof solveGrid>[2]): Float64Array | null {
  try {
    return solveGrid("test", grid, method);
  } catch (error) {
    if (error instanceof FuelwrightError && error.code === "not-determined") return null;
    throw error;
  }
}

/** w·(values − z) less half the roughness's gradient: 0 in every free cell at the minimum. */
function gradient(grid: PenalisedGrid, z: Float64Array): Float64Array {
  const out = new Float64Array(z.length);
  applyPenalty(grid, z, out);
  return out.map((value, at) =>
    grid.free[at] ? (grid.weights[at]! > 0 ? grid.weights[at]! * (grid.values[at]! - z[at]!) : 0) - value : 0,
  );
}

/** Largest of the terms that cancel in the gradient, for its tolerance. */
const stiffness = (grid: PenalisedGrid) =>
  [grid.x, grid.y].reduce(
    (sum, side) => sum + side.strength * side.differences.reduce((most, value) => Math.max(most, value * value), 0),
    4,
  );

test("at the answer no free cell can be moved for the better, and held cells have not moved", () => {
  let tried = 0;
  let solved = 0;
  fc.assert(
    fc.property(grids(), (grid) => {
      tried++;
      const z = attempt(grid);
      if (!z) return;
      solved++;
      z.forEach((value, at) => {
        if (!grid.free[at]) expect(value).toBe(grid.values[at]);
      });
      if (grid.x.strength === 0 && grid.y.strength === 0) return;
      // Values of 20 (filled-in ones may reach further), rounded in terms as large as the stiffness.
      const reach = z.reduce((most, value) => Math.max(most, Math.abs(value)), 20);
      for (const slope of gradient(grid, z)) expect(Math.abs(slope)).toBeLessThan(1e-13 * reach * stiffness(grid));
    }),
    { numRuns: 1000 },
  );
  expect(solved).toBeGreaterThan(tried / 2);
});

test("all methods agree", () => {
  fc.assert(
    fc.property(grids(rpmAxes, fc.constantFrom(0.5, 10, 200)), (grid) => {
      const z = attempt(grid, "band");
      if (!z) return;
      const reach = z.reduce((most, value) => Math.max(most, Math.abs(value)), 20);
      attempt(grid, "gradients")!.forEach((value, at) => {
        expect(Math.abs(value - z[at]!)).toBeLessThan(1e-6 * reach);
      });
      const alike = { ...grid, weights: grid.weights.map(() => 0.7), free: grid.free.map(() => 1) };
      const byBand = solveGrid("test", alike, "band");
      solveGrid("test", alike, "eigenvectors").forEach((value, at) => {
        expect(Math.abs(value - byBand[at]!)).toBeLessThan(1e-8);
      });
    }),
    { numRuns: 1000 },
  );
});

test("what a cell of weight 0 holds does not matter, not in one bit", () => {
  fc.assert(
    fc.property(grids(), fc.double({ min: -1e12, max: 1e12, noNaN: true }), (grid, nonsense) => {
      if (grid.x.strength === 0 && grid.y.strength === 0) return;
      const other = grid.values.map((value, at) => (grid.free[at] && grid.weights[at] === 0 ? nonsense : value));
      expect(attempt({ ...grid, values: other })).toEqual(attempt(grid));
    }),
    { numRuns: 1000 },
  );
});

test("a plane stays, whatever is held, filled in and however strong the smoothing", () => {
  fc.assert(
    fc.property(
      grids(() => axes("rpm", { from: 500, grain: 25, maxLength: 7 }), fc.constantFrom(0, 1, 1e4, 1e8)),
      (grid) => {
        const columns = grid.x.points.length;
        const values = grid.values.map(
          (_, at) => 5 + 0.7 * grid.x.points[at % columns]! - 0.3 * grid.y.points[Math.floor(at / columns)]!,
        );
        const z = attempt({ ...grid, values });
        if (!z || (grid.x.strength === 0 && grid.y.strength === 0)) return;
        // Filled-in cells may lie far from the three that pin the plane down.
        const filled = grid.weights.some((weight, at) => weight === 0 && grid.free[at]);
        z.forEach((value, at) => {
          expect(Math.abs(value - values[at]!)).toBeLessThan(filled ? 1e-7 : 1e-11);
        });
      },
    ),
    { numRuns: 1000 },
  );
});

describe("what cannot be said is refused", () => {
  const line = (breakpoints: readonly number[], strength: number) => gridSide(breakpoints, strength);
  const five = [0, 1, 2, 3, 4];
  const grid = (known: readonly number[], sx: number, sy: number): PenalisedGrid => ({
    x: line(five, sx),
    y: line(five, sy),
    values: new Float64Array(25).fill(3),
    weights: Float64Array.from({ length: 25 }, (_, at) => (known.includes(at) ? 1 : 0)),
    free: new Uint8Array(25).fill(1),
  });

  test("no cell, too few, all in one row, all on two crossing lines through breakpoints", () => {
    for (const known of [[], [3], [0, 6, 19], [5, 6, 7, 8, 9], [10, 11, 12, 13, 14, 2, 7, 17, 22]])
      expect(() => solveGrid("smoothCells", grid(known, 1, 1))).toThrow(
        expect.objectContaining({
          code: "not-determined",
          message: expect.stringMatching(/^smoothCells: cells of weight/),
        }),
      );
    expect(solveGrid("smoothCells", grid([0, 4, 20, 24], 1, 1))[12]).toBeCloseTo(3, 9);
  });

  test("along one side, every row with less than two cells", () => {
    const twoEach = five.flatMap((row) => [5 * row, 5 * row + 3]);
    expect(solveGrid("smoothCells", grid(twoEach, 1, 0))[2]).toBeCloseTo(3, 9);
    expect(() => solveGrid("smoothCells", grid(twoEach.slice(1), 1, 0))).toThrow("along a row or column");
    const twoDown = five.flatMap((column) => [column, 15 + column]);
    expect(solveGrid("smoothCells", grid(twoDown, 0, 1))[7]).toBeCloseTo(3, 9);
    expect(() => solveGrid("smoothCells", grid(twoDown.slice(1), 0, 1))).toThrow("must pin down");
  });
});

test("sides of two breakpoints have nothing to smooth along", () => {
  const grid: PenalisedGrid = {
    x: gridSide([1000, 2000], 50),
    y: gridSide([20, 100], 50),
    values: Float64Array.of(1, 7, 3, 5),
    weights: new Float64Array(4).fill(1),
    free: new Uint8Array(4).fill(1),
  };
  expect([...solveGrid("test", grid)]).toEqual([1, 7, 3, 5]);
  expect(() => solveGrid("test", { ...grid, weights: Float64Array.of(1, 1, 1, 0) })).toThrow(
    "must pin down the others",
  );
});

test("gaps that differ a billionfold are solved, or refused with a reason, never answered wrongly", () => {
  const extreme = () => extremeAxes("rpm", { maxLength: 6 });
  let tried = 0;
  let solved = 0;
  fc.assert(
    fc.property(grids(extreme, fc.constantFrom(0.1, 100)), (grid) => {
      tried++;
      let z: Float64Array | null;
      try {
        z = attempt(grid);
      } catch (error) {
        expect(error).toMatchObject({ code: "axis-too-uneven" });
        return;
      }
      if (!z) return;
      solved++;
      // The weighted mean of what was moved by nothing held is kept: the direction in which no bend tells anything.
      if (grid.free.every((one) => one === 1)) {
        const sum = z.reduce(
          (total, value, at) =>
            total + grid.weights[at]! * (value - (grid.weights[at]! > 0 ? grid.values[at]! : value)),
          0,
        );
        expect(Math.abs(sum)).toBeLessThan(1e-5);
      }
      for (const value of z) expect(Number.isFinite(value)).toBe(true);
    }),
    { numRuns: 1000 },
  );
  requireUse(solved, tried, 0.03);
});

test("large grids: steps where they converge, the band where they do not", () => {
  const n = 72;
  const points = Array.from({ length: n }, (_, i) => i + 0.3 * Math.sin(i));
  const make = (blank: (row: number, column: number) => boolean, strength: number): PenalisedGrid => ({
    x: gridSide(points, strength),
    y: gridSide(points, strength),
    values: Float64Array.from({ length: n * n }, (_, at) => 10 + Math.sin(at / 9) + Math.cos(at % n)),
    weights: Float64Array.from({ length: n * n }, (_, at) => (blank(Math.floor(at / n), at % n) ? 0 : 1)),
    free: new Uint8Array(n * n).fill(1),
  });
  const sparse = make((row, column) => (row * 7 + column * 3) % 5 === 0, 100);
  const hole = make((row, column) => row > 10 && row < 60 && column > 10 && column < 60, 0.01);
  for (const grid of [sparse, hole]) {
    const z = solveGrid("test", grid);
    const byBand = solveGrid("test", grid, "band");
    let worst = 0;
    z.forEach((value, at) => {
      worst = Math.max(worst, Math.abs(value - byBand[at]!));
    });
    expect(worst).toBeLessThan(1e-6);
  }
});

/** A grid of gentle hills on uneven breakpoints, all free, weights alternating unless said. */
function hills(
  columns: number,
  rows: number,
  { strengths = [3, 5], ...parts }: Partial<PenalisedGrid> & { strengths?: readonly [number, number] } = {},
): PenalisedGrid {
  const points = (count: number) => Array.from({ length: count }, (_, i) => i + 0.3 * Math.sin(i));
  const size = columns * rows;
  return {
    x: gridSide(points(columns), strengths[0]),
    y: gridSide(points(rows), strengths[1]),
    values: Float64Array.from({ length: size }, (_, at) => 10 + Math.sin(at / 2) + Math.cos(at % columns)),
    weights: Float64Array.from({ length: size }, (_, at) => 1 + (at % 3)),
    free: new Uint8Array(size).fill(1),
    ...parts,
  };
}

test("a method is chosen by what it costs: equal weights at once, a band while it is small, then steps", () => {
  const alike = (size: number, weight = 1) => new Float64Array(size).fill(weight);
  expect(chooseMethod(hills(8, 6, { weights: alike(48) }))).toBe("eigenvectors");
  expect(chooseMethod(hills(90, 90, { weights: alike(8100, 0.2) }))).toBe("eigenvectors");
  expect(chooseMethod(hills(8, 6))).toBe("band");
  expect(chooseMethod(hills(8, 6, { weights: alike(48, 0) }))).toBe("band");
  expect(chooseMethod(hills(8, 6, { weights: alike(48), free: new Uint8Array(48).fill(1, 1) }))).toBe("band");
  // 3e7 multiply-adds: cells × band², the band twice the shorter side.
  expect(chooseMethod(hills(60, 45))).toBe("band");
  expect(chooseMethod(hills(45, 60))).toBe("band");
  expect(chooseMethod(hills(60, 60))).toBe("gradients");
  expect(chooseMethod(hills(250, 32))).toBe("gradients");
  expect(chooseMethod(hills(250, 30))).toBe("band");
  expect(chooseMethod(hills(60, 60, { free: new Uint8Array(3600).fill(1, 1000) }))).toBe("gradients");
  expect(chooseMethod(hills(60, 60, { free: new Uint8Array(3600).fill(1, 1800) }))).toBe("band");
});

test("free cells are numbered along the shorter side, and the band reaches as far as they bend together", () => {
  const free = new Uint8Array(12).fill(1);
  free[5] = 0;
  const wide = bandNumbering(hills(4, 3, { free }));
  // Columns of three: 0 4 8, 1 – 9, 2 6 10, 3 7 11.
  expect([...wide.number]).toEqual([0, 3, 5, 8, 1, -1, 6, 9, 2, 4, 7, 10]);
  expect([wide.size, wide.band]).toEqual([11, 6]);
  const high = bandNumbering(hills(3, 4, { free }));
  expect([...high.number]).toEqual([0, 1, 2, 3, 4, -1, 5, 6, 7, 8, 9, 10]);
  expect([high.size, high.band]).toEqual([11, 5]);
  expect(bandNumbering(hills(5, 5, { strengths: [2, 0] })).band).toBe(2);
  expect(bandNumbering(hills(5, 5, { strengths: [0, 2] })).band).toBe(10);
  expect(bandNumbering(hills(5, 2)).band).toBe(4);
});

test("the band matrix is weights and roughness: it takes moves to what applying the penalty gives", () => {
  for (const strengths of [
    [3, 5],
    [3, 0],
    [0, 5],
  ] as const) {
    // biome-ignore format: one line
    const free = Uint8Array.from({ length: 30 }, (_, at) => (at % 7 === 3 ? 0 : 1));
    const grid = hills(6, 5, { strengths, free });
    const numbering = bandNumbering(grid);
    const { band, values } = gridBand(grid, numbering);
    const moves = Float64Array.from({ length: 30 }, (_, at) => (free[at] ? Math.sin(3 * at) : 0));
    const wanted = new Float64Array(30);
    applyPenalty(grid, moves, wanted);
    numbering.number.forEach((i, at) => {
      if (i < 0) return;
      let sum = 0;
      numbering.number.forEach((j, other) => {
        const [above, below] = [Math.max(i, j), Math.min(i, j)];
        if (below >= 0 && above - below <= band) sum += values[above * band + below + band]! * moves[other]!;
      });
      expect(sum).toBeCloseTo(wanted[at]! + grid.weights[at]! * moves[at]!, 11);
    });
  }
});

test("a free block far from the sides is solved as if the grid ended two cells beyond it", () => {
  const [columns, rows] = [15, 13];
  const inside = (at: number, margin: number) => {
    const [column, row] = [at % columns, Math.floor(at / columns)];
    return column >= 6 - margin && column < 10 + margin && row >= 5 - margin && row < 8 + margin;
  };
  const all = Array.from({ length: columns * rows }, (_, at) => at);
  const whole = hills(columns, rows, { free: Uint8Array.from(all, (at) => Number(inside(at, 0))) });
  const z = solveGrid("test", whole);
  for (const slope of gradient(whole, z)) expect(Math.abs(slope)).toBeLessThan(1e-10);
  const moved = all.filter((at) => z[at] !== whole.values[at]);
  expect(moved).toEqual(all.filter((at) => inside(at, 0)));
  // What lies farther away does not matter, not in one bit.
  const elsewhere = { ...whole, values: whole.values.map((value, at) => (inside(at, 2) ? value : 1e6 * value)) };
  const other = solveGrid("test", elsewhere);
  for (const at of moved) expect(other[at]).toBe(z[at]);
});

test("the search begins at the values, and where there is none at the mean of those that count", () => {
  const free = Uint8Array.of(1, 1, 0, 1);
  const weights = Float64Array.of(0, 2, 0, 0);
  const grid = hills(2, 2, { values: Float64Array.of(100, 3, 5, -7), weights, free });
  expect([...startValues(grid)]).toEqual([4, 3, 5, 4]);
});

test("steps are taken where they are asked for: they settle by themselves, within their accuracy", () => {
  const grids = [
    hills(30, 30),
    hills(30, 30, { strengths: [400, 0.01] }),
    hills(40, 44, { free: Uint8Array.from({ length: 1760 }, (_, at) => Number(at > 80)) }),
    hills(44, 44, { weights: Float64Array.from({ length: 1936 }, (_, at) => Number(at % 4 > 0)) }),
  ];
  for (const grid of grids) {
    const steps = solveGrid("test", grid, "gradients");
    const band = solveGrid("test", grid, "band");
    let worst = 0;
    steps.forEach((value, at) => {
      worst = Math.max(worst, Math.abs(value - band[at]!));
    });
    expect(worst).toBeLessThan(1e-7);
    // Had a band taken over, there would be no difference at all.
    expect(worst).toBeGreaterThan(0);
  }
});

test("strengths so great that rounding hides the cells are refused, and the sentence says them", () => {
  const grid = hills(6, 5, { strengths: [1e17, 2e17] });
  expect(() => solveGrid("smoothCells", grid)).toThrow(
    expect.objectContaining({
      code: "axis-too-uneven",
      details: { xStrength: 1e17, yStrength: 2e17 },
      message: expect.stringMatching(/^smoothCells: .*strengths of 100000000000000000 and 200000000000000000/),
    }),
  );
  // The same bends are plain to see from cells of a greater weight, and cells that are held do not count.
  const heavy = hills(6, 5, { strengths: [1e17, 2e17], weights: new Float64Array(30).fill(1e9) });
  expect(solveGrid("smoothCells", heavy).every(Number.isFinite)).toBe(true);
  const light = heavy.weights.map((weight, at) => (at % 2 ? weight : 0));
  expect(solveGrid("smoothCells", { ...heavy, weights: light }).every(Number.isFinite)).toBe(true);
});
