import { type FuelTable, lookupMany, percentChange, sameAxis } from "@fuelwright/table-core";
import type { Display } from "../../../store/display.ts";

/** Changes of fewer percent are rounding, not changes. */
const LEAST_CHANGE = 1e-6;

/** A table as it was brought in, seen on the breakpoints of the one handed over. */
export interface Compared {
  /** Row-major on the table's own axes; null where the table before does not reach. */
  readonly earlier: readonly (number | null)[];
  /** In percent of what is shown; 0: as before, null: there was nothing. */
  readonly percent: readonly (number | null)[];
  /** Whether both lie on the same breakpoints, so that nothing was looked up between them. */
  readonly sameAxes: boolean;
  readonly changed: number;
}

/** What changed in each cell against `before`; null if that is another kind of table, or there was none. */
export function compareWithSource(table: FuelTable, before: FuelTable | undefined, display: Display): Compared | null {
  if (!before || before.quantity !== table.quantity) return null;
  if (before.rpm.quantity !== table.rpm.quantity || before.load.quantity !== table.load.quantity) return null;
  const sameAxes = sameAxis(before.rpm, table.rpm) && sameAxis(before.load, table.load);
  const earlier = sameAxes ? Array.from(before.cells) : onAxesOf(table, before);
  const percent = earlier.map((was, at) => {
    if (was === null) return null;
    const now = table.cells[at]!;
    const change =
      table.quantity === "trim"
        ? percentChange("trim", was, now)
        : percentChange(table.quantity, display.show(was), display.show(now));
    return Math.abs(change) < LEAST_CHANGE ? 0 : change;
  });
  return { earlier, percent, sameAxes, changed: percent.filter((change) => change !== 0).length };
}

function onAxesOf({ rpm, load }: FuelTable, before: FuelTable): (number | null)[] {
  const places = load.breakpoints.flatMap((l) => rpm.breakpoints.map((r) => [r, l] as const));
  const values = lookupMany(before, {
    rpm: Float64Array.from(places, ([r]) => r),
    load: Float64Array.from(places, ([, l]) => l),
  });
  const reaches = (axis: readonly number[], value: number) => value >= axis[0]! && value <= axis.at(-1)!;
  return places.map(([r, l], at) =>
    reaches(before.rpm.breakpoints, r) && reaches(before.load.breakpoints, l) ? values[at]! : null,
  );
}
