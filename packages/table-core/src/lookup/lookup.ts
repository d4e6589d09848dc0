import type { FuelTable } from "../values/fuel-table.ts";
import { requireFinite } from "../values/require.ts";
import { axisIndex, findBreakpoint } from "./axis-index.ts";
import { evaluateCell } from "./cell-polynomial.ts";
import { extendedBreakpoint, holdOn, isOn, type Outside, outsideError, requireOutside } from "./outside.ts";

/** A point of the table. `load` is left out (and never counts) on a one-row table. */
export interface LookupPoint {
  readonly rpm: number;
  readonly load?: number;
  /** Default `hold`. */
  readonly outside?: Outside;
}

/**
 * The table's value at a point, by bilinear interpolation.
 *
 * On a breakpoint it is the cell exactly, within a cell it lies between the four corners' minimum and maximum, and a
 * plane is reproduced to rounding. A one-row table is read along its columns alone; `rpm` then stands for that table's
 * own axis. Gives the same bits as `lookupMany`.
 *
 * @example lookup(table, { rpm: 3250, load: 62, outside: "refuse" })
 * @throws FuelwrightError `not-finite`, `unknown-choice`, `outside-table` naming the side that was passed
 */
export function lookup(table: FuelTable, point: LookupPoint): number {
  const outside = requireOutside("lookup", point.outside);
  const rpm = axisIndex(table.rpm);
  const load = axisIndex(table.load);
  const surface = { rpm, load, cells: table.cells };
  const x = requireFinite("lookup: rpm", point.rpm);
  const y = table.load.quantity === "single-row" ? load.low : requireFinite("lookup: load", point.load);
  if (outside === "extend") return evaluateCell(surface, extendedBreakpoint(rpm, x), extendedBreakpoint(load, y), x, y);
  if (outside === "refuse") {
    if (!isOn(rpm, x)) throw outsideError("lookup", "rpm", table.rpm, x);
    if (!isOn(load, y)) throw outsideError("lookup", "load", table.load, y);
  }
  const heldX = holdOn(rpm, x);
  const heldY = holdOn(load, y);
  return evaluateCell(surface, findBreakpoint(rpm, heldX), findBreakpoint(load, heldY), heldX, heldY);
}
