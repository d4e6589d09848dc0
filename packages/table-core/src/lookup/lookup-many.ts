import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireFinite } from "../values/require.ts";
import { axisIndex, findBreakpoint } from "./axis-index.ts";
import { CHUNK, chunk, prepareSurface, runLookup } from "./bulk-kernel.ts";
import { evaluateCell, type Surface } from "./cell-polynomial.ts";
import { extendedBreakpoint, holdOn, isOn, type Outside, outsideError, requireOutside } from "./outside.ts";

/** Points of the table, each side in an array of its own. `load` is left out (and never counts) on a one-row table. */
export interface LookupPoints {
  readonly rpm: ArrayLike<number>;
  readonly load?: ArrayLike<number>;
  /** Default `hold`. */
  readonly outside?: Outside;
  /** Takes the values, to save an allocation; must be as long as `rpm`. */
  readonly out?: Float64Array;
}

const { queryLoad, queryRpm, resultRpm } = chunk;

/**
 * The table's values at many points: what `lookup` gives at each, bit for bit.
 *
 * Fastest with Float64Arrays and some thousand points or more at a time. If a point is at fault, `out` may already hold
 * the values of points before it.
 *
 * @throws FuelwrightError `not-finite` or `outside-table` naming the point (`rpm[17]`),
 *   `lengths-differ`
 */
export function lookupMany(table: FuelTable, points: LookupPoints): Float64Array {
  const outside = requireOutside("lookupMany", points.outside);
  const oneRow = table.load.quantity === "single-row";
  const rpm = asFloats(points.rpm);
  const load = oneRow ? null : asFloats(points.load);
  const count = rpm.length;
  const out = points.out ?? new Float64Array(count);
  if ((load && load.length !== count) || out.length !== count)
    throw new FuelwrightError(
      "lengths-differ",
      `lookupMany: rpm, load and out must be equally long, got ${count}, ${load?.length ?? count} and ${out.length}; ` +
        "give a load for each rpm",
      { rpm: count, load: load?.length ?? null, out: out.length },
    );
  const surface: Surface = { rpm: axisIndex(table.rpm), load: axisIndex(table.load), cells: table.cells };
  // Preparing costs about as much as looking up twice as many points as there are cells.
  const bulk = surface.rpm.direct && surface.load.direct && count >= 2 * table.cells.length;
  if (bulk) prepareSurface(surface);
  for (let from = 0; from < count; from += CHUNK) {
    const length = Math.min(CHUNK, count - from);
    queryRpm.set(rpm.subarray(from, from + length));
    if (load) queryLoad.set(load.subarray(from, from + length));
    else queryLoad.fill(surface.load.low);
    const sum = bulk ? runLookup(length) : lookUpEach(surface, length);
    if (!Number.isFinite(sum)) requireAllFinite("lookupMany", from, length);
    if (outside !== "hold") mendOutside(table, surface, outside, from, length);
    out.set(length === CHUNK ? resultRpm : resultRpm.subarray(0, length), from);
  }
  return out;
}

/** What `runLookup` does, for few points or axes too uneven for buckets. */
function lookUpEach(surface: Surface, count: number): number {
  const { rpm, load } = surface;
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const x = holdOn(rpm, queryRpm[k]!);
    const y = holdOn(load, queryLoad[k]!);
    sum += queryRpm[k]! + queryLoad[k]!;
    resultRpm[k] = evaluateCell(surface, findBreakpoint(rpm, x), findBreakpoint(load, y), x, y);
  }
  return sum;
}

/** Refuses or extends the points of the chunk that lie outside. */
function mendOutside(table: FuelTable, surface: Surface, outside: Outside, from: number, count: number): void {
  const { rpm, load } = surface;
  for (let k = 0; k < count; k++) {
    const x = queryRpm[k]!;
    const y = queryLoad[k]!;
    if (isOn(rpm, x) && isOn(load, y)) continue;
    if (outside === "refuse")
      throw isOn(rpm, x)
        ? outsideError("lookupMany", `load[${from + k}]`, table.load, y)
        : outsideError("lookupMany", `rpm[${from + k}]`, table.rpm, x);
    resultRpm[k] = evaluateCell(surface, extendedBreakpoint(rpm, x), extendedBreakpoint(load, y), x, y);
  }
}

/** Finds the query of the chunk that is not finite. Sums of the largest numbers overflow too; then there is none. */
export function requireAllFinite(operation: string, from: number, count: number): void {
  for (let k = 0; k < count; k++) {
    requireFinite(`${operation}: rpm[${from + k}]`, queryRpm[k]);
    requireFinite(`${operation}: load[${from + k}]`, queryLoad[k]);
  }
}

/** The values as a Float64Array, copied only if they are something else. */
export const asFloats = (values: ArrayLike<number> | undefined): Float64Array =>
  values instanceof Float64Array ? values : Float64Array.from(values ?? []);
