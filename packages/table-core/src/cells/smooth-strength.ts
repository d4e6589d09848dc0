import { FuelwrightError } from "../values/errors.ts";
import { requireWithin } from "../values/require.ts";

/** How strongly to smooth: one strength for both sides, one for each, or `auto`. */
export interface SmoothStrength {
  /**
   * Along both sides, at a mean spacing of 1. Waves shorter than about six cells times the fourth root of the strength
   * lose more than half. `auto`: found from the table itself (`findSmoothStrengths`).
   */
  readonly strength?: number | "auto";
  /** Along rpm, and along load, where they differ from `strength`; not with `auto`. 0: not at all. */
  readonly rpmStrength?: number;
  readonly loadStrength?: number;
}

/** Beyond this a table is a plane to rounding, and what bends it is rounding too. */
export const MOST_STRENGTH = 1e9;

/**
 * The two strengths that the settings come to.
 *
 * @param find - asked only if the settings say `auto`
 * @throws FuelwrightError `strength-missing`, `strength-said-twice`, `not-finite`, `out-of-range`
 */
export function requireStrength(
  operation: string,
  { strength, rpmStrength, loadStrength }: SmoothStrength,
  find: () => { readonly rpmStrength: number; readonly loadStrength: number },
): { readonly rpmStrength: number; readonly loadStrength: number } {
  if (strength === "auto") {
    if (rpmStrength !== undefined || loadStrength !== undefined)
      throw new FuelwrightError(
        "strength-said-twice",
        `${operation}: strength must be auto or a number for each side, got both; leave one out`,
      );
    const found = find();
    return { rpmStrength: found.rpmStrength, loadStrength: found.loadStrength };
  }
  if (strength === undefined && (rpmStrength === undefined || loadStrength === undefined))
    throw new FuelwrightError(
      "strength-missing",
      `${operation}: strength must be given, or rpmStrength and loadStrength, got too few; 1 is a gentle smoothing`,
    );
  const side = (name: string, own: number | undefined) =>
    own === undefined
      ? requireWithin(`${operation}: strength`, strength, 0, MOST_STRENGTH)
      : requireWithin(`${operation}: ${name}`, own, 0, MOST_STRENGTH);
  return { rpmStrength: side("rpmStrength", rpmStrength), loadStrength: side("loadStrength", loadStrength) };
}
