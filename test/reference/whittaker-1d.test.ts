import { createTable, dividedDifferences, factorBand, smoothCells } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./whittaker-1d.json";

// Source: Eilers, A perfect smoother, Anal. Chem. 75 (2003) 3631; Whittaker 1923; solved by scipy.sparse with refinement
// (reference/whittaker-1d.json). Tolerance of the file: 1e-7 on z (1e-5 for lambda = 1e6), 1e-6 on the two summaries.
const cases = reference.cases.map((one) => ({ ...one, x: "x" in one && one.x ? one.x : one.y.map((_, i) => i) }));

const toleranceOf = (lambda: number) => (lambda === 1e6 ? 1e-5 : 1e-7);

describe.each(cases)("smoothing a row, $name", ({ order, lambda, x, y, w, z, effectiveDimension, looRmse }) => {
  const tolerance = toleranceOf(lambda);
  const n = y.length;
  const differences = dividedDifferences(x, order);
  const values = new Float64Array(n * (order + 1));
  w.forEach((weight, i) => {
    values[i * order + i + order] = weight;
  });
  for (let row = 0; row + order < n; row++)
    for (let a = 0; a <= order; a++)
      for (let b = 0; b <= a; b++)
        values[(row + a) * order + row + b + order]! +=
          lambda * differences[row * (order + 1) + a]! * differences[row * (order + 1) + b]!;
  const factor = factorBand({ band: order, values });

  test("the banded solution agrees, of any order", () => {
    const smooth = factor.solve(y.map((value, i) => w[i]! * value));
    smooth.forEach((value, i) => {
      expect(Math.abs(value - z[i]!)).toBeLessThanOrEqual(tolerance);
    });
    const { values: inverse } = factor.inverse();
    const leverage = w.map((weight, i) => weight * inverse[i * order + i + order]!);
    expect(Math.abs(leverage.reduce((sum, h) => sum + h, 0) / effectiveDimension - 1)).toBeLessThanOrEqual(1e-6);
    const used = y.flatMap((value, i) => (w[i]! > 0 ? [((value - smooth[i]!) / (1 - leverage[i]!)) ** 2] : []));
    const loo = Math.sqrt(used.reduce((sum, square) => sum + square, 0) / used.length);
    expect(Math.abs(loo / looRmse - 1)).toBeLessThanOrEqual(1e-6);
  });
});

test.each(cases.filter(({ order }) => order === 2))(
  "a one-row table smoothed agrees, $name",
  ({ lambda, x, y, w, z }) => {
    const n = y.length;
    const tolerance = toleranceOf(lambda);
    const table = createTable({
      id: "row",
      name: "invented",
      quantity: "factor",
      rpm: { quantity: "air-temperature", unit: "°C", breakpoints: x },
      cells: [y],
    });
    // λ on x as given is λ·s⁴ on x scaled by s to a mean spacing of 1.
    const rpmStrength = lambda * ((n - 1) / (x[n - 1]! - x[0]!)) ** 4;
    const smooth = smoothCells(table, { rpmStrength, loadStrength: 0, weights: w });
    smooth.cells.forEach((value, i) => {
      expect(Math.abs(value - z[i]!)).toBeLessThanOrEqual(tolerance);
    });
  },
);
