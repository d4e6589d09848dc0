import fc from "fast-check";
import { type Build, createBuild } from "../src/build/build.ts";
import type { Pump } from "../src/build/parts.ts";
import { fuels } from "../src/fuel/fuel.ts";
import { createInjector, type Injector } from "../src/fuel/injector.ts";
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

/** Axes whose gaps differ up to ten-billionfold, down to neighbouring floating-point numbers. */
export function extremeAxes(quantity: AxisQuantity, { maxLength = 7 } = {}): fc.Arbitrary<Axis> {
  const gap = fc.oneof(
    fc.constant(0),
    fc.integer({ min: -6, max: 4 }).map((power) => 10 ** power),
  );
  return fc.array(gap, { minLength: 2, maxLength }).map((gaps) => {
    let at = 500;
    const breakpoints = gaps.map((width) => {
      const next = at + width;
      // A gap of 0 stands for the next number that can be written.
      at = next > at ? next : at * (1 + 2 ** -52);
      return at;
    });
    return createAxis({ quantity, breakpoints });
  });
}

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

/** Injectors as they are sold: flow, dead time flat or over volts (and pressure), sometimes with short pulses. */
export function injectors(): fc.Arbitrary<Injector> {
  const ms = fc.integer({ min: 20, max: 150 }).map((hundredths) => hundredths / 100);
  const overVolts = fc
    .tuple(ms, fc.integer({ min: 0, max: 100 }))
    .map(([base, fall]) => [8, 11, 13.8, 15].map((volts) => ({ volts, ms: base + (15 - volts) * (fall / 1000) })));
  const overBoth = fc
    .tuple(overVolts, overVolts)
    .map(([low, high]) => [
      ...low.map((point) => ({ ...point, pressureKpa: 250 })),
      ...high.slice(0, 3).map((point) => ({ ...point, pressureKpa: 400 })),
    ]);
  // Delivered is below or above effective on the way to where the two meet.
  const shortPulse = fc
    .tuple(fc.integer({ min: 3, max: 15 }), fc.integer({ min: 5, max: 15 }))
    .map(([tenths, part]) => [
      { effectiveMs: tenths / 20, deliveredMs: (tenths / 20) * (part / 10) },
      { effectiveMs: tenths / 10, deliveredMs: tenths / 10 },
    ]);
  return fc
    .record({
      flow: fc.integer({ min: 100, max: 900 }),
      rated: fc.constantFrom(250, 300, 350),
      test: fc.option(fc.constantFrom(0.684, 0.745), { nil: undefined }),
      deadTime: fc.oneof(ms, overVolts, overBoth),
      shortPulse: fc.option(shortPulse, { nil: undefined }),
      smallestPulseMs: fc.option(fc.constantFrom(1.2, 1.8), { nil: undefined }),
    })
    .map(({ flow, rated, test, deadTime, shortPulse: short, smallestPulseMs }) =>
      createInjector({
        name: "invented",
        flowGramsPerSecond: flow / 100,
        ratedPressureKpa: rated,
        deadTime,
        ...(test !== undefined && { testDensityKgPerL: test }),
        ...(short && { shortPulse: short }),
        ...(smallestPulseMs !== undefined && { smallestPulseMs }),
      }),
    );
}

/** Pumps of two or three points, sometimes at two voltages. */
export function pumps(): fc.Arbitrary<Pump> {
  const curve = fc
    .tuple(fc.integer({ min: 40, max: 160 }), fc.integer({ min: 2, max: 20 }), fc.integer({ min: 2, max: 20 }))
    .map(([free, fall, more]) => [
      { pressureKpa: 0, litresPerHour: free },
      { pressureKpa: 300, litresPerHour: free - fall },
      { pressureKpa: 450, litresPerHour: free - fall - more / 2 },
    ]);
  return fc.tuple(curve, fc.boolean()).map(([points, volts]) => ({
    curve: volts
      ? [
          ...points.map((point) => ({ ...point, volts: 12 })),
          ...points.map((point) => ({ ...point, litresPerHour: point.litresPerHour * 1.2, volts: 14 })),
        ]
      : points,
  }));
}

