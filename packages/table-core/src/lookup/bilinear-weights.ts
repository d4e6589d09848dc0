import type { FuelTable } from "../values/fuel-table.ts";
import { requireFinite } from "../values/require.ts";
import { axisIndex, findBreakpoint } from "./axis-index.ts";
import type { LookupPoint } from "./lookup.ts";
import { holdOn, isOn, type Outside, outsideError, requireOutside } from "./outside.ts";

/** The cells around a point and how much each counts: value = Σ weights[i]·cells[i]. */
export interface BilinearWeights {
  /** Numbers of the cells in row-major order: lower left, lower right, upper left, upper right. */
  readonly cells: Int32Array;
  /** Add up to 1; on a breakpoint one of them is 1 and the others are 0. Beyond the axes, extended, some are negative. */
  readonly weights: Float64Array;
}

/**
 * The four cells around a point and their weights. On a one-row table the upper two are the lower two again and weigh
 * nothing. For many points see `locateMany`.
 *
 * @throws FuelwrightError `not-finite`, `outside-table`, `unknown-choice`
 */
export function bilinearWeights(table: Pick<FuelTable, "rpm" | "load">, point: LookupPoint): BilinearWeights {
  const outside = requireOutside("bilinearWeights", point.outside);
  const oneRow = table.load.quantity === "single-row";
  const columns = table.rpm.breakpoints.length;
  const [column, f] = locateOn("rpm", table.rpm, requireFinite("bilinearWeights: rpm", point.rpm), outside);
  const [row, g] = oneRow
    ? [0, 0]
    : locateOn("load", table.load, requireFinite("bilinearWeights: load", point.load), outside);
  const low = row * columns + column;
  const high = low + (oneRow ? 0 : columns);
  return {
    cells: Int32Array.of(low, low + 1, high, high + 1),
    weights: Float64Array.of((1 - f) * (1 - g), f * (1 - g), (1 - f) * g, f * g),
  };
}

function locateOn(where: string, axis: FuelTable["rpm"], value: number, outside: Outside): [cell: number, f: number] {
  const index = axisIndex(axis);
  const { edges } = index;
  if (outside === "refuse" && !isOn(index, value)) throw outsideError("bilinearWeights", where, axis, value);
  const held = holdOn(index, value);
  const cell = Math.min(findBreakpoint(index, held), edges.length - 2);
  const from = edges[cell]!;
  return [cell, ((outside === "extend" ? value : held) - from) / (edges[cell + 1]! - from)];
}
