import { FuelwrightError } from "./errors.ts";

/**
 * Returns `value` if it is a finite number, and 0 for −0, which JSON could not keep apart.
 *
 * @throws FuelwrightError `not-finite`, naming `where`
 */
export function requireFinite(where: string, value: unknown): number {
  if (typeof value !== "number" || !Number.isFinite(value))
    throw new FuelwrightError("not-finite", `${where} must be a finite number, got ${say(value)}; give a number`, {
      where,
      value,
    });
  // JSON has no −0: with it a document would not equal itself after saving.
  return value + 0;
}

/** Returns `value` if it is finite and above zero. @throws FuelwrightError `not-finite` or `not-positive` */
export function requirePositive(where: string, value: unknown): number {
  if (requireFinite(where, value) <= 0)
    throw new FuelwrightError("not-positive", `${where} must be above 0, got ${say(value)}; check the figure`, {
      where,
      value,
    });
  return value as number;
}

/** Returns `value` if it lies in the closed range `low`..`high`. @throws FuelwrightError `not-finite` or `out-of-range` */
export function requireWithin(where: string, value: unknown, low: number, high: number): number {
  const number = requireFinite(where, value);
  if (number < low || number > high)
    throw new FuelwrightError(
      "out-of-range",
      `${where} must be between ${low} and ${high}, got ${number}; check the figure and its unit`,
      { where, value, low, high },
    );
  return number;
}

/** Returns `value` if it is a whole number in `low`..`high`. @throws FuelwrightError */
export function requireWhole(where: string, value: unknown, low: number, high: number): number {
  const number = requireWithin(where, value, low, high);
  if (!Number.isInteger(number))
    throw new FuelwrightError("not-whole", `${where} must be a whole number, got ${number}; round it`, {
      where,
      value,
    });
  return number;
}

/** Returns `value` if it is one of `choices`. @throws FuelwrightError `unknown-choice` that lists them */
export function requireOneOf<T extends string>(where: string, value: unknown, choices: readonly T[]): T {
  if (!choices.includes(value as T))
    throw new FuelwrightError(
      "unknown-choice",
      `${where} must be one of ${choices.join(", ")}, got ${say(value)}; choose one of these`,
      { where, value, choices },
    );
  return value as T;
}

/** Returns `value` if it is text of 1..`longest` characters. @throws FuelwrightError */
export function requireText(where: string, value: unknown, longest = 200): string {
  if (typeof value !== "string" || value.trim() === "" || value.length > longest)
    throw new FuelwrightError(
      "bad-text",
      `${where} must be text of 1 to ${longest} characters, got ${say(value)}; shorten it or fill it in`,
      { where, value },
    );
  return value;
}

/** A value as an error sentence can show it: short, and safe to print. */
export function say(value: unknown): string {
  if (typeof value === "string") return JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}…` : value);
  if (typeof value === "number" || value === null || value === undefined || typeof value === "boolean")
    return String(value);
  return Array.isArray(value) ? `a list of ${value.length}` : `a value of type ${typeof value}`;
}

/** Names as an error sentence can list them: the first dozen, and how many more there are. */
export function sayList(names: readonly string[]): string {
  const shown = names.slice(0, 12).join(", ");
  return names.length > 12 ? `${shown} and ${names.length - 12} more` : shown;
}
