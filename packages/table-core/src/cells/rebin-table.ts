import { type Axis, createAxis, sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable, withCells } from "../values/fuel-table.ts";
import { compareSurfaces, type SurfaceComparison } from "./compare-surfaces.ts";
import { mix } from "./mix.ts";

/** The breakpoints wished for; a side left out keeps its own. */
export interface RebinTable {
  readonly rpm?: readonly number[] | Axis;
  readonly load?: readonly number[] | Axis;
}

/**
 * The same surface on other breakpoints.
 *
 * Where a side's new breakpoints include all old ones (within its range) the surface is looked up and stays the same
 * everywhere. Otherwise the new cells are those whose surface comes closest to the old one by least squares, every rpm
 * and every kPa counting alike, so that what lay between kept breakpoints still counts. If the breakpoints left out said
 * nothing that the others do not, the kept cells come out bit for bit: onto a superset and back is the identity. Beyond
 * the old ends the surface is held. Locks and other regions are said in rpm and load and go on; locked cells are carried
 * over like all others. O(cells) a side.
 *
 * @example rebinTable(table, { rpm: [1000, 2000, 3500, 5000, 6500] })
 * @throws FuelwrightError `axis-not-rising`, `axis-too-short`, `axis-too-long`, `one-row` for load breakpoints on a
 *   one-row table
 */
export function rebinTable(table: FuelTable, { rpm, load }: RebinTable): FuelTable {
  if (load !== undefined && table.load.quantity === "single-row")
    throw new FuelwrightError("one-row", `rebinTable: ${table.id} has one row and no load axis; leave load out`);
  const columns = axisLike(table.rpm, rpm);
  const rows = axisLike(table.load, load);
  if (columns === table.rpm && rows === table.load) return table;
  const wide = columns.breakpoints.length;
  const old = table.rpm.breakpoints.length;
  const high = table.load.breakpoints.length;
  // Of the whole table: between two rows that nearly cancel, a line holds the rounding of numbers larger than its own.
  const rounding = 8 * Number.EPSILON * table.cells.reduce((most, cell) => Math.max(most, Math.abs(cell)), 0);
  const along = sideMap(table.rpm.breakpoints, columns.breakpoints, rounding);
  const up = sideMap(table.load.breakpoints, rows.breakpoints, rounding);
  // One side after the other: the least squares of a product of two sides is the product of theirs.
  const half = new Float64Array(high * wide);
  const line = (count: number, read: (at: number) => number) =>
    Float64Array.from({ length: count }, (_, at) => read(at));
  for (let r = 0; r < high; r++) half.set(along(line(old, (c) => table.cells[r * old + c]!)), r * wide);
  const cells = new Float64Array(rows.breakpoints.length * wide);
  for (let c = 0; c < wide; c++) {
    const column = up(line(high, (r) => half[r * wide + c]!));
    for (let r = 0; r < column.length; r++) cells[r * wide + c] = column[r]!;
  }
  const { id, name, quantity, storage, cylinder, locked } = table;
  const shaped = createTable({
    ...{ id, name, quantity, rpm: columns, load: rows, cells, locked },
    ...(storage && { storage }),
    ...(cylinder !== undefined && { cylinder }),
  });
  return withCells(shaped, cells, "rebinTable");
}

/**
 * How far the surfaces before and after a rebin are apart, anywhere that both cover, and where most.
 *
 * @throws FuelwrightError as `compareSurfaces`
 */
export const rebinReport = (before: FuelTable, after: FuelTable): SurfaceComparison => compareSurfaces(before, after);

function axisLike(own: Axis, wished: readonly number[] | Axis | undefined): Axis {
  if (wished === undefined) return own;
  const breakpoints = "breakpoints" in wished ? wished.breakpoints : wished;
  const axis = createAxis({ quantity: own.quantity, breakpoints });
  return sameAxis(axis, own) ? own : axis;
}

type Line = Float64Array;

/** What takes values on the old breakpoints to values on the new ones. */
function sideMap(from: readonly number[], to: readonly number[], rounding: number): (values: Line) => Line {
  const lookUp = (values: Line) => Float64Array.from(to, (x) => valueAt(from, values, x));
  const included = new Set(to);
  const [low, high] = [to[0]!, to.at(-1)!];
  const lost = from.filter((x) => !included.has(x) && x > low && x < high);
  if (lost.length === 0) return lookUp;
  const project = projection(from, to);
  return (values) => {
    const looked = lookUp(values);
    // Kept cells are exact when the breakpoints left out lie on the straight lines between those kept.
    const straight = lost.every((x) => Math.abs(valueAt(to, looked, x) - valueAt(from, values, x)) <= rounding);
    return straight ? looked : project(values);
  };
}

/** The piecewise linear value at x, held beyond the ends. */
function valueAt(places: readonly number[], values: Line, x: number): number {
  const last = places.length - 1;
  if (x <= places[0]!) return values[0]!;
  if (x >= places[last]!) return values[last]!;
  let at = 0;
  while (places[at + 1]! < x) at++;
  const share = (x - places[at]!) / (places[at + 1]! - places[at]!);
  return mix(values[at]!, values[at + 1]!, share);
}

/**
 * Least squares over the new range: the line through new breakpoints closest to the old one, by ∫ (new − old)² dx.
 *
 * Solves M z = b with the hat functions φ of the new breakpoints, M = ∫ φφ (tridiagonal) and b = ∫ φ · old, both exact: the
 * old line is straight between the breakpoints of either.
 */
function projection(from: readonly number[], to: readonly number[]): (values: Line) => Line {
  const count = to.length;
  const places = [...new Set([...from, ...to])].filter((x) => x >= to[0]! && x <= to[count - 1]!).sort((a, b) => a - b);
  const width = (at: number) => to[at + 1]! - to[at]!;
  const diagonal = Float64Array.from(
    to,
    (_, at) => ((at > 0 ? width(at - 1) : 0) + (at < count - 1 ? width(at) : 0)) / 3,
  );
  const beside = Float64Array.from({ length: count - 1 }, (_, at) => width(at) / 6);
  return (values) => {
    const right = new Float64Array(count);
    let at = 0;
    for (let piece = 0; piece + 1 < places.length; piece++) {
      const [x0, x1] = [places[piece]!, places[piece + 1]!];
      while (to[at + 1]! < x1) at++;
      const [f0, f1] = [valueAt(from, values, x0), valueAt(from, values, x1)];
      const [up0, up1] = [(x0 - to[at]!) / width(at), (x1 - to[at]!) / width(at)];
      const product = (a0: number, a1: number) => ((x1 - x0) * (2 * a0 * f0 + a0 * f1 + a1 * f0 + 2 * a1 * f1)) / 6;
      right[at] = right[at]! + product(1 - up0, 1 - up1);
      right[at + 1] = right[at + 1]! + product(up0, up1);
    }
    return solveTridiagonal(diagonal, beside, right);
  };
}

/** Puts the solution in place of the right side. Symmetric and strictly diagonally dominant, so it needs no pivots. */
function solveTridiagonal(diagonal: Line, beside: Line, result: Line): Line {
  const pivots = diagonal.slice();
  for (let at = 1; at < pivots.length; at++) {
    const factor = beside[at - 1]! / pivots[at - 1]!;
    pivots[at] = pivots[at]! - factor * beside[at - 1]!;
    result[at] = result[at]! - factor * result[at - 1]!;
  }
  for (let at = pivots.length - 1; at >= 0; at--) {
    const above = at + 1 < pivots.length ? beside[at]! * result[at + 1]! : 0;
    result[at] = (result[at]! - above) / pivots[at]!;
  }
  return result;
}
