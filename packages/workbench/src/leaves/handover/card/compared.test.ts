import { createAxis, createTable, type FuelTable, rebinTable, scaleCells } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import { compareWithSource } from "./compared.ts";

const plain = { unit: "ms", decimals: 2, show: (v: number) => v, read: (v: number) => v };
const table: FuelTable = createTable({
  id: "t",
  name: "t",
  quantity: "pulse-width",
  rpm: createAxis({ quantity: "rpm", unit: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", unit: "kPa", breakpoints: [40, 80] }),
  cells: [
    [2, 3, 4],
    [4, 6, 8],
  ],
});

describe("compareWithSource", () => {
  test("tells each cell's change in percent, and how many changed", () => {
    const after = scaleCells(table, { factor: 1.1, region: { rpm: [2000, 3000], load: [80, 80] } });
    const found = compareWithSource(after, table, plain)!;
    expect(found.percent.slice(0, 4)).toEqual([0, 0, 0, 0]);
    expect(found.percent[4]).toBeCloseTo(10, 9);
    expect(found).toMatchObject({ changed: 2, sameAxes: true });
  });

  test("rounding is no change", () => {
    const after = scaleCells(scaleCells(table, { factor: 1.1 }), { factor: 1 / 1.1 });
    expect(compareWithSource(after, table, plain)!.changed).toBe(0);
  });

  test("a change is that of what is shown: richer is less lambda and more equivalence ratio", () => {
    const lambda = { ...table, quantity: "lambda", unit: "lambda" } as FuelTable;
    const inverse = { ...plain, show: (v: number) => 1 / v };
    const richer = scaleCells(lambda, { factor: 0.8 });
    expect(compareWithSource(richer, lambda, plain)!.percent[0]).toBeCloseTo(-20, 9);
    expect(compareWithSource(richer, lambda, inverse)!.percent[0]).toBeCloseTo(25, 9);
  });

  test("a trim's change is that of the fuel it asks for", () => {
    const trim = createTable({
      ...table,
      quantity: "trim",
      unit: "%",
      cells: [
        [0, 0, 0],
        [-50, 0, 0],
      ],
    });
    const after = createTable({
      ...trim,
      cells: [
        [5, 0, 0],
        [-40, 0, 0],
      ],
    });
    const { percent } = compareWithSource(after, trim, plain)!;
    expect([percent[0], percent[3]]).toEqual([5, 20]);
  });

  test("on other breakpoints the table before is read at each cell's place, and nothing where it does not reach", () => {
    const finer = rebinTable(table, { rpm: [1000, 1500, 2000, 3000] });
    expect(compareWithSource(finer, table, plain)).toMatchObject({ changed: 0, sameAxes: false });
    const wider = { ...finer, rpm: createAxis({ ...finer.rpm, breakpoints: [1000, 1500, 2000, 3500] }) };
    expect(compareWithSource(wider, table, plain)!.percent[3]).toBeNull();
  });

  test("there is no comparison with another quantity or with nothing", () => {
    const mass = { ...table, quantity: "fuel-mass", unit: "mg" } as FuelTable;
    expect(compareWithSource(table, mass, plain)).toBeNull();
    expect(compareWithSource(table, undefined, plain)).toBeNull();
  });
});
