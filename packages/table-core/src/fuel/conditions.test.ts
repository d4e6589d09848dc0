import { describe, expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { refusal } from "../../testing/refusal.ts";
import { type Axis, createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import {
  ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT,
  basePulseCells,
  cellsOn,
  injectionPressures,
  lambdaCells,
  largestDifference,
  manifoldPressures,
  planningOf,
  requirePulses,
} from "./conditions.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 3000, 6000] });
const overKpa = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const overThrottle = createAxis({ quantity: "throttle-position", breakpoints: [5, 100] });
const overCharge = createAxis({ quantity: "air-charge", breakpoints: [200, 500] });
const six = [1, 2, 3, 4, 5, 6];
const tableOf = (
  id: string,
  load: Axis | undefined,
  cells: number[],
  quantity: FuelTable["quantity"] = "pulse-width",
) =>
  createTable({
    id,
    name: "invented",
    quantity,
    rpm,
    ...(load && { load }),
    cells: load ? Float64Array.from(cells) : [cells],
  });
const overMap = tableOf("over-map", overKpa, six);
const fixed = { ...inventedBuild, rail: { kind: "fixed", pressureKpa: 300 } } as const;

describe("manifold pressure", () => {
  test("is the load axis where that says it, whatever else is given", () => {
    expect(manifoldPressures("x", overMap, inventedBuild, 70)).toEqual({
      manifoldKpa: Float64Array.of(40, 40, 40, 100, 100, 100),
      assumptions: [],
    });
  });

  test("is what is given otherwise: one figure, rows, or row by row", () => {
    const table = tableOf("over-throttle", overThrottle, six);
    const given = (kpa: Parameters<typeof manifoldPressures>[3]) => manifoldPressures("x", table, inventedBuild, kpa);
    expect([...given(70).manifoldKpa]).toEqual([70, 70, 70, 70, 70, 70]);
    const rows = [
      [30, 31, 32],
      [90, 91, 92],
    ];
    expect([...given(rows).manifoldKpa]).toEqual(rows.flat());
    expect([...given(Float64Array.from(rows.flat())).manifoldKpa]).toEqual(rows.flat());
    expect(given(rows).assumptions).toEqual([]);
  });

  test("given wrongly it is refused by its place", () => {
    const table = tableOf("over-throttle", overThrottle, six);
    const bad = (kpa: Parameters<typeof manifoldPressures>[3]) =>
      refusal(() => manifoldPressures("x", table, inventedBuild, kpa));
    expect(bad(0)).toMatchObject({ code: "not-positive", details: { where: "x: manifoldKpa" } });
    expect(bad(Float64Array.of(1, 2, 3))).toMatchObject({
      code: "wrong-cell-count",
      details: { count: 6, columns: 3, got: 3 },
    });
    // As many figures as cells, in rows of another length.
    expect(
      bad([
        [1, 2],
        [3, 4],
        [5, 6],
      ]).code,
    ).toBe("wrong-cell-count");
    const row = [50, 60, 70];
    expect(bad([[0, 50, 60], row])).toMatchObject({ code: "not-positive", details: { where: "x: manifoldKpa[0][0]" } });
    expect(bad([row, [50, -1, 60]])).toMatchObject({
      code: "not-positive",
      details: { where: "x: manifoldKpa[1][1]" },
    });
    expect(bad([row, [50, 60, Number.POSITIVE_INFINITY]])).toMatchObject({
      code: "not-finite",
      details: { where: "x: manifoldKpa[1][2]" },
    });
  });

  test("over throttle position is taken as outside pressure, and said to be", () => {
    const { manifoldKpa, alternativeKpa, assumptions } = manifoldPressures(
      "x",
      tableOf("over-throttle", overThrottle, six),
      inventedBuild,
    );
    for (const kpa of manifoldKpa) expect(kpa).toBeCloseTo(101.325, 2);
    for (const kpa of alternativeKpa!) expect(kpa).toBeCloseTo(0.35 * 101.325, 2);
    expect(assumptions).toMatchObject([{ id: "manifold-outside-pressure", basis: "estimated" }]);
  });

  test("over air charge follows from the gas law at the efficiency", () => {
    const table = tableOf("over-charge", overCharge, six);
    const build = { ...inventedBuild, engine: { ...inventedBuild.engine, chargeTemperatureC: 40 } };
    const { manifoldKpa, alternativeKpa, assumptions } = manifoldPressures("x", table, build);
    // p = m·R·T/V, dry air: 200 mg · 287.05 J/(kg K) · 313.15 K / 542.5 cc, over an efficiency of 85 %.
    const kpa = (mg: number, percent: number) => (mg * 287.05287 * 313.15) / (1000 * 542.5) / (percent / 100);
    expect(ASSUMED_VOLUMETRIC_EFFICIENCY_PERCENT).toBe(85);
    // The place's own humidity moves it by a percent or so at the most.
    expect(manifoldKpa[0]! / kpa(200, 85)).toBeCloseTo(1, 1);
    expect(manifoldKpa[3]! / manifoldKpa[0]!).toBeCloseTo(2.5, 12);
    expect([manifoldKpa[2], manifoldKpa[5]]).toEqual([manifoldKpa[0], manifoldKpa[3]]);
    expect(alternativeKpa![0]! / manifoldKpa[0]!).toBeCloseTo(1 / 1.15, 12);
    expect(assumptions).toMatchObject([{ id: "manifold-from-air-charge", basis: "estimated" }]);
    const better = { ...build, engine: { ...build.engine, volumetricEfficiencyPercent: 95 } };
    expect(manifoldPressures("x", table, better).manifoldKpa[0]! / manifoldKpa[0]!).toBeCloseTo(85 / 95, 12);
    const warmer = manifoldPressures("x", table, inventedBuild);
    expect(warmer.assumptions.map(({ id }) => id)).toEqual(["manifold-from-air-charge", "charge-temperature"]);
    // 20 °C and 15 of warming, against 40.
    expect(warmer.manifoldKpa[0]! / manifoldKpa[0]!).toBeCloseTo(308.15 / 313.15, 12);
  });
});

test("across the injector a fixed rail has what the manifold leaves it", () => {
  const kpa = Float64Array.of(40, 40, 40, 100, 100, 100);
  expect([...injectionPressures("x", overMap, inventedBuild, kpa)]).toEqual([300, 300, 300, 300, 300, 300]);
  const across = injectionPressures("x", overMap, fixed, kpa);
  expect(across[0]).toBeCloseTo(300 + 101.325 - 40, 2);
  expect(across[5]).toBeCloseTo(300 + 101.325 - 100, 2);
  const boost = Float64Array.of(40, 40, 40, 100, 500, 100);
  const { code, message } = refusal(() => injectionPressures("x", overMap, fixed, boost));
  expect(code).toBe("no-injection-pressure");
  expect(message).toMatch(/^x: the cell at 3000 rpm, 100 kPa: /);
  // As much as the rail has: nothing flows.
  const { altitudeM, temperatureC } = inventedBuild.place;
  const outside = injectionPressures("x", overMap, fixed, new Float64Array(6).fill(1))[0]! - 300 + 1;
  const even = new Float64Array(6).fill(300 + outside);
  expect(altitudeM).toBe(0);
  expect(temperatureC).toBe(20);
  expect(refusal(() => injectionPressures("x", overMap, fixed, even)).code).toBe("no-injection-pressure");
});

test("another table is read in these cells: as it is on the same axes, by lookup on others, by row if it has one", () => {
  const same = tableOf("same", overKpa, [6, 5, 4, 3, 2, 1]);
  expect(cellsOn("x", "base", same, overMap)).toBe(same.cells);
  const wide = createTable({
    id: "wide",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 6000] }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: [40, 160] }),
    cells: [
      [0, 10],
      [12, 22],
    ],
  });
  expect([...cellsOn("x", "base", wide, overMap)]).toEqual([0, 4, 10, 6, 10, 16].map((v) => expect.closeTo(v, 12)));
  const row = tableOf("row", undefined, [7, 8, 9], "factor");
  expect([...cellsOn("x", "base", row, overMap)]).toEqual([7, 8, 9, 7, 8, 9]);
});