/** Builds of small engines, with either rail, at different heights. */
export function builds(): fc.Arbitrary<Build> {
  return fc
    .record({
      injectors: injectors(),
      kind: fc.constantFrom("fixed" as const, "manifold-referenced" as const),
      railKpa: fc.integer({ min: 250, max: 400 }),
      volts: fc.integer({ min: 90, max: 150 }).map((tenths) => tenths / 10),
      injectionsPerCycle: fc.constantFrom(1 as const, 2 as const),
      injectorsPerCylinder: fc.constantFrom(1, 2),
      altitudeM: fc.integer({ min: 0, max: 3000 }),
      fuel: fc.constantFrom(fuels.petrol, fuels.E10, fuels.E85),
    })
    .map(({ injectors: set, kind, railKpa, volts, injectionsPerCycle, injectorsPerCylinder, altitudeM, fuel }) =>
      createBuild({
        engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 9000, injectionsPerCycle, injectorsPerCylinder },
        fuel,
        injectors: set,
        rail: { kind, pressureKpa: railKpa },
        battery: { volts },
        place: { altitudeM, temperatureC: 20 },
      }),
    );
}

/** Any strictly rising breakpoints: tiny, huge, negative, and one unit in the last place apart. */
function anyBreakpoints(maxLength: number): fc.Arbitrary<number[]> {
  const values = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.integer({ min: -20, max: 9000 }),
    fc.integer({ min: 0, max: 9_000_000 }).map((thousandths) => thousandths / 1000),
  );
  return fc
    .uniqueArray(
      values.map((value) => value + 0),
      { minLength: 2, maxLength },
    )
    .map((list) => list.sort((a, b) => a - b));
}

/** Names of any kind: with quotes, delimiters, line ends, leading blanks, and such as a spreadsheet would run. */
const anyNames = () =>
  fc
    .oneof(
      fc.string({ minLength: 1, maxLength: 30, unit: "grapheme" }),
      fc.string({ minLength: 1, maxLength: 12, unit: fc.constantFrom(..."=+-@'\"\t\r\n,;#/ 1a\uFF1D".split("")) }),
      fc.constantFrom("1000", "sep=;", "# note", "rpm", "kPa\\rpm", "lambda 14.7", "1,5", "=1+1", "'=1+1", "kPa"),
    )
    .filter((name) => name.trim() !== "");

/** Every kind of table with any finite numbers that its quantity can hold. */
export function anyTables(): fc.Arbitrary<FuelTable> {
  const quantities: CellQuantity[] = ["pulse-width", "fuel-mass", "volumetric-efficiency", "trim", "lambda", "factor"];
  const loads: AxisQuantity[] = ["manifold-pressure", "throttle-position", "air-charge"];
  const corrections: AxisQuantity[] = [
    ...["coolant-temperature", "air-temperature", "battery-voltage", "barometric-pressure"],
    "rpm",
  ] as AxisQuantity[];
  const axis = (kinds: AxisQuantity[], maxLength: number) =>
    fc
      .tuple(fc.constantFrom(...kinds), anyBreakpoints(maxLength))
      .map(([quantity, breakpoints]) => createAxis({ quantity, breakpoints }));
  const sides: fc.Arbitrary<{ rpm: Axis; load?: Axis }> = fc.oneof(
    fc.record({ rpm: axis(["rpm"], 5), load: axis(loads, 5) }),
    fc.record({ rpm: axis(corrections, 6) }),
  );
  return fc.tuple(sides, fc.constantFrom(...quantities), anyNames()).chain(([{ rpm, load }, quantity, name]) => {
    const count = rpm.breakpoints.length * (load?.breakpoints.length ?? 1);
    const least = { "pulse-width": Number.MIN_VALUE, lambda: Number.MIN_VALUE, "fuel-mass": 0 }[quantity as string];
    const min = least ?? (quantity === "volumetric-efficiency" ? 0 : -Number.MAX_VALUE);
    const cell = fc.oneof(
      fc.double({ min, max: Number.MAX_VALUE, noNaN: true }),
      fc.integer({ min: 1, max: 99_999 }).map((thousandths) => thousandths / 1000),
    );
    return fc
      .array(cell, { minLength: count, maxLength: count })
      .map((cells) =>
        createTable({ id: "t", name, quantity, rpm, ...(load && { load }), cells: Float64Array.from(cells) }),
      );
  });
}
