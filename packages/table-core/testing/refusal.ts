import { FuelwrightError } from "../src/values/errors.ts";

/** The error of ours that `work` throws; anything else, and nothing at all, is an error of the test's own. */
export function refusal(work: () => unknown): FuelwrightError {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}
