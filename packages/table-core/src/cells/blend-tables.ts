import { lookupMany } from "../lookup/lookup-many.ts";
import type { Outside } from "../lookup/outside.ts";
import { sameAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type FuelTable, withCells } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireFinite, requireOneOf, requireWithin } from "../values/require.ts";
import { requireSameQuantity } from "./compare-tables.ts";
import { mix } from "./mix.ts";
import { requireSameSides } from "./sample-grid.ts";

/** A weight that goes in a straight line from one point of an axis to another, and is held beyond them. */
export interface WeightRamp {
  readonly along: "rpm" | "load";
  /** Where on the axis, and the weight there, 0..1. */
  readonly from: readonly [at: number, weight: number];
  /** The same at the other end. */
  readonly to: readonly [at: number, weight: number];
}

/** What {@link blendTables} takes. */
export interface BlendTables {
  /** The second table, of the same quantity; on other breakpoints it is looked up. */
  readonly with: FuelTable;
  /** The second table's share, 0..1. */
  readonly weight: number | WeightRamp;
  /** Left out: the whole table. Its feather multiplies the weight. */
  readonly region?: Region;
  /** How the second table is looked up beyond its axes; default `hold`. */
  readonly outside?: Outside;
}

/**
 * The table mixed with a second one: a · (1 − w) + b · w in each cell.
 *
 * Where w is 0 the cell is a's, where it is 1 it is b's, bit for bit; a mix lies between the two. On equal axes,
 * `blendTables(a, { with: b, weight: w })` and `blendTables(b, { with: a, weight: 1 - w })` have the same cells bit for
 * bit, for which w counts to within 2⁻⁵⁴. Locked cells and cells outside the region stay. O(cells).
 *
 * @example blendTables(road, { with: race, weight: { along: "rpm", from: [4000, 0], to: [6000, 1] } })
 * @throws FuelwrightError `quantities-differ`, `axes-differ`, `bad-ramp`, `out-of-range`, `bad-region`, and with
 *   `outside: "refuse"` `outside-table` where a cell that takes part lies beyond the second table
 */
export function blendTables(table: FuelTable, { with: other, weight, region, outside }: BlendTables): FuelTable {
  requireSameQuantity("blendTables", table, other);
  requireSameSides("blendTables", table, other);
  const share = typeof weight === "object" && weight !== null ? rampWeights(table, weight) : null;
  const constant = share ? 1 : requireWithin("blendTables: weight", weight, 0, 1);
  const weights = editWeights(table, region).map((within, at) => within * (share ? share(at) : constant));
  const touched = Array.from(weights.keys()).filter((at) => weights[at]! > 0);
  if (touched.length === 0) return table;
  const second = valuesAt(other, table, touched, outside);
  const cells = table.cells.slice();
  touched.forEach((at, i) => {
    cells[at] = mix(cells[at]!, second[i]!, weights[at]!);
  });
  return withCells(table, cells, "blendTables");
}

/** The second table's values where the first has those cells; on the same axes its own, bit for bit. */
function valuesAt(other: FuelTable, table: FuelTable, places: readonly number[], outside: Outside | undefined) {
  const { rpm, load } = table;
  if (sameAxis(rpm, other.rpm) && sameAxis(load, other.load)) return places.map((at) => other.cells[at]!);
  const columns = rpm.breakpoints.length;
  return lookupMany(other, {
    rpm: places.map((at) => rpm.breakpoints[at % columns]!),
    load: places.map((at) => load.breakpoints[Math.floor(at / columns)]!),
    ...(outside && { outside }),
  });
}

/** The ramp's weight in each cell. */
function rampWeights(table: FuelTable, ramp: WeightRamp): (at: number) => number {
  const along = requireOneOf("blendTables: weight.along", ramp.along, ["rpm", "load"]);
  const [x0, w0] = rampEnd("from", ramp.from);
  const [x1, w1] = rampEnd("to", ramp.to);
  if (x0 === x1)
    throw new FuelwrightError(
      "bad-ramp",
      `blendTables: weight must run from one place to another, got ${x0} for both; move one end`,
      { from: x0, to: x1 },
    );
  if (along === "load" && table.load.quantity === "single-row")
    throw new FuelwrightError("bad-ramp", "blendTables: weight.along must be rpm on a one-row table; choose rpm");
  const columns = table.rpm.breakpoints.length;
  const byPoint = table[along].breakpoints.map((x) => mix(w0, w1, Math.min(Math.max((x - x0) / (x1 - x0), 0), 1)));
  return (at) => byPoint[along === "rpm" ? at % columns : Math.floor(at / columns)]!;
}

function rampEnd(name: "from" | "to", end: readonly [number, number]): readonly [number, number] {
  const [at, weight] = Array.isArray(end) ? end : [];
  return [
    requireFinite(`blendTables: weight.${name}[0]`, at),
    requireWithin(`blendTables: weight.${name}[1]`, weight, 0, 1),
  ];
}
