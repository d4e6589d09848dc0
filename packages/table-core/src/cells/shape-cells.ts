import { type CurvePoint, monotoneCurve } from "../numeric/monotone-curve.ts";
import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import type { Region } from "../values/region.ts";
import { requireFinite, requireOneOf, requirePositive, say } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";

/** What {@link shapeCells} takes. */
export interface ShapeCells {
  readonly along: "rpm" | "load";
  /** Where on the axis, and the factor there; the places rising. One point: that factor everywhere. */
  readonly points: readonly CurvePoint[];
  /** Left out: the whole table. */
  readonly region?: Region;
}

/**
 * The table times a curve over rpm or load that is drawn by a few points.
 *
 * For a cam, exhaust or intake whose effect is known at a few speeds. The curve is a monotone cubic: smooth, through every
 * point, between two points never outside their factors, and held beyond the first and the last. Feathered cells move by
 * their weight; locked cells and cells outside come out bit for bit. O(cells).
 *
 * @example shapeCells(table, { along: "rpm", points: [[2000, 1], [4500, 0.96], [6500, 1.05]] })
 * @throws FuelwrightError `bad-curve`, `not-finite`, `not-positive` naming the point, `bad-region`
 */
export function shapeCells(table: FuelTable, { along, points, region }: ShapeCells): FuelTable {
  requireOneOf("shapeCells: along", along, ["rpm", "load"]);
  if (along === "load" && table.load.quantity === "single-row")
    throw new FuelwrightError("bad-curve", "shapeCells: along must be rpm on a one-row table, got load; choose rpm");
  const curve = createCurve(points);
  const factors = table[along].breakpoints.map(curve);
  const columns = table.rpm.breakpoints.length;
  return editCells(
    table,
    region,
    "shapeCells",
    (old, at) => old * factors[along === "rpm" ? at % columns : Math.floor(at / columns)]!,
  );
}

function createCurve(points: readonly CurvePoint[]): (x: number) => number {
  if (!Array.isArray(points) || points.length < 1 || points.length > MOST_BREAKPOINTS)
    throw new FuelwrightError(
      "bad-curve",
      `shapeCells: points must be 1 to ${MOST_BREAKPOINTS} pairs of place and factor, got ${say(points)}; draw some`,
    );
  const checked = points.map((point, at): CurvePoint => {
    const [x, factor] = Array.isArray(point) ? point : [];
    requireFinite(`shapeCells: points[${at}][0]`, x);
    const before = at > 0 ? points[at - 1]![0] : Number.NEGATIVE_INFINITY;
    if (x <= before)
      throw new FuelwrightError(
        "bad-curve",
        `shapeCells: points[${at}][0] must be above ${before}, got ${x}; sort the points and drop repeats`,
        { at, x },
      );
    return [x, requirePositive(`shapeCells: points[${at}][1]`, factor)];
  });
  const only = checked[0]![1];
  return checked.length === 1 ? () => only : monotoneCurve(checked);
}
