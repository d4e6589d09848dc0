import * as fc from "fast-check";

/** By how much the number of runs of each property is multiplied: 6 to hunt for flakes, 0.1 where time is short. */
const factor = Number(process.env.FUELWRIGHT_RUNS ?? 1);
if (!(factor > 0)) throw new Error(`FUELWRIGHT_RUNS must be a number above 0, got ${process.env.FUELWRIGHT_RUNS}`);

/** fast-check's own number, for properties that say none. */
const USUAL = 100;

export * from "fast-check";

/** A fault put in on purpose is noticed by the first case that fails; a smaller case would tell nothing more of it. */
const endOnFailure = process.env.FUELWRIGHT_MUTATED !== undefined;

/** `fc.assert` with its number of runs multiplied; at least 5 are made. */
export const assert = ((property: fc.IAsyncProperty<unknown>, parameters: fc.Parameters<unknown> = {}) =>
  fc.assert(property, {
    endOnFailure,
    ...parameters,
    numRuns: Math.max(Math.min(5, parameters.numRuns ?? USUAL), Math.round((parameters.numRuns ?? USUAL) * factor)),
  })) as typeof fc.assert;

export default { ...fc, assert };
