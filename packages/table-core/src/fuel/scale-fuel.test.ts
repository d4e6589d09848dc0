import { describe, expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { type ScaleFuel, scaleFuel } from "./scale-fuel.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [3000, 6000] });
const overKpa = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const overThrottle = createAxis({ quantity: "throttle-position", breakpoints: [5, 100] });
const tableOf = (quantity: FuelTable["quantity"], cells: number[], load = overKpa) =>
  createTable({ id: "t", name: "invented", quantity, rpm, load, cells: Float64Array.from(cells) });
const scale = (table: FuelTable, settings: Partial<ScaleFuel> = {}) =>
  scaleFuel("x", table, {
    build: inventedBuild,
    factors: Float64Array.of(1.2, 1.2, 1, 1.2),
    weights: Float64Array.of(1, 0, 1, 0.5),
    ...settings,
  });
const close = (...values: number[]) => values.map((value) => expect.closeTo(value, 9));

test("efficiencies and factors are multiplied as far as their weight goes", () => {
  for (const quantity of ["volumetric-efficiency", "factor"] as const) {
    const scaled = scale(tableOf(quantity, [50, 60, 70, 80]));
    expect([...scaled.table.cells]).toEqual(close(60, 60, 70, 88));
    expect([...scaled.fuelChangePercent]).toEqual(close(20, 0, 0, 10));
    expect([scaled.before, scaled.after, scaled.basis]).toEqual([null, null, "computed"]);
    expect(scaled.assumptions.map(({ id }) => id)).toEqual(quantity === "factor" ? ["factor-on-mass"] : []);
  }
  expect([...scale(tableOf("volumetric-efficiency", [0, 1, 1, 0])).fuelChangePercent]).toEqual(close(0, 0, 0, 0));
});

test("a target keeps its cells: it meters no fuel", () => {
  const table = tableOf("lambda", [1, 1, 0.9, 0.9]);
  expect(scale(table)).toEqual({
    table,
    basis: "computed",
    fuelChangePercent: new Float64Array(4),
    before: null,
    after: null,
    assumptions: [],
  });
});

test("masses and pulses carry the factor in the fuel, not in the dead time", () => {
  const masses = scale(tableOf("fuel-mass", [10, 10, 10, 10]));
  expect([...masses.table.cells]).toEqual(close(12, 10, 10, 11));
  expect([...masses.fuelChangePercent]).toEqual(close(20, 0, 0, 10));
  // Dead time 0.4 ms: 2.4 ms deliver for 2, so a fifth more takes 0.4 ms more.
  const pulses = scale(tableOf("pulse-width", [2.4, 2.4, 2.4, 2.4]));
  expect([...pulses.table.cells]).toEqual(close(2.8, 2.4, 2.4, 2.6));
  expect(pulses.before!.askedMg[0]! * 1.2).toBeCloseTo(pulses.after!.askedMg[0]!, 9);
});

describe("trims without their base pulse", () => {
  test("go by the factor, with a band, and say so", () => {
    const { table, fuelChangePercent, band, assumptions, basis } = scale(tableOf("trim", [0, 5, 10, -100]));
    expect([...table.cells]).toEqual(close(20, 5, 10, -100));
    expect([...fuelChangePercent]).toEqual(close(20, 0, 0, 0));
    // Dead time needs no more: at 1.5 ms the right trim is (1.1·1.2 + 0.4)/1.5.
    expect(band!.low[0]).toBeCloseTo(100 * ((1.1 * 1.2 + 0.4) / 1.5 - 1), 9);
    expect(band!.high[0]).toBeCloseTo(20, 9);
    expect([band!.low[1], band!.high[1], band!.low[2], band!.high[2]]).toEqual(close(5, 5, 10, 10));
    expect(basis).toBe("estimated");
    expect(assumptions.map(({ id }) => id)).toEqual(["base-pulse-unknown"]);
  });

  test("part of the way where the weight says so, in percent of the fuel there was", () => {
    const { table, fuelChangePercent } = scale(tableOf("trim", [10, 0, 0, 10]));
    expect([...table.cells]).toEqual(close(32, 0, 0, 21));
    expect([...fuelChangePercent]).toEqual(close(20, 0, 0, 10));
  });

  test("rest on nothing where nothing moves, and on the manifold's pressure where a fixed rail needs it", () => {
    const still = { factors: Float64Array.of(1, 1, 1, 1) };
    expect(scale(tableOf("trim", [1, 2, 3, 4]), still).assumptions).toEqual([]);
    const build = { ...inventedBuild, rail: { kind: "fixed", pressureKpa: 300 } } as const;
    const ids = (settings: Partial<ScaleFuel>, load = overThrottle) =>
      scale(tableOf("trim", [1, 2, 3, 4], load), settings).assumptions.map(({ id }) => id);
    expect(ids({ build })).toEqual(["base-pulse-unknown", "manifold-outside-pressure"]);
    expect(ids({})).toEqual(["base-pulse-unknown"]);
    expect(ids({ build, ...still })).toEqual(["manifold-outside-pressure"]);
    expect(ids({ build, manifoldKpa: 60 })).toEqual(["base-pulse-unknown"]);
  });
});

describe("for another build", () => {
  const injectors = { ...inventedBuild.injectors, deadTime: 0.7 };
  const next = { ...inventedBuild, injectors };
  const ones = Float64Array.of(1, 1, 1, 1);

  test("cells are carried over even where the factor is 1, and by weight", () => {
    const { table } = scale(tableOf("pulse-width", [2.4, 2.4, 2.4, 2.4]), { next, factors: ones });
    expect([...table.cells]).toEqual(close(2.7, 2.4, 2.7, 2.55));
    const same = scale(tableOf("pulse-width", [2.4, 2.4, 2.4, 2.4]), { next: inventedBuild, factors: ones });
    expect([...same.table.cells]).toEqual([2.4, 2.4, 2.4, 2.4]);
  });

  test("a cell that delivers nothing stays", () => {
    const { table, fuelChangePercent } = scale(tableOf("pulse-width", [0.3, 0, 0, 0.4]), { next });
    expect([...table.cells]).toEqual([0.3, 0, 0, 0.4]);
    expect([...fuelChangePercent]).toEqual([0, 0, 0, 0]);
  });

  test("pressures that are given count", () => {
    const build = { ...inventedBuild, rail: { kind: "fixed", pressureKpa: 300 } } as const;
    const at = (manifoldKpa?: number) =>
      scale(tableOf("fuel-mass", [10, 10, 10, 10], overThrottle), {
        build,
        ...(manifoldKpa !== undefined && { manifoldKpa }),
      }).before!;
    expect(at(40).pulseMs[0]!).toBeLessThan(at().pulseMs[0]!);
    expect(at(40).assumptions.map(({ id }) => id)).not.toContain("manifold-outside-pressure");
  });
});
