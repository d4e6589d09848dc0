import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { evenStiffness, gridBends, gridPenalty } from "../evidence/bends.ts";
import { createGrid } from "../evidence/dynamics-pass.ts";
import { sumScattered } from "../evidence/scattered-sums.ts";
import { createAxis } from "../values/axis.ts";
import { chooseStrengths, fitAt, type NormalEquations } from "./restricted-likelihood.ts";
import { seededRandom } from "./seeded-random.ts";

const grid = createGrid(
  createAxis({ quantity: "rpm", breakpoints: [1000, 1600, 2500, 3100, 4000, 5200] }),
  createAxis({ quantity: "manifold-pressure", breakpoints: [30, 45, 55, 80, 100] }),
);
const bends = gridBends(grid);
const penalties = gridPenalty(grid, bends, evenStiffness(bends));

function sample(seed: number, count: number, scale = 1): NormalEquations {
  const random = seededRandom(seed);
  const x = Float64Array.from({ length: count }, () => 900 + 4500 * random.uniform());
  const y = Float64Array.from({ length: count }, () => 25 + 80 * random.uniform());
  const k = x.map((rpm, at) => 0.05 * Math.sin(rpm / 900) * (y[at]! / 60) + 0.02 * random.normal());
  return sumScattered(grid, { x, y, k, weight: new Float64Array(count).fill(scale) });
}

describe("chooseStrengths", () => {
  test("ends where no strength can be moved to a lower criterion", () => {
    fc.assert(
      fc.property(fc.nat(1000), (seed) => {
        const equations = sample(seed, 600);
        const best = chooseStrengths(equations, penalties, [1, 1, 0.01], { rounds: 200, tolerance: 1e-7 });
        best.strengths.forEach((strength, k) => {
          for (const factor of [0.7, 1.4]) {
            const moved = best.strengths.map((value, at) => (at === k ? value * factor : value));
            // Strengths at their bounds may want to go on; inside, the criterion is flat to second order.
            if (strength > 2e-5 && strength < 5e5)
              expect(fitAt(equations, penalties, moved).criterion).toBeGreaterThan(best.criterion - 1e-3);
          }
        });
      }),
      { numRuns: 15 },
    );
  });

  test("scaling all weights scales strengths and noise, and leaves cells and deviations", () => {
    const one = chooseStrengths(sample(3, 800), penalties, [1, 1, 0.01], { rounds: 100, tolerance: 1e-9 });
    const ten = chooseStrengths(sample(3, 800, 10), penalties, [10, 10, 0.1], { rounds: 100, tolerance: 1e-9 });
    ten.strengths.forEach((strength, k) => {
      expect(strength / one.strengths[k]!).toBeCloseTo(10, 4);
    });
    expect(ten.variance / one.variance).toBeCloseTo(10, 6);
    one.cells.forEach((cell, at) => {
      expect(ten.cells[at]).toBeCloseTo(cell, 8);
      const place = at * (one.inverse().band + 1) + one.inverse().band;
      const deviation = (fit: typeof one) => Math.sqrt(fit.variance * fit.inverse().values[place]!);
      expect(deviation(ten)).toBeCloseTo(deviation(one), 8);
    });
  });

  test("the criterion is that of the dense formula", () => {
    const equations = sample(8, 300);
    const strengths = [2, 0.7, 0.05];
    const n = grid.cells;
    const dense = (matrices: readonly { band: number; values: Float64Array }[], factors: readonly number[]) => {
      const a = Array.from({ length: n }, () => new Float64Array(n));
      matrices.forEach(({ band, values }, m) => {
        for (let i = 0; i < n; i++)
          for (let j = Math.max(0, i - band); j <= i; j++) {
            a[i]![j]! += factors[m]! * values[i * band + j + band]!;
            if (j < i) a[j]![i]! += factors[m]! * values[i * band + j + band]!;
          }
      });
      return a;
    };
    // ln det by elimination, and the solution beside it.
    const eliminate = (a: Float64Array[], b: Float64Array) => {
      let logDet = 0;
      const x = b.slice();
      for (let k = 0; k < n; k++) {
        logDet += Math.log(a[k]![k]!);
        for (let i = k + 1; i < n; i++) {
          const factor = a[i]![k]! / a[k]![k]!;
          for (let j = k; j < n; j++) a[i]![j]! -= factor * a[k]![j]!;
          x[i]! -= factor * x[k]!;
        }
      }
      for (let i = n - 1; i >= 0; i--) {
        for (let j = i + 1; j < n; j++) x[i]! -= a[i]![j]! * x[j]!;
        x[i]! /= a[i]![i]!;
      }
      return { logDet, x };
    };
    const prior = eliminate(dense(penalties, strengths), new Float64Array(n));
    const whole = eliminate(dense([equations.matrix, ...penalties], [1, ...strengths]), equations.right);
    const fitted = whole.x.reduce((sum, value, at) => sum + value * equations.right[at]!, 0);
    const expected =
      equations.count * Math.log((equations.square - fitted) / equations.count) + whole.logDet - prior.logDet;
    const fit = fitAt(equations, penalties, strengths);
    expect(fit.criterion).toBeCloseTo(expected, 7);
    fit.cells.forEach((cell, at) => {
      expect(cell).toBeCloseTo(whole.x[at]!, 11);
    });
  });
});
