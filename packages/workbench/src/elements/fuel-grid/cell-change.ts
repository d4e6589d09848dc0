import { type FuelTable, percentChange, sameAxis } from "@fuelwright/table-core";

/** Changes smaller than this many percent are rounding, not changes. */
export const LEAST_CHANGE = 1e-6;

/**
 * How far each cell of `now` is from `before`, in percent as `percentChange` says; null if there is nothing to compare.
 */
export function cellChange(now: FuelTable, before: FuelTable | null): Float64Array | null {
  if (!before || before === now || before.quantity !== now.quantity) return null;
  if (!sameAxis(before.rpm, now.rpm) || !sameAxis(before.load, now.load)) return null;
  const change = new Float64Array(now.cells.length);
  for (let at = 0; at < change.length; at++) {
    const percent = percentChange(now.quantity, before.cells[at]!, now.cells[at]!);
    change[at] = Math.abs(percent) < LEAST_CHANGE ? 0 : percent;
  }
  return change;
}

/** "+3.5 %", "−20.5 %", "under +0.1 %": a change for reading. */
export function changeText(percent: number): string {
  const sign = percent < 0 ? "−" : "+";
  const size = Math.abs(percent);
  if (size === Number.POSITIVE_INFINITY) return percent > 0 ? "up from zero" : "down from zero";
  if (size < 0.05) return `under ${sign}0.1 %`;
  return `${sign}${size < 1000 ? size.toFixed(1) : size.toFixed(0)} %`;
}
