/** The command line itself is wrong: exit code 2. What the input says wrongly is a FuelwrightError, and exit code 1. */
export class UsageError extends Error {}
