import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { requireUse } from "../../testing/answer.ts";
import { axes, extremeAxes, regionsOf, rpmAxes, tables } from "../../testing/arbitraries.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { findSmoothStrengths } from "./find-smooth-strengths.ts";
import { lockCells } from "./lock-cells.ts";
import { describeSmoothing, type SmoothCells, smoothCells } from "./smooth-cells.ts";
import { smoothReport } from "./smooth-report.ts";

const strengths = fc.record({
  rpmStrength: fc.constantFrom(0.1, 3, 100, 1e5),
  loadStrength: fc.constantFrom(0, 0.5, 20, 1e5),
});

/** A table with a region of it, sometimes feathered, and sometimes a lock. */
const parts = (table: fc.Arbitrary<FuelTable> = tables()): fc.Arbitrary<{ table: FuelTable; region: Region }> =>
  table.chain((one) =>
    fc
      .tuple(regionsOf(one), fc.option(regionsOf(one), { nil: undefined }))
      .map(([region, lock]) => ({ region, table: lock ? lockCells(one, { region: lock }) : one })),
  );

const mean = (table: FuelTable, weights: ArrayLike<number>) => {
  let sum = 0;
  let total = 0;
  table.cells.forEach((cell, at) => {
    sum += weights[at]! * cell;
    total += weights[at]!;
  });
  return sum / total;
};

const line = createTable({
  id: "warm-up",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [-20, 0, 20, 40] }),
  cells: [[1, 4, 1, 4]],
});

test("a case on paper: one row of four", () => {
  // With D = (1, −2, 1, 0; 0, 1, −2, 1) and strength 1, (1 + DᵀD)·z = y gives z symmetric about 2.5.
  const smooth = smoothCells(line, { strength: 1 }).cells;
  const [a, b] = [2.5 - smooth[0]!, smooth[1]! - 2.5];
  // By symmetry z = 2.5 + (−a, b, −b, a): 2·(1.5 − a)² + 2·(1.5 − b)² + 2·(3b + a)² is least, hence a + 3b + … = 0:
  expect(2 * a + 3 * b).toBeCloseTo(1.5, 12);
  expect(3 * a + 10 * b).toBeCloseTo(1.5, 12);
});

test("constants and planes stay, whatever the weights and however strong", () => {
  const number = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(
    fc.property(tables(), strengths, fc.tuple(number, number, number), (table, strength, [a, b, c]) => {
      const cells = table.load.breakpoints.map((l) =>
        table.rpm.breakpoints.map((r) => a + (b * r) / 1000 + (c * l) / 50),
      );
      const plane = createTable({ ...table, cells });
      const weights = table.cells.map((cell) => 0.1 + cell);
      const smooth = smoothCells(plane, { ...strength, weights });
      // Up to 100; rounding of second differences of neighbours as near as 1/40 of the mean.
      smooth.cells.forEach((cell, at) => {
        expect(Math.abs(cell - plane.cells[at]!)).toBeLessThan(1e-9);
      });
      const constant = createTable({ ...table, cells: table.cells.map(() => a) });
      smoothCells(constant, { ...strength, weights }).cells.forEach((cell) => {
        expect(cell).toBeCloseTo(a, 11);
      });
    }),
    { numRuns: 1000 },
  );
});

test("strength 0 is the identity, bit for bit, also where cells have no weight", () => {
  fc.assert(
    fc.property(parts(), ({ table, region }) => {
      const weights = table.cells.map((cell) => (cell > 10 ? 0 : 1));
      expect(smoothCells(table, { region, strength: 0, weights }).cells).toEqual(table.cells);
    }),
    { numRuns: 1000 },
  );
});

test("a strength near 0 hardly changes anything", () => {
  fc.assert(
    fc.property(tables(), (table) => {
      const smooth = smoothCells(table, { strength: 1e-12 });
      // Cells up to 20 and second differences up to 20 · 40², squared weights once more: 20 · 40⁴ · 1e-12.
      expect(smoothReport(table, smooth).meanSize).toBeLessThan(1e-3);
    }),
    { numRuns: 1000 },
  );
});

