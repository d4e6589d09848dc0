import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { type AxisIndex, axisIndex, findBreakpoint } from "./axis-index.ts";
import { CHUNK, chunk, prepareGrid, runLocate } from "./bulk-kernel.ts";
import { asFloats, type LookupPoints, requireAllFinite } from "./lookup-many.ts";
import { holdOn, isOn, outsideError, requireOutside } from "./outside.ts";

const { queryLoad, queryRpm, resultCorner, resultLoad, resultRpm } = chunk;

/** Where points lie in the grid, one entry a point: the form in which millions of samples are summed. */
export interface LocatedPoints {
  /** Number of the cell at the lower left corner; the others are one to the right, one row up, and both. */
  readonly corner: Int32Array;
  /** Share of the way to the next column and to the next row, 0..1 (beyond the axes, extended: below 0 or above 1). */
  readonly rpmShare: Float64Array;
  /** See `rpmShare`. */
  readonly loadShare: Float64Array;
}

/**
 * Where each point lies in the grid.
 *
 * The weights of its four cells follow from the shares f and g: (1-f)(1-g), f(1-g), (1-f)g and fg, as in
 * `bilinearWeights`. On the last column f is 1 in the cell before it; on a one-row table g is 0 throughout. Allocates
 * nothing if `out` holds arrays as long as the points and these are Float64Arrays.
 *
 * @throws FuelwrightError `not-finite` or `outside-table` naming the point (`rpm[17]`), `lengths-differ`
 */
export function locateMany(
  table: Pick<FuelTable, "rpm" | "load">,
  points: Omit<LookupPoints, "out"> & { readonly out?: LocatedPoints },
): LocatedPoints {
  const outside = requireOutside("locateMany", points.outside);
  const oneRow = table.load.quantity === "single-row";
  const rpm = asFloats(points.rpm);
  const load = oneRow ? null : asFloats(points.load);
  const count = rpm.length;
  const out = points.out ?? {
    corner: new Int32Array(count),
    rpmShare: new Float64Array(count),
    loadShare: new Float64Array(count),
  };
  const shortest = Math.min(out.corner.length, out.rpmShare.length, out.loadShare.length);
  if ((load && load.length !== count) || shortest < count)
    throw new FuelwrightError(
      "lengths-differ",
      `locateMany: rpm and load must be equally long and out at least that, got ${count}, ${load?.length ?? count} ` +
        `and ${shortest}; give a load for each rpm`,
      { rpm: count, load: load?.length ?? null, out: shortest },
    );
  const x = axisIndex(table.rpm);
  const y = axisIndex(table.load);
  const direct = x.direct && y.direct;
  if (direct) prepareGrid(x, y);
  for (let from = 0; from < count; from += CHUNK) {
    const length = Math.min(CHUNK, count - from);
    queryRpm.set(rpm.subarray(from, from + length));
    if (load) queryLoad.set(load.subarray(from, from + length));
    else queryLoad.fill(y.low);
    const sum = direct ? runLocate(length) : locateEach(x, y, length);
    if (!Number.isFinite(sum)) requireAllFinite("locateMany", from, length);
    if (outside !== "hold")
      for (let k = 0; k < length; k++) {
        const onX = isOn(x, queryRpm[k]!);
        const onY = isOn(y, queryLoad[k]!);
        if (outside === "refuse" && !onX) throw outsideError("locateMany", `rpm[${from + k}]`, table.rpm, queryRpm[k]!);
        if (outside === "refuse" && !onY)
          throw outsideError("locateMany", `load[${from + k}]`, table.load, queryLoad[k]!);
        // Held at the edge the cell is right already; only the share has to go on.
        if (!onX) resultRpm[k] = shareOf(x, resultCorner[k]! % x.edges.length, queryRpm[k]!);
        if (!onY) resultLoad[k] = shareOf(y, Math.floor(resultCorner[k]! / x.edges.length), queryLoad[k]!);
      }
    out.corner.set(resultCorner.subarray(0, length), from);
    out.rpmShare.set(resultRpm.subarray(0, length), from);
    out.loadShare.set(resultLoad.subarray(0, length), from);
  }
  return out;
}

/** What `runLocate` does, for axes too uneven for buckets. */
function locateEach(x: AxisIndex, y: AxisIndex, count: number): number {
  let sum = 0;
  for (let k = 0; k < count; k++) {
    sum += queryRpm[k]! + queryLoad[k]!;
    const heldX = holdOn(x, queryRpm[k]!);
    const heldY = holdOn(y, queryLoad[k]!);
    const column = cellOf(x, heldX);
    const row = cellOf(y, heldY);
    resultCorner[k] = row * x.edges.length + column;
    resultRpm[k] = shareOf(x, column, heldX);
    resultLoad[k] = shareOf(y, row, heldY);
  }
  return sum;
}

const cellOf = (index: AxisIndex, value: number): number =>
  Math.max(Math.min(findBreakpoint(index, value), index.edges.length - 2), 0);

const shareOf = (index: AxisIndex, cell: number, value: number): number =>
  (value - index.edges[cell]!) / ((index.edges[cell + 1] ?? Number.POSITIVE_INFINITY) - index.edges[cell]!);
