import fc from "fast-check";
import { expect, test } from "vitest";
import { FuelwrightError } from "../values/errors.ts";
import { type BandMatrix, factorBand } from "./banded-cholesky.ts";

/** Full rows of a band matrix. */
function rowsOf({ band, values }: BandMatrix): number[][] {
  const size = values.length / (band + 1);
  const at = (i: number, j: number) => (i - j > band ? 0 : values[i * band + j + band]!);
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) => at(Math.max(i, j), Math.min(i, j))),
  );
}

/** Inverse and determinant by elimination with pivots, on full rows: another way, for small sizes. */
function invertFull(rows: number[][]): { inverse: number[][]; logDeterminant: number } {
  const size = rows.length;
  const work = rows.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDeterminant = 0;
  for (let c = 0; c < size; c++) {
    let best = c;
    for (let r = c; r < size; r++) if (Math.abs(work[r]![c]!) > Math.abs(work[best]![c]!)) best = r;
    [work[c], work[best]] = [work[best]!, work[c]!];
    const pivot = work[c]![c]!;
    logDeterminant += Math.log(Math.abs(pivot));
    work[c] = work[c]!.map((value) => value / pivot);
    for (let r = 0; r < size; r++) {
      if (r === c) continue;
      const factor = work[r]![c]!;
      work[r] = work[r]!.map((value, j) => value - factor * work[c]![j]!);
    }
  }
  return { inverse: work.map((row) => row.slice(size)), logDeterminant };
}

/** Random band matrices, made definite by diagonal dominance. */
const definite = fc.tuple(fc.integer({ min: 1, max: 21 }), fc.integer({ min: 0, max: 9 })).chain(([size, band]) =>
  fc
    .array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: size * (band + 1),
      maxLength: size * (band + 1),
    })
    .map((list): BandMatrix => {
      const values = Float64Array.from(list);
      for (let i = 0; i < size; i++) values[i * band + i + band] = 2 * band + 0.5 + Math.abs(list[i]!);
      return { band, values };
    }),
);

test("a case on paper", () => {
  const factor = factorBand({ band: 1, values: Float64Array.of(0, 4, 2, 10, 3, 10) });
  // 4·(10·10 − 9) − 2·2·10 = 324; the inverse's first element is (100 − 9)/324.
  expect(factor.logDeterminant).toBeCloseTo(Math.log(324), 13);
  expect([...factor.solve([8, 37, 29])]).toEqual([0.5, 3, 2].map((x) => expect.closeTo(x, 13)));
  expect(factor.inverse().values[1]).toBeCloseTo(91 / 324, 14);
});

test("solutions, determinant and inverse agree with elimination on the full matrix", () => {
  fc.assert(
    fc.property(definite, (matrix) => {
      const rows = rowsOf(matrix);
      const size = rows.length;
      const full = invertFull(rows);
      const factor = factorBand(matrix);
      const right = Float64Array.from({ length: size }, (_, i) => Math.sin(i + 1));
      const x = factor.solve(right);
      const inverse = rowsOf(factor.inverse());
      expect(factor.size).toBe(size);
      expect(factor.logDeterminant).toBeCloseTo(full.logDeterminant, 10);
      for (let i = 0; i < size; i++) {
        expect(x[i]).toBeCloseTo(
          full.inverse[i]!.reduce((sum, value, j) => sum + value * right[j]!, 0),
          11,
        );
        for (let j = Math.max(0, i - matrix.band); j <= i; j++)
          expect(inverse[i]![j]).toBeCloseTo(full.inverse[i]![j]!, 11);
      }
      expect(factor.solve(right, right)).toBe(right);
      expect(right).toEqual(x);
    }),
    { numRuns: 1000 },
  );
});

test("a matrix that is not definite is refused with the row where it shows", () => {
  fc.assert(
    fc.property(definite, fc.nat(), (matrix, seed) => {
      const { band } = matrix;
      const size = matrix.values.length / (band + 1);
      const row = seed % size;
      const values = matrix.values.slice();
      values[row * band + row + band] = -1e-3;
      expect(() => factorBand({ band, values })).toThrow(FuelwrightError);
      values[row * band + row + band] = Number.NaN;
      expect(() => factorBand({ band, values })).toThrow("must be positive definite");
    }),
    { numRuns: 300 },
  );
});

test("a singular matrix is refused although rounding leaves its last pivot above zero", () => {
  // Second differences alone: lines are their kernel.
  const size = 12;
  const values = new Float64Array(size * 3);
  for (let i = 0; i + 2 < size; i++)
    [1, -2, 1].forEach((a, p) => {
      [1, -2, 1].forEach((b, q) => {
        if (q <= p) values[(i + p) * 2 + i + q + 2]! += a * b * 0.1;
      });
    });
  expect(() => factorBand({ band: 2, values })).toThrow(
    expect.objectContaining({ code: "not-definite", details: expect.objectContaining({ size }) }),
  );
});

test("the size of a table with both sides of 64 is no trouble", () => {
  const band = 128;
  const size = 4096;
  const values = new Float64Array(size * (band + 1));
  const set = (i: number, j: number, value: number) => {
    if (j >= 0) values[i * band + j + band] = value;
  };
  for (let i = 0; i < size; i++) {
    set(i, i, 14 + Math.sin(i));
    for (const [distance, value] of [
      [1, -4],
      [2, 1],
      [64, -4],
      [128, 1],
    ] as const)
      set(i, i - distance, 0.9 * value);
  }
  const factor = factorBand({ band, values });
  const right = Float64Array.from({ length: size }, (_, i) => Math.cos(i));
  const x = factor.solve(right);
  let worst = 0;
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let j = Math.max(0, i - band); j <= Math.min(size - 1, i + band); j++)
      sum += values[Math.max(i, j) * band + Math.min(i, j) + band]! * x[j]!;
    worst = Math.max(worst, Math.abs(sum - right[i]!));
  }
  expect(worst).toBeLessThan(1e-12);
  // One column of the inverse by solving for it.
  const unit = new Float64Array(size);
  unit[2000] = 1;
  const column = factor.solve(unit);
  const inverse = factor.inverse();
  for (const distance of [0, 1, 2, 63, 64, 127, 128])
    expect(inverse.values[(2000 + distance) * band + 2000 + band]).toBeCloseTo(column[2000 + distance]!, 13);
});