test("tables over other quantities are refused", () => {
  const throttle = tableOf("throttle", overThrottle, six);
  expect(refusal(() => cellsOn("x", "base", throttle, overMap))).toMatchObject({
    code: "axes-do-not-match",
    details: { table: "over-map", other: "throttle" },
  });
  const warmUp = createTable({
    id: "warm-up",
    name: "invented",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: [0, 40, 80] }),
    cells: [[3, 2, 1]],
  });
  expect(refusal(() => cellsOn("x", "base", warmUp, overMap)).message).toContain(
    "base (warm-up) must run along rpm and manifold-pressure like over-map, got coolant-temperature and single-row;",
  );
});

test("a mixture is one lambda or a table of lambda, above 0", () => {
  expect([...lambdaCells("x", "target", 0.9, overMap)]).toEqual(Array(6).fill(0.9));
  const lambda = tableOf("lambda", overKpa, [1, 1, 1, 0.9, 0.88, 0.86], "lambda");
  expect(lambdaCells("x", "target", lambda, overMap)).toBe(lambda.cells);
  expect(refusal(() => lambdaCells("x", "target", 0, overMap)).code).toBe("not-positive");
  expect(refusal(() => lambdaCells("x", "target", overMap, overMap))).toMatchObject({
    code: "wrong-quantity",
    details: { name: "target", quantity: "pulse-width" },
  });
  expect(refusal(() => lambdaCells("x", "target", null as unknown as number, overMap))).toMatchObject({
    code: "wrong-quantity",
    details: { name: "target", quantity: undefined },
  });
  const zero = { ...lambda, cells: Float64Array.of(1, 1, 1, 1, 0, 1) };
  expect(refusal(() => lambdaCells("x", "target", zero, overMap))).toMatchObject({
    code: "not-positive",
    message: expect.stringContaining("x: target at 3000 rpm, 100 kPa must be above 0, got 0"),
    details: { name: "target", at: 4, lambda: 0 },
  });
});

