import { lookupMany } from "../lookup/lookup-many.ts";
import { sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";

/** The table's values on a grid of bare breakpoints, row-major [load][rpm], held at its edges. */
export function sampleGrid(table: FuelTable, rpm: readonly number[], load: readonly number[]): Float64Array {
  return lookupMany(table, {
    rpm: Float64Array.from({ length: rpm.length * load.length }, (_, at) => rpm[at % rpm.length]!),
    load: Float64Array.from({ length: rpm.length * load.length }, (_, at) => load[Math.floor(at / rpm.length)]!),
  });
}

/**
 * The values of `source` on the axes of `target`, held at its edges; on the same axes its own cells.
 *
 * A one-row `source` that runs along the target's rpm counts at every load.
 *
 * @throws FuelwrightError `axes-differ`
 */
export function sampleOn(operation: string, target: FuelTable, source: FuelTable): Float64Array {
  if (sameAxis(target.rpm, source.rpm) && sameAxis(target.load, source.load)) return source.cells;
  if (source.load.quantity !== "single-row" || source.rpm.quantity !== target.rpm.quantity)
    requireSameSides(operation, target, source);
  return sampleGrid(source, target.rpm.breakpoints, target.load.breakpoints);
}

/** That both tables run along the same quantities. @throws FuelwrightError `axes-differ` */
export function requireSameSides(operation: string, a: FuelTable, b: FuelTable): void {
  if (a.rpm.quantity === b.rpm.quantity && a.load.quantity === b.load.quantity) return;
  const sides = ({ rpm, load }: FuelTable) =>
    load.quantity === "single-row" ? rpm.quantity : `${rpm.quantity} and ${load.quantity}`;
  throw new FuelwrightError(
    "axes-differ",
    `${operation}: ${a.id} runs along ${sides(a)}, ${b.id} along ${sides(b)}; choose tables with the same kind of axes`,
    { a: a.id, b: b.id },
  );
}
