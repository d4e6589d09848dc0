import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lookup } from "../lookup/lookup.ts";
import { seededRandom } from "../numeric/seeded-random.ts";
import { createAxis, singleRow } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { fitScattered } from "./fit-scattered.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 1800, 2500, 4000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 45, 70, 100] });

function scattered(count: number, seed: number, surface: (x: number, y: number) => number, noise = 0) {
  const random = seededRandom(seed);
  const places = Array.from(
    { length: count },
    () => [900 + 5300 * random.uniform(), 20 + 90 * random.uniform()] as const,
  );
  return {
    rpm: places.map(([x]) => x),
    load: places.map(([, y]) => y),
    value: places.map(([x, y]) => surface(x, y) + noise * random.normal()),
  };
}

describe("fitScattered", () => {
  test("gives back the table that its samples came from, edges held", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 20, maxLength: 20 }),
        fc.nat(99),
        (cells, seed) => {
          const truth = createTable({
            id: "t",
            name: "t",
            quantity: "factor",
            rpm,
            load,
            cells: Float64Array.from(cells),
          });
          const samples = scattered(400, seed, (x, y) => lookup(truth, { rpm: x, load: y }));
          const fit = fitScattered({ rpm, load, samples, strengths: { rpm: 0, load: 0, zero: 0 + 1e-9 } });
          fit.cells.forEach((cell, at) => {
            expect(cell).toBeCloseTo(cells[at]!, 6);
          });
          expect(fit.effectiveDimension).toBeCloseTo(20, 4);
        },
      ),
      { numRuns: 30 },
    );
  });

  test("is the same whatever the axes' spacing makes of the search, and for samples that weigh twice or come twice", () => {
    // So uneven that breakpoints are found by halving.
    const uneven = createAxis({ quantity: "rpm", breakpoints: [1000, 1000.001, 2500, 4000, 6000] });
    const samples = scattered(300, 4, (x, y) => x / 4000 - y / 50, 0.1);
    const twice = {
      rpm: [...samples.rpm, ...samples.rpm],
      load: [...samples.load, ...samples.load],
      value: [...samples.value, ...samples.value],
    };
    for (const side of [rpm, uneven]) {
      const strengths = { rpm: 1, load: 1, zero: 1e-3 };
      const weighed = fitScattered({
        rpm: side,
        load,
        strengths,
        samples: { ...samples, weight: samples.rpm.map(() => 2) },
      });
      const repeated = fitScattered({ rpm: side, load, strengths, samples: twice });
      weighed.cells.forEach((cell, at) => {
        expect(cell).toBeCloseTo(repeated.cells[at]!, 9);
      });
      expect(weighed.weightedSquares).toBeCloseTo(repeated.weightedSquares, 8);
    }
  });

  test("finds strengths and noise, and fits one-row tables", () => {
    const samples = scattered(2000, 5, (x) => Math.sin(x / 800), 0.05);
    const fit = fitScattered({ rpm, load, samples });
    expect(fit.noise).toBeGreaterThan(0.04);
    // Along load there is nothing to follow; along rpm there is.
    expect(fit.strengths.load).toBeGreaterThan(20 * fit.strengths.rpm);
    const row = fitScattered({ rpm, load: singleRow, samples });
    expect(row.cells.length).toBe(5);
    expect(row.deviation.every((value) => value > 0)).toBe(true);
  });

  test("refuses samples that are none, by name", () => {
    const samples = scattered(5, 1, () => 1);
    const broken = (change: object) => () => fitScattered({ rpm, load, samples: { ...samples, ...change } });
    expect(broken({ value: [1, 2] })).toThrow(/got 5 places, 2 values/);
    expect(broken({ rpm: [1, 2, Number.NaN, 4, 5] })).toThrow(/samples\.rpm\[2\] must be a finite number/);
    expect(broken({ weight: [1, 1, 1, 1, -1] })).toThrow(/samples\.weight\[4\].*not below 0/);
    expect(() => fitScattered({ rpm, load, samples, strengths: { rpm: -1, load: 0, zero: 0 } })).toThrow(
      /strengths\.rpm/,
    );
    expect(() => fitScattered({ rpm, load, samples, strengths: { rpm: 0, load: 0, zero: 0 } })).toThrow(
      /positive definite/,
    );
  });
});