test("base pulses are pulses, none of them below zero", () => {
  expect(basePulseCells("x", overMap, overMap)).toBe(overMap.cells);
  const mass = tableOf("mass", overKpa, six, "fuel-mass");
  expect(refusal(() => basePulseCells("x", mass, overMap))).toMatchObject({
    code: "wrong-quantity",
    details: { table: "mass", quantity: "fuel-mass" },
  });
  const { code, message, details } = refusal(() => requirePulses("x", "the pulse", overMap, Float64Array.of(1, 0, -2)));
  expect(code).toBe("pulse-negative");
  expect(message).toContain("x: the pulse at 6000 rpm, 40 kPa must not be negative, got -2 ms");
  expect(details).toEqual({ at: 2, ms: -2 });
  expect(() => requirePulses("x", "the pulse", overMap, Float64Array.of(0, 1))).not.toThrow();
});

test("the largest difference is in percent of the first, where that is above 0", () => {
  expect(largestDifference(Float64Array.of(10, 20, 0), Float64Array.of(9, 23, 5))).toBeCloseTo(15, 12);
  expect(largestDifference(Float64Array.of(0), Float64Array.of(5))).toBe(0);
  expect(largestDifference(new Float64Array(0), new Float64Array(0))).toBe(0);
});

test("planning is with 85 % where nothing is said", () => {
  expect([planningOf({}), planningOf({ planning: { dutyPercent: 80 } })]).toEqual([0.85, 0.8]);
});
