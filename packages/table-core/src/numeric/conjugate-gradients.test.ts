import fc from "fast-check";
import { expect, test } from "vitest";
import { conjugateGradients, type LinearMap } from "./conjugate-gradients.ts";

const copy: LinearMap = (x, out) => out.set(x);

test("a case on paper is solved in as many steps as it has unknowns", () => {
  const apply: LinearMap = ([x, y], out) => out.set([4 * x! + y!, x! + 3 * y!]);
  const found = conjugateGradients({
    apply,
    precondition: copy,
    right: Float64Array.of(1, 2),
    tolerance: 1e-12,
    mostSteps: 5,
  });
  expect(found.x[0]).toBeCloseTo(1 / 11, 12);
  expect(found.x[1]).toBeCloseTo(7 / 11, 12);
  expect(found).toMatchObject({ steps: 2, converged: true });
});

test("random definite systems are solved, from zero and from anywhere", () => {
  const number = fc.double({ min: -1, max: 1, noNaN: true });
  fc.assert(
    fc.property(
      fc
        .integer({ min: 1, max: 8 })
        .chain((n) => fc.tuple(fc.constant(n), fc.array(number, { minLength: n * n + n, maxLength: n * n + n }))),
      fc.boolean(),
      ([n, list], elsewhere) => {
        // B·Bᵀ + 1, led by its diagonal.
        const b = (i: number, j: number) => list[i * n + j]!;
        const element = (i: number, j: number) => {
          let sum = i === j ? 1 : 0;
          for (let k = 0; k < n; k++) sum += b(i, k) * b(j, k);
          return sum;
        };
        const apply: LinearMap = (x, out) => {
          for (let i = 0; i < n; i++) {
            out[i] = 0;
            for (let j = 0; j < n; j++) out[i]! += element(i, j) * x[j]!;
          }
        };
        const precondition: LinearMap = (x, out) => {
          for (let i = 0; i < n; i++) out[i] = x[i]! / element(i, i);
        };
        const wanted = Float64Array.from(list.slice(n * n));
        const right = new Float64Array(n);
        apply(wanted, right);
        const start = elsewhere ? { start: new Float64Array(n).fill(3) } : {};
        const found = conjugateGradients({ apply, precondition, right, ...start, tolerance: 1e-13, mostSteps: 60 });
        found.x.forEach((value, i) => {
          expect(value).toBeCloseTo(wanted[i]!, 9);
        });
      },
    ),
    { numRuns: 1000 },
  );
});

test("it says when the steps did not do, and nothing is done for a right side of zero", () => {
  const apply: LinearMap = (x, out) =>
    x.forEach((value, i) => {
      out[i] = value * (i + 1);
    });
  const right = new Float64Array(50).fill(1);
  expect(conjugateGradients({ apply, precondition: copy, right, tolerance: 1e-12, mostSteps: 3 })).toMatchObject({
    steps: 3,
    converged: false,
  });
  const none = conjugateGradients({
    apply,
    precondition: copy,
    right: new Float64Array(50),
    tolerance: 1e-12,
    mostSteps: 3,
  });
  expect(none).toMatchObject({ steps: 0, converged: true });
});
