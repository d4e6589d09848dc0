import { FuelwrightError } from "../values/errors.ts";

/** Anything that says whether to stop: an `AbortSignal` is one. */
export interface CancelSignal {
  readonly aborted: boolean;
}

/** @throws FuelwrightError `cancelled` */
export function throwIfCancelled(signal: CancelSignal | undefined): void {
  if (signal?.aborted)
    throw new FuelwrightError(
      "cancelled",
      "evidence: the work was cancelled; nothing has been changed, start again when you like",
    );
}