test("where nothing is held the weighted mean is kept", () => {
  fc.assert(
    fc.property(tables(), strengths, (table, strength) => {
      const weights = table.cells.map((cell) => (cell > 18 ? 0 : cell));
      try {
        const smooth = smoothCells(table, { ...strength, weights });
        expect(mean(smooth, weights)).toBeCloseTo(mean(table, weights), 9);
        expect(describeSmoothing(table, { ...strength, weights }).keepsMean).toBe(true);
      } catch (error) {
        expect(error).toMatchObject({ code: "not-determined" });
      }
    }),
    { numRuns: 1000 },
  );
});

test("locked cells and cells outside the region come out bit for bit, either way of holding", () => {
  fc.assert(
    fc.property(parts(), strengths, fc.constantFrom("rim", "locked"), ({ table, region }, strength, hold) => {
      const taken = editWeights(table, region);
      const smooth = smoothCells(table, { ...strength, region, hold: hold as "rim" });
      smooth.cells.forEach((cell, at) => {
        if (taken[at] === 0) expect(Object.is(cell, table.cells[at])).toBe(true);
      });
      expect(smooth.locked).toEqual(table.locked);
    }),
    { numRuns: 1000 },
  );
});

test("a feathered edge takes its share of what the region takes whole", () => {
  fc.assert(
    fc.property(parts(), strengths, ({ table, region }, strength) => {
      const feathered = smoothCells(table, { ...strength, region });
      const taken = editWeights(table, region);
      // The same cells move freely in the region without its feather if that is said cell by cell.
      const also = Array.from(taken.keys())
        .filter((at) => taken[at]! > 0)
        .map((at) => {
          const rpm = table.rpm.breakpoints[at % table.rpm.breakpoints.length]!;
          const load = table.load.breakpoints[Math.floor(at / table.rpm.breakpoints.length)]!;
          return { rpm: [rpm, rpm] as const, load: [load, load] as const };
        });
      if (also.length === 0) return;
      const whole = smoothCells(table, { ...strength, region: { also } });
      feathered.cells.forEach((cell, at) => {
        const old = table.cells[at]!;
        expect(cell).toBeCloseTo(old + taken[at]! * (whole.cells[at]! - old), 10);
      });
    }),
    { numRuns: 1000 },
  );
});

test("smoothing never makes the smoothed part rougher by its own measure", () => {
  fc.assert(
    fc.property(tables(), fc.constantFrom(0.1, 5, 1000), (table, strength) => {
      const { roughness } = smoothReport(table, smoothCells(table, { strength }));
      expect(roughness.after).toBeLessThanOrEqual(roughness.before * (1 + 1e-9));
    }),
    { numRuns: 1000 },
  );
});

test("the unit of an axis does not matter, and mirrored tables give mirrored results", () => {
  fc.assert(
    fc.property(tables(), strengths, (table, strength) => {
      const smooth = smoothCells(table, strength);
      const inUnits = createTable({
        ...table,
        rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.map((value) => value / 60) },
      });
      const columns = table.rpm.breakpoints.length;
      const flip = (cells: Float64Array) =>
        cells.map((_, at) => cells[at - (at % columns) + (columns - 1 - (at % columns))]!);
      const mirrored = createTable({
        ...table,
        rpm: { ...table.rpm, breakpoints: table.rpm.breakpoints.map((value) => 9000 - value).reverse() },
        cells: flip(table.cells),
      });
      const other = smoothCells(inUnits, strength).cells;
      const back = flip(smoothCells(mirrored, strength).cells);
      const apart = (cells: Float64Array) => Math.max(...cells.map((cell, at) => Math.abs(cell - smooth.cells[at]!)));
      expect(apart(other)).toBeLessThan(1e-8);
      expect(apart(back)).toBeLessThan(1e-8);
    }),
    { numRuns: 1000 },
  );
});

test("the answer is linear in the cells", () => {
  fc.assert(
    fc.property(tables(), strengths, fc.double({ min: -3, max: 3, noNaN: true }), (table, strength, factor) => {
      const scaled = createTable({ ...table, cells: table.cells.map((cell) => factor * cell + 2) });
      const smooth = smoothCells(table, strength).cells;
      smoothCells(scaled, strength).cells.forEach((cell, at) => {
        expect(cell).toBeCloseTo(factor * smooth[at]! + 2, 8);
      });
    }),
    { numRuns: 1000 },
  );
});

