import { FuelwrightError } from "../values/errors.ts";
import type { Storage } from "../values/fuel-table.ts";

/** The values that a controller can store, numbered from 0 at its min. */
export interface StorageLevels {
  /** The number of the highest. */
  readonly top: number;
  /** The number of the level nearest to a value, halves upward; below 0 or above `top` where it lies outside. */
  nearest(value: number): number;
  /** The value of a level. */
  value(level: number): number;
}

/**
 * The levels min, min + step, … up to the last that is not above max.
 *
 * Where the step is 1/k and min a whole multiple of it (0.1, 0.05, 0.004), a level is that decimal number itself and not
 * the sum, so that a table shows 0.3 and never 0.30000000000000004.
 *
 * @throws FuelwrightError `bad-storage` if there are too many levels to tell apart
 */
export function storageLevels({ min, max, step }: Storage): StorageLevels {
  const perUnit = Math.round(1 / step);
  const offset = Math.round(min * perUnit);
  const decimal = 1 / perUnit === step && offset / perUnit === min;
  // Rounding must not lose the last level where max is a whole number of steps away.
  const top = Math.floor(((max - min) / step) * (1 + 4 * Number.EPSILON));
  if (top > Number.MAX_SAFE_INTEGER)
    throw new FuelwrightError(
      "bad-storage",
      `storage: the range must have ${Number.MAX_SAFE_INTEGER} steps at most, got ${top}; check its step, ${step}`,
      { min, max, step },
    );
  return {
    top,
    nearest: (value) => Math.round((value - min) / step),
    value: (level) => Math.min(decimal ? (offset + level) / perUnit : min + level * step, max),
  };
}
