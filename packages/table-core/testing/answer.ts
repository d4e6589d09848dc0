import { FuelwrightError } from "../src/values/errors.ts";

/** How many broken inputs each reader is given in a test; `pnpm fuzz` asks for 100,000. */
export const fuzzRuns = Number(process.env.FUELWRIGHT_FUZZ_RUNS ?? 2000);

/** Throws unless an error of ours has a code and one sentence of bounded length that ends with what to do. */
export function requireSentence({ code, message }: FuelwrightError): void {
  if (!/^[a-z][a-z0-9-]*$/.test(code)) throw new Error(`no code: ${code}`);
  if (!/^\S.*; .+/s.test(message) || message.length > 1200) throw new Error(`no sentence: ${message}`);
}

/** What `work` gives; an error of ours counts as an answer if it says what to do, any other is thrown on. */
export function answer<T>(work: () => T): T | FuelwrightError {
  try {
    return work();
  } catch (error) {
    return refused(error);
  }
}

/** The same for work that takes its time. */
export async function laterAnswer<T>(work: () => Promise<T>): Promise<T | FuelwrightError> {
  try {
    return await work();
  } catch (error) {
    return refused(error);
  }
}

function refused(error: unknown): FuelwrightError {
  if (!(error instanceof FuelwrightError)) throw error;
  requireSentence(error);
  return error;
}

/** With fewer cases than this chance decides how many are of use. */
const ENOUGH_CASES = 500;

/** Throws unless more than `share` of the cases tried were of use: else the most of a check would be empty. */
export function requireUse(useful: number, tried: number, share: number): void {
  if (tried >= ENOUGH_CASES && !(useful > share * tried))
    throw new Error(`only ${useful} of ${tried} cases were of use`);
}

/** Throws if any object would now inherit what it should not. */
export function requireCleanPrototypes(): void {
  const found = [Object.prototype, Array.prototype, Function.prototype].flatMap((prototype) => Object.keys(prototype));
  if (found.length) throw new Error(`a prototype was given ${found.join(", ")}`);
}

/** The value, frozen all the way down: who writes to it throws. */
export function deepFrozen<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFrozen(part);
  }
  return value;
}
