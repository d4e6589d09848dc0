import fc from "fast-check";
import { type Axis, createAxis } from "../src/values/axis.ts";
import { createTable, type FuelTable } from "../src/values/fuel-table.ts";
import type { AxisQuantity, CellQuantity } from "../src/values/quantities.ts";
import type { Region } from "../src/values/region.ts";

/** Rising, unevenly spaced axes; values are multiples of `grain`, so that differences stay well above rounding. */
export function axes(
  quantity: AxisQuantity,
  {
    from = 0,
    minLength = 2,
    maxLength = 9,
    grain = 1,
    widest = 40,
  }: { from?: number; minLength?: number; maxLength?: number; grain?: number; widest?: number } = {},
): fc.Arbitrary<Axis> {
  return fc
    .array(fc.integer({ min: 1, max: widest }), { minLength, maxLength })
    .map((steps) => {
      let at = from;
      return steps.map((step) => (at += step * grain));
    })
    .map((breakpoints) => createAxis({ quantity, breakpoints }));
}

export const rpmAxes = () => axes("rpm", { from: 500, grain: 25 });
export const loadAxes = () => axes("manifold-pressure", { from: 15, grain: 1 });

/** Random tables over rpm and manifold pressure, cells between `min` and `max`. */
export function tables({
  quantity = "pulse-width",
  min = 0.5,
  max = 20,
  rpm = rpmAxes(),
  load = loadAxes(),
}: {
  quantity?: CellQuantity;
  min?: number;
  max?: number;
  rpm?: fc.Arbitrary<Axis>;
  load?: fc.Arbitrary<Axis>;
} = {}): fc.Arbitrary<FuelTable> {
  return fc.tuple(rpm, load).chain(([rpmAxis, loadAxis]) => {
    const count = rpmAxis.breakpoints.length * loadAxis.breakpoints.length;
    return fc.array(fc.double({ min, max, noNaN: true }), { minLength: count, maxLength: count }).map((cells) =>
      createTable({
        id: "t",
        name: "invented",
        quantity,
        rpm: rpmAxis,
        load: loadAxis,
        cells: Float64Array.from(cells),
      }),
    );
  });
}

/** A region whose box spans some breakpoints of the table, sometimes feathered. */
export function regionsOf(table: FuelTable): fc.Arbitrary<Region> {
  const range = (axis: Axis) =>
    fc
      .tuple(fc.nat(axis.breakpoints.length - 1), fc.nat(axis.breakpoints.length - 1))
      .map(([a, b]): readonly [number, number] => [
        axis.breakpoints[Math.min(a, b)]!,
        axis.breakpoints[Math.max(a, b)]!,
      ]);
  const feather = fc.option(
    fc.record({ rpm: fc.integer({ min: 0, max: 800 }), load: fc.integer({ min: 0, max: 40 }) }),
    {
      nil: undefined,
    },
  );
  return fc
    .record({ rpm: range(table.rpm), load: range(table.load), feather })
    .map(({ rpm, load, feather: edge }) => ({ rpm, load, ...(edge && { feather: edge }) }));
}

/** A table with a region of it, and up to two of its parts locked. */
export function lockedTablesWithRegion(
  source: fc.Arbitrary<FuelTable> = tables(),
): fc.Arbitrary<{ table: FuelTable; region: Region }> {
  return source.chain((table) =>
    fc
      .tuple(regionsOf(table), fc.array(regionsOf(table), { maxLength: 2 }))
      .map(([region, locked]) => ({ table: Object.freeze({ ...table, locked }), region })),
  );
}
