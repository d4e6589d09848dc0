import type { Axis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireOneOf } from "../values/require.ts";
import { type AxisIndex, findBreakpoint } from "./axis-index.ts";

/**
 * What a lookup does beyond the axes: `hold` the value at the edge, `extend` the edge cell's bilinear surface (at a
 * corner with its cross term), or `refuse`.
 */
export type Outside = "hold" | "extend" | "refuse";

/** Returns the choice, `hold` if none was made. @throws FuelwrightError `unknown-choice` */
export function requireOutside(operation: string, outside: Outside | undefined): Outside {
  return outside === undefined ? "hold" : requireOneOf(`${operation}: outside`, outside, ["hold", "extend", "refuse"]);
}

/** The value itself, or the end of the axis that it passed. */
export const holdOn = (index: AxisIndex, value: number): number => Math.min(Math.max(value, index.low), index.high);

/** Whether `value` lies on the axis, ends included. */
export const isOn = (index: AxisIndex, value: number): boolean => value >= index.low && value <= index.high;

/** Number of the breakpoint at whose cell a value is read when surfaces are extended: never the last, unless it is met. */
export function extendedBreakpoint(index: AxisIndex, value: number): number {
  if (value > index.high) return Math.max(index.edges.length - 2, 0);
  return value < index.low ? 0 : findBreakpoint(index, value);
}

/** The error for a point that `refuse` turns away. */
export function outsideError(operation: string, where: string, axis: Axis, value: number): FuelwrightError {
  const low = axis.breakpoints[0]!;
  const high = axis.breakpoints[axis.breakpoints.length - 1]!;
  return new FuelwrightError(
    "outside-table",
    `${operation}: ${where} must lie on the axis, ${low} to ${high} ${axis.unit}, got ${value}; ` +
      "widen the table, or choose to hold or extend its edge",
    { where, value, low, high },
  );
}
