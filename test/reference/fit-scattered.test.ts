import { createAxis, fitScattered } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import reference from "./fit-scattered.json";

/*
 * Scattered samples to a table, solved with scipy.sparse.linalg and numpy.linalg (fit-scattered.json): cells to 1e-8
 * absolute, deviations to 1e-7 and summaries to 1e-6 relative.
 */
describe("a table from scattered samples agrees with a general sparse solver", () => {
  for (const { name, rpmAxis, loadAxis, sigma, rpm, load, k, w, cellWeight, fits } of reference.cases) {
    const axes = {
      rpm: createAxis({ quantity: "rpm", breakpoints: rpmAxis }),
      load: createAxis({ quantity: "manifold-pressure", breakpoints: loadAxis }),
    };
    const samples = { rpm, load, value: k, weight: w };
    for (const fit of fits)
      test(`${name}, strengths ${fit.lambdaX}, ${fit.lambdaY}, ${fit.ridge}`, () => {
        const strengths = { rpm: fit.lambdaX, load: fit.lambdaY, zero: fit.ridge };
        const ours = fitScattered({ ...axes, samples, strengths, noise: sigma });
        const cells = fit.c.flat();
        const deviations = fit.sd.flat();
        const weights = cellWeight.flat();
        expect(ours.cells.length).toBe(cells.length);
        for (let at = 0; at < cells.length; at++) {
          expect(Math.abs(ours.cells[at]! - cells[at]!)).toBeLessThanOrEqual(1e-8);
          expect(Math.abs(ours.deviation[at]! / deviations[at]! - 1)).toBeLessThanOrEqual(1e-7);
          expect(Math.abs(ours.weight[at]! - weights[at]!)).toBeLessThanOrEqual(1e-8 * Math.max(1, weights[at]!));
        }
        expect(Math.abs(ours.effectiveDimension / fit.effectiveDimension - 1)).toBeLessThanOrEqual(1e-6);
        expect(Math.abs(ours.weightedSquares / fit.weightedRss - 1)).toBeLessThanOrEqual(1e-6);
        const free = fitScattered({ ...axes, samples, strengths });
        expect(Math.abs(free.noise ** 2 / fit.sigma2Hat - 1)).toBeLessThanOrEqual(1e-6);
      });
  }
});
