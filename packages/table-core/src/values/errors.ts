/** What is known about an error beside its sentence: JSON values only. */
export type ErrorDetails = Readonly<Record<string, unknown>>;

/**
 * The one error this library throws on bad input.
 *
 * `message` reads `operation: what[where] rule, got value; what to do`. `code` is stable and meant for programs;
 * `details` holds the same facts as values.
 */
export class FuelwrightError extends Error {
  override readonly name = "FuelwrightError";
  readonly code: string;
  readonly details: ErrorDetails;

  constructor(code: string, message: string, details: ErrorDetails = {}) {
    super(message);
    this.code = code;
    this.details = details;
  }
}

/** Runs `work`; what it throws as a FuelwrightError is thrown on with `where` put before its sentence. */
export function within<T>(where: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    throw new FuelwrightError(error.code, `${where}: ${error.message}`, { ...error.details, where });
  }
}
