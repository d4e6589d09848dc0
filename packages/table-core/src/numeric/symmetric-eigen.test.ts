import fc from "fast-check";
import { expect, test } from "vitest";
import { FuelwrightError } from "../values/errors.ts";
import { symmetricEigen } from "./symmetric-eigen.ts";

test("a case on paper", () => {
  const { values, vectors } = symmetricEigen(Float64Array.of(2, 1, 1, 2), 2);
  expect([...values]).toEqual([1, 3].map((value) => expect.closeTo(value, 14)));
  expect(Math.abs(vectors[0]! + vectors[1]!)).toBeLessThan(1e-15);
});

test("vectors are orthonormal and put the matrix together again", () => {
  const number = fc.oneof(fc.double({ min: -5, max: 5, noNaN: true }), fc.constantFrom(0, 1));
  fc.assert(
    fc.property(
      fc
        .integer({ min: 1, max: 9 })
        .chain((n) => fc.tuple(fc.constant(n), fc.array(number, { minLength: n * n, maxLength: n * n }))),
      ([n, list]) => {
        const matrix = Float64Array.from(list, (_, at) => list[Math.max(at, (at % n) * n + Math.floor(at / n))]!);
        const { values, vectors } = symmetricEigen(matrix, n);
        for (let i = 0; i < n; i++)
          for (let j = 0; j < n; j++) {
            let dot = 0;
            let element = 0;
            for (let k = 0; k < n; k++) {
              dot += vectors[i * n + k]! * vectors[j * n + k]!;
              element += values[k]! * vectors[k * n + i]! * vectors[k * n + j]!;
            }
            expect(Math.abs(dot - (i === j ? 1 : 0))).toBeLessThan(1e-13);
            expect(Math.abs(element - matrix[i * n + j]!)).toBeLessThan(1e-12);
            if (i > 0) expect(values[i]).toBeGreaterThanOrEqual(values[i - 1]!);
          }
      },
    ),
    { numRuns: 1000 },
  );
});

test("the eigenvalues of the discrete Laplacian are known in closed form", () => {
  // Source: 2 − 2 cos(kπ/(n+1)) for the matrix with 2 on and −1 beside the diagonal (Golub & Van Loan 2013, 4.8).
  const n = 40;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    matrix[i * n + i] = 2;
    if (i > 0) matrix[i * n + i - 1] = matrix[(i - 1) * n + i] = -1;
  }
  symmetricEigen(matrix, n).values.forEach((value, k) => {
    expect(value).toBeCloseTo(2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1)), 13);
  });
});

test("numbers that are not finite are refused", () => {
  expect(() => symmetricEigen(Float64Array.of(1, 2, 3, 2, Number.NaN, 1, 3, 1, 2), 3)).toThrow(FuelwrightError);
});