describe("a limit on how far cells move", () => {
  test("holds exactly, and without need changes nothing", () => {
    fc.assert(
      fc.property(
        parts(),
        fc.constantFrom(1, 50),
        fc.constantFrom(0.01, 0.3, 2),
        ({ table, region }, strength, mostChange) => {
          const limited = smoothCells(table, { region, strength, mostChange });
          limited.cells.forEach((cell, at) => {
            // One rounding of a cell of up to 20.
            expect(Math.abs(cell - table.cells[at]!)).toBeLessThanOrEqual(mostChange + 4e-15);
          });
          // The limit holds before the feather takes its share.
          const { feather: _, ...hard } = region;
          const bare = smoothCells(table, { region: hard, strength, mostChange });
          const free = smoothCells(table, { region: hard, strength });
          if (Math.abs(smoothReport(table, free).largest?.absolute ?? 0) < mostChange)
            bare.cells.forEach((cell, at) => {
              expect(cell).toBeCloseTo(free.cells[at]!, 10);
            });
        },
      ),
      { numRuns: 1000 },
    );
  });

  test("what it gives is better than the free result cut off", () => {
    const cost = (table: FuelTable, smooth: FuelTable, strength: number) => {
      // Σ (z − y)² + strength · Σ second differences², from its own definition.
      let sum = smooth.cells.reduce((total, cell, at) => total + (cell - table.cells[at]!) ** 2, 0);
      const along = (points: readonly number[], at: (i: number) => number) => {
        const u = points.map((p) => ((p - points[0]!) * (points.length - 1)) / (points.at(-1)! - points[0]!));
        for (let i = 0; i + 2 < u.length; i++) {
          const upper = (at(i + 2) - at(i + 1)) / (u[i + 2]! - u[i + 1]!);
          const lower = (at(i + 1) - at(i)) / (u[i + 1]! - u[i]!);
          sum += strength * ((2 * (upper - lower)) / (u[i + 2]! - u[i]!)) ** 2;
        }
      };
      const columns = table.rpm.breakpoints.length;
      for (const row of table.load.breakpoints.keys())
        along(table.rpm.breakpoints, (i) => smooth.cells[row * columns + i]!);
      for (const column of table.rpm.breakpoints.keys())
        along(table.load.breakpoints, (i) => smooth.cells[i * columns + column]!);
      return sum;
    };
    fc.assert(
      fc.property(tables(), fc.constantFrom(1, 30), fc.constantFrom(0.2, 1), (table, strength, mostChange) => {
        const free = smoothCells(table, { strength });
        const cut = createTable({
          ...table,
          cells: free.cells.map((cell, at) => {
            const old = table.cells[at]!;
            return Math.min(Math.max(cell, old - mostChange), old + mostChange);
          }),
        });
        const limited = cost(table, smoothCells(table, { strength, mostChange }), strength);
        const lower = cost(table, free, strength);
        expect(limited).toBeGreaterThanOrEqual(lower * (1 - 1e-9));
        expect(limited).toBeLessThanOrEqual(cost(table, cut, strength) * (1 + 1e-9));
      }),
      { numRuns: 500 },
    );
  });
});

