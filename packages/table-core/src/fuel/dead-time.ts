import { heldLinear } from "../numeric/held-linear.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requirePositive, requireWithin, say } from "../values/require.ts";

/** Dead time measured at a battery voltage, and at a pressure across the injector where that is known. */
export interface DeadTimePoint {
  readonly volts: number;
  readonly ms: number;
  readonly pressureKpa?: number;
}

/** Dead time in ms: one figure for every voltage, or points over voltage and perhaps pressure. */
export type DeadTime = number | readonly DeadTimePoint[];

/** One curve over volts, at one pressure. */
interface Curve {
  readonly pressureKpa: number;
  readonly volts: readonly number[];
  readonly ms: readonly number[];
}

/** A checked, frozen copy; points sorted by pressure, then voltage. @throws FuelwrightError `bad-dead-time`, `implausible` */
export function createDeadTime(deadTime: DeadTime, where: string): DeadTime {
  if (typeof deadTime === "number") return requireDeadTime(where, deadTime);
  if (!Array.isArray(deadTime) || deadTime.length === 0)
    throw new FuelwrightError(
      "bad-dead-time",
      `${where} must be milliseconds or a list of points, got ${say(deadTime)}; give at least one point of volts and ms`,
      { where },
    );
  const points: DeadTimePoint[] = deadTime.map((point: DeadTimePoint, at) => ({
    volts: requireVolts(`${where}[${at}].volts`, point?.volts),
    ms: requireDeadTime(`${where}[${at}].ms`, point.ms),
    ...(point.pressureKpa !== undefined && {
      pressureKpa: requirePositive(`${where}[${at}].pressureKpa`, point.pressureKpa),
    }),
  }));
  const withPressure = points.filter((point) => point.pressureKpa !== undefined).length;
  if (withPressure !== 0 && withPressure !== points.length)
    throw new FuelwrightError(
      "bad-dead-time",
      `${where} must give a pressure at every point or at none, got ${withPressure} of ${points.length}; fill in the others`,
      { where, withPressure, points: points.length },
    );
  points.sort((a, b) => (a.pressureKpa ?? 0) - (b.pressureKpa ?? 0) || a.volts - b.volts);
  points.forEach((point, at) => {
    const before = points[at - 1];
    if (before && before.volts === point.volts && before.pressureKpa === point.pressureKpa)
      throw new FuelwrightError(
        "bad-dead-time",
        `${where} has ${point.volts} V twice${point.pressureKpa === undefined ? "" : ` at ${point.pressureKpa} kPa`}; drop one of them`,
        { where, volts: point.volts },
      );
  });
  return Object.freeze(points.map((point) => Object.freeze(point)));
}

/**
 * Dead time over volts and pressure, ready to be asked many times.
 *
 * Linear over volts along each pressure's own points, then linear over pressure between the two curves around it: bilinear
 * on a full grid, and defined on a ragged one (each curve holds its first and last voltage). Outside the points the
 * nearest value is held: a dead time is not extrapolated.
 */
export function deadTimeLookup(deadTime: DeadTime): (volts: number, pressureKpa: number) => number {
  if (typeof deadTime === "number") return () => deadTime;
  const curves: Curve[] = [];
  for (const pressureKpa of new Set(deadTime.map((point) => point.pressureKpa ?? 0))) {
    const own = deadTime.filter((point) => (point.pressureKpa ?? 0) === pressureKpa);
    own.sort((a, b) => a.volts - b.volts);
    curves.push({ pressureKpa, volts: own.map((point) => point.volts), ms: own.map((point) => point.ms) });
  }
  curves.sort((a, b) => a.pressureKpa - b.pressureKpa);
  const pressures = curves.map((curve) => curve.pressureKpa);
  return (volts, pressureKpa) => {
    if (curves.length === 1) return heldLinear(curves[0]!.volts, curves[0]!.ms, volts);
    const values = curves.map((curve) => heldLinear(curve.volts, curve.ms, volts));
    return heldLinear(pressures, values, pressureKpa);
  };
}

function requireDeadTime(where: string, ms: unknown): number {
  return requirePlausible(where, ms, {
    low: 0,
    high: 10,
    unit: "ms",
    mixUps: [{ unit: "µs", toOwn: (microseconds) => microseconds / 1000 }],
  });
}

/** Battery voltage: more than nothing, and not a figure in millivolts. */
export function requireVolts(where: string, volts: unknown): number {
  requirePositive(where, volts);
  return requireWithin(where, volts, 4, 60);
}
