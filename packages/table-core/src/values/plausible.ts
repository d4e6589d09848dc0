import { FuelwrightError } from "./errors.ts";
import { requireFinite } from "./require.ts";

/** A way in which a figure is easily typed in the wrong unit. */
export interface MixUp {
  /** The unit that was probably meant. */
  readonly unit: string;
  /** The typed number, taken in that unit, in the field's own unit. */
  readonly toOwn: (typed: number) => number;
}

/**
 * Returns `value` if it lies in `low`..`high`, the range that parts of this kind have; otherwise says which unit was
 * probably meant.
 *
 * @throws FuelwrightError `not-finite`, or `implausible` with a "did you mean" sentence where a mix-up explains the figure
 */
export function requirePlausible(
  where: string,
  value: unknown,
  range: { readonly low: number; readonly high: number; readonly unit: string; readonly mixUps?: readonly MixUp[] },
): number {
  const { low, high, unit, mixUps = [] } = range;
  const number = requireFinite(where, value);
  if (number >= low && number <= high) return number;
  const meant = mixUps.find((mixUp) => mixUp.toOwn(number) >= low && mixUp.toOwn(number) <= high);
  const advice = meant
    ? `did you mean ${trim(number)} ${meant.unit} (${trim(meant.toOwn(number))} ${unit})?`
    : "check the figure and its unit";
  throw new FuelwrightError(
    "implausible",
    `${where} must be between ${low} and ${high} ${unit}, got ${trim(number)}; ${advice}`,
    { where, value, low, high, unit, ...(meant && { didYouMean: meant.toOwn(number), didYouMeanUnit: meant.unit }) },
  );
}

/** A number as a sentence shows it: at most four significant figures. */
export function trim(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** Engine speed as a sentence tells it: whole, with separators. */
export const sayRpm = (rpm: number): string => Math.round(rpm).toLocaleString("en");

/** A flow, pressure or length as a sentence tells it to a reader: at most three significant figures, as parts are rated. */
export function sayFigure(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/**
 * A percentage as a sentence tells it: two significant figures, three from 100 on.
 *
 * @param apartFrom - limits that it must not seem to meet by rounding; more figures are told then
 */
export function sayPercent(value: number, apartFrom: readonly number[] = []): string {
  for (let figures = Math.abs(value) < 100 ? 2 : 3; ; figures++) {
    const said = Number(value.toPrecision(figures));
    if (figures === 6 || said === value || !apartFrom.includes(said)) return String(said);
  }
}