describe("degenerate tables", () => {
  const small = createTable({
    id: "small",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 6000] }),
    load: createAxis({ quantity: "throttle-position", breakpoints: [0, 100] }),
    cells: [
      [2, 3],
      [7, 9],
    ],
  });

  test("2 × 2 has no bend to smooth, one row is smoothed along its columns", () => {
    expect(smoothCells(small, { strength: 1e6 }).cells).toEqual(small.cells);
    const strong = smoothCells(line, { strength: 1e9 }).cells;
    // The line of least squares through 1, 4, 1, 4.
    expect([...strong]).toEqual([1.6, 2.2, 2.8, 3.4].map((value) => expect.closeTo(value, 6)));
    expect(smoothCells(line, { strength: 1e9, weights: [1, 0, 1, 0] }).cells[1]).toBeCloseTo(1, 6);
  });

  test("all weights zero, and too few above, are refused with a reason", () => {
    const refused = (table: FuelTable, settings: SmoothCells) =>
      expect(() => smoothCells(table, settings)).toThrow(expect.objectContaining({ code: "not-determined" }));
    refused(small, { strength: 1, weights: [0, 0, 0, 0] });
    refused(small, { strength: 1, weights: [1, 1, 0, 1] });
    refused(line, { strength: 1, weights: [{ region: {}, weight: 0 }] });
    refused(line, { strength: 1, weights: [0, 0, 0, 1] });
  });

  test("a rim that is held stands in for weights", () => {
    const table = createTable({
      ...small,
      rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000, 5000] }),
      cells: [
        [1, 2, 90, 4, 5],
        [2, 3, -70, 5, 6],
      ],
    });
    const region: Region = { rpm: [3000, 3000] };
    const filled = smoothCells(table, { region, strength: 1, weights: [{ region, weight: 0 }] });
    expect([...filled.cells]).toEqual([1, 2, 3, 4, 5, 2, 3, 4, 5, 6].map((value) => expect.closeTo(value, 12)));
  });

  test("extreme spacing is solved or refused with a reason", () => {
    let tried = 0;
    let solved = 0;
    fc.assert(
      fc.property(
        tables({ rpm: extremeAxes("rpm"), load: extremeAxes("air-charge") }),
        fc.constantFrom(1e-6, 1, 1e6),
        (table, strength) => {
          tried++;
          try {
            const smooth = smoothCells(table, { strength });
            solved++;
            expect(
              mean(
                smooth,
                table.cells.map(() => 1),
              ),
            ).toBeCloseTo(
              mean(
                table,
                table.cells.map(() => 1),
              ),
              6,
            );
          } catch (error) {
            expect(error).toMatchObject({ code: "axis-too-uneven" });
          }
        },
      ),
      { numRuns: 1000 },
    );
    requireUse(solved, tried, 0.03);
  });
});

test("settings that say nothing, or too much, are refused", () => {
  const say = (settings: unknown) => () => smoothCells(line, settings as SmoothCells);
  expect(say({})).toThrow("smoothCells: strength must be given");
  expect(say({ rpmStrength: 1 })).toThrow("loadStrength, got too few");
  expect(say({ loadStrength: 1 })).toThrow("loadStrength, got too few");
  expect(say({ strength: "auto", rpmStrength: 1 })).toThrow("leave one out");
  expect(say({ strength: "auto", loadStrength: 1 })).toThrow("leave one out");
  expect(say({ strength: -1 })).toThrow("between 0 and");
  expect(say({ strength: Number.NaN })).toThrow("finite");
  expect(say({ strength: 1, mostChange: 0 })).toThrow("mostChange must be above 0");
  expect(say({ strength: 1, hold: "all" })).toThrow("rim, locked");
  expect(say({ strength: 1, weights: [1, 2] })).toThrow("one number for each of the 4 cells, got 2");
  expect(say({ strength: 1, weights: [1, 2, -1, 1] })).toThrow("weights[2] must be 0 or above");
  expect(say({ strength: 1, weights: [{ region: {}, weight: -1 }] })).toThrow("weights[0].weight must be 0 or above");
});

test("a description says what will be held, filled in and kept", () => {
  fc.assert(
    fc.property(parts(tables({ rpm: axes("rpm", { minLength: 4 }), load: rpmLoad() })), ({ table, region }) => {
      const taken = editWeights(table, region);
      const settings = { region, rpmStrength: 2, loadStrength: 3 };
      const said = describeSmoothing(table, settings);
      const free = taken.filter((weight) => weight > 0).length;
      expect(said).toMatchObject({ rpmStrength: 2, loadStrength: 3, free, held: taken.length - free, filled: 0 });
      expect(said.keepsMean).toBe(taken.every((weight) => weight === 1));
    }),
    { numRuns: 300 },
  );
  const weights = [{ region: { rpm: [0, 0] as const }, weight: 0 }];
  expect(describeSmoothing(line, { strength: 1, weights })).toMatchObject({ filled: 1, held: 0, keepsMean: true });
  expect(describeSmoothing(line, { strength: 1, mostChange: 1 }).keepsMean).toBe(false);
  const [hilly] = fc.sample(tables({ rpm: axes("rpm", { minLength: 6 }) }), { numRuns: 1, seed: 2 });
  const { rpmStrength, loadStrength } = findSmoothStrengths(hilly!);
  expect(describeSmoothing(hilly!, { strength: "auto" })).toMatchObject({ rpmStrength, loadStrength });
});

const rpmLoad = () => rpmAxes().map((axis) => createAxis({ quantity: "air-charge", breakpoints: axis.breakpoints }));
