import { FuelwrightError } from "./errors.ts";
import { type AxisQuantity, axisQuantities, requireQuantityUnit } from "./quantities.ts";
import { requireOneOf, say } from "./require.ts";

/** Strictly rising breakpoints along one side of a table, in `unit`. */
export interface Axis {
  readonly quantity: AxisQuantity;
  readonly unit: string;
  /** 2 to 256 of them, strictly rising; one in the load axis of a one-row table. */
  readonly breakpoints: readonly number[];
}

/** What {@link createAxis} takes: `unit` may be left out, or be another spelling of the quantity's own. */
export interface AxisSpec {
  readonly quantity: AxisQuantity;
  readonly unit?: string;
  /** In the quantity's own unit, strictly rising. */
  readonly breakpoints: ArrayLike<number>;
}

/** How many breakpoints an axis can have at most. */
export const MOST_BREAKPOINTS = 256;

/** The load axis of a one-row table: one breakpoint, and nothing to interpolate along. */
export const singleRow: Axis = Object.freeze({
  quantity: "single-row",
  unit: "",
  breakpoints: Object.freeze([0]),
});

/**
 * A checked axis: 2..256 finite, strictly rising breakpoints. Copies and freezes.
 *
 * @example createAxis({ quantity: "rpm", unit: "rpm", breakpoints: [900, 1200, 6000] })
 * @throws FuelwrightError `axis-too-short`, `axis-too-long`, `axis-not-rising` (naming the first bad breakpoint),
 *   `unknown-choice`, `unit-not-canonical`
 */
export function createAxis(spec: AxisSpec): Axis {
  const { quantity, unit, breakpoints } = spec;
  requireOneOf("createAxis: quantity", quantity, Object.keys(axisQuantities) as AxisQuantity[]);
  if (quantity === "single-row") return singleRow;
  const info = axisQuantities[quantity];
  const ownUnit = requireQuantityUnit(`createAxis: unit of ${info.label}`, info, unit);
  const count = breakpoints?.length ?? 0;
  if (count < 2)
    throw new FuelwrightError(
      "axis-too-short",
      `createAxis: ${info.label} needs at least 2 breakpoints, got ${count}; give one for each row or column`,
      { quantity, count },
    );
  if (count > MOST_BREAKPOINTS)
    throw new FuelwrightError(
      "axis-too-long",
      `createAxis: ${info.label} can have at most ${MOST_BREAKPOINTS} breakpoints, got ${count}; leave some out`,
      { quantity, count },
    );
  const copy = Array.from(breakpoints);
  copy.forEach((value, at) => {
    const floor = copy[at - 1] ?? Number.NEGATIVE_INFINITY;
    if (typeof value !== "number" || !Number.isFinite(value) || value <= floor)
      throw new FuelwrightError(
        "axis-not-rising",
        `createAxis: ${info.label} breakpoints[${at}] must be a finite number above ${floor} ${ownUnit}, ` +
          `got ${say(value)}; sort the breakpoints and drop repeats`,
        { quantity, at, value, floor },
      );
  });
  // Adding 0 makes 0 of −0, which JSON and CSV could not keep apart.
  return Object.freeze({ quantity, unit: ownUnit, breakpoints: Object.freeze(copy.map((value) => value + 0)) });
}

/** Whether two axes run along the same quantity with the same breakpoints. */
export function sameAxis(a: Axis, b: Axis): boolean {
  return (
    a === b ||
    (a.quantity === b.quantity &&
      a.breakpoints.length === b.breakpoints.length &&
      a.breakpoints.every((value, at) => value === b.breakpoints[at]))
  );
}
