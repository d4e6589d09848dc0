import { requireFinite, requirePositive, requireWithin } from "../values/require.ts";

/** Milliseconds of a four-stroke cycle (two revolutions) times rpm. */
const CYCLE_MS_RPM = 120_000;

/** Length of one four-stroke cycle, two revolutions, in ms. */
export function cycleTimeMs(rpm: number): number {
  return CYCLE_MS_RPM / rpm;
}

/**
 * The share of time an injector is open, as a fraction: 1 is always open (static), above 1 the pulse does not fit.
 *
 * Linear in rpm at a fixed pulse. Four-stroke: one cycle is two revolutions.
 *
 * @param injection - `pulseMs` of each injection, `rpm`, `injectionsPerCycle` 1 (default) or 2
 * @example dutyCycle({ pulseMs: 12, rpm: 7000 }) // 0.7
 * @throws FuelwrightError `not-finite`, `not-positive`, `out-of-range`
 */
export function dutyCycle(injection: {
  readonly pulseMs: number;
  readonly rpm: number;
  readonly injectionsPerCycle?: number;
}): number {
  const { pulseMs, rpm, injectionsPerCycle = 1 } = injection;
  requireWithin("dutyCycle: pulseMs", pulseMs, 0, Number.MAX_VALUE);
  requirePositive("dutyCycle: rpm", requireFinite("dutyCycle: rpm", rpm));
  requireWithin("dutyCycle: injectionsPerCycle", injectionsPerCycle, 1, 8);
  return (pulseMs * injectionsPerCycle * rpm) / CYCLE_MS_RPM;
}
