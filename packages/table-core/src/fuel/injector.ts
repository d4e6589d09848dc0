import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireFinite, requirePositive, requireText, requireWithin, say } from "../values/require.ts";
import { createDeadTime, type DeadTimePoint, deadTimeLookup, requireVolts } from "./dead-time.ts";
import { cycleTimeMs, dutyCycle } from "./duty-cycle.ts";
import { pressureMixUps } from "./rail.ts";

export { type DeadTimePoint, dutyCycle };

/** Short pulses, where delivery is no longer open time times flow: what an open time delivers, both in ms at full flow. */
export interface ShortPulsePoint {
  /** Pulse less dead time. */
  readonly effectiveMs: number;
  /** The open time at full flow that would deliver the same. */
  readonly deliveredMs: number;
}

/** What is known about an injector. Plain data: an {@link Injector} is also a valid spec. */
export interface InjectorSpec {
  readonly name: string;
  /** Flow held open at the rated pressure, of the test fluid. From cc/min: `convertUnit` with the fluid's density. */
  readonly flowGramsPerSecond: number;
  readonly ratedPressureKpa: number;
  /** Density of the fluid it was rated with (n-heptane 0.684). Left out: rated with the fuel it is used with. */
  readonly testDensityKgPerL?: number;
  /** Time from the start of the pulse that delivers nothing: ms, or points over voltage and perhaps pressure. */
  readonly deadTime: number | readonly DeadTimePoint[];
  /** Rising from 0; the last point must lie on delivered = effective. Left out: delivery is linear. */
  readonly shortPulse?: readonly ShortPulsePoint[];
  /** The shortest pulse that delivers the same each time. */
  readonly smallestPulseMs?: number;
}

/** A checked, frozen injector. */
export interface Injector extends InjectorSpec {
  readonly deadTime: number | readonly Readonly<DeadTimePoint>[];
}

/** What acts on an injector. */
export interface InjectionConditions {
  readonly volts: number;
  /** Across the injector; see `injectionPressure`. */
  readonly pressureKpa: number;
  /** Of the fuel; left out: that of the fluid the injector was rated with. */
  readonly densityKgPerL?: number;
}

/** How often it fires, for what happens when it no longer closes. */
export interface InjectionRhythm {
  /** With it, a pulse that fills the cycle delivers full flow all the time, without dead time. */
  readonly rpm?: number;
  /** Four-stroke; 1 (default) or 2. */
  readonly injectionsPerCycle?: number;
}

/**
 * A checked, frozen injector.
 *
 * @example createInjector({ name: "side feed", flowGramsPerSecond: 3.1, ratedPressureKpa: 300, deadTime: 0.9 })
 * @throws FuelwrightError naming the field: `not-positive` (flow or pressure zero), `implausible` (a unit mix-up),
 *   `bad-dead-time`, `bad-short-pulse`, `bad-text`
 */
export function createInjector(spec: InjectorSpec, where = "createInjector"): Injector {
  if (typeof spec !== "object" || spec === null)
    throw new FuelwrightError("bad-injector", `${where} must be an object, got ${say(spec)}; give flow and dead time`);
  requirePositive(`${where}.flowGramsPerSecond`, spec.flowGramsPerSecond);
  requirePositive(`${where}.ratedPressureKpa`, spec.ratedPressureKpa);
  return Object.freeze({
    name: requireText(`${where}.name`, spec.name, 100),
    flowGramsPerSecond: requirePlausible(`${where}.flowGramsPerSecond`, spec.flowGramsPerSecond, {
      low: 0.02,
      high: 100,
      unit: "g/s",
      mixUps: [{ unit: "cc/min", toOwn: (flow) => (flow * 0.745) / 60 }],
    }),
    ratedPressureKpa: requirePlausible(`${where}.ratedPressureKpa`, spec.ratedPressureKpa, {
      low: 50,
      high: 1500,
      unit: "kPa",
      mixUps: pressureMixUps,
    }),
    ...(spec.testDensityKgPerL !== undefined && {
      testDensityKgPerL: requirePlausible(`${where}.testDensityKgPerL`, spec.testDensityKgPerL, {
        low: 0.4,
        high: 1.3,
        unit: "kg/L",
        mixUps: [{ unit: "kg/m³", toOwn: (density) => density / 1000 }],
      }),
    }),
    deadTime: createDeadTime(spec.deadTime, `${where}.deadTime`),
    ...(spec.shortPulse !== undefined && { shortPulse: createShortPulse(spec.shortPulse, `${where}.shortPulse`) }),
    ...(spec.smallestPulseMs !== undefined && {
      smallestPulseMs: requirePlausible(`${where}.smallestPulseMs`, spec.smallestPulseMs, {
        low: 0,
        high: 20,
        unit: "ms",
        mixUps: [{ unit: "µs", toOwn: (microseconds) => microseconds / 1000 }],
      }),
    }),
  });
}

/**
 * Dead time in ms at a battery voltage and pressure: linear between the points, held outside them; on a ragged grid
 * along each pressure's own points first.
 *
 * @throws FuelwrightError `not-positive`, `out-of-range`
 */
export function deadTimeMs(
  injector: Pick<InjectorSpec, "deadTime">,
  { volts, pressureKpa }: Pick<InjectionConditions, "volts" | "pressureKpa">,
): number {
  requireVolts("deadTimeMs: volts", volts);
  requirePositive("deadTimeMs: pressureKpa", pressureKpa);
  return deadTimeLookup(injector.deadTime)(volts, pressureKpa);
}

/**
 * Flow held open, in g/s: rated flow times the roots of pressure and density over those it was rated at (Bernoulli).
 *
 * @param conditions - `pressureKpa` across the injector; `densityKgPerL` of the fuel, left out: as rated
 * @throws FuelwrightError `not-positive`
 */
export function massFlow(
  injector: Pick<InjectorSpec, "flowGramsPerSecond" | "ratedPressureKpa" | "testDensityKgPerL">,
  { pressureKpa, densityKgPerL }: Pick<InjectionConditions, "pressureKpa" | "densityKgPerL">,
): number {
  requirePositive("massFlow: pressureKpa", pressureKpa);
  if (densityKgPerL !== undefined) requirePositive("massFlow: densityKgPerL", densityKgPerL);
  return flowAt(injector, pressureKpa, densityKgPerL);
}

/**
 * Fuel in mg that pulses of one injector deliver in a cycle: flow(pressure) · g(pulse - dead time), for each injection.
 *
 * A pulse no longer than the dead time delivers nothing. With `rpm`, a pulse that fills the cycle delivers flow · cycle
 * time: the injector no longer closes.
 *
 * @param injection - `pulseMs` of each injection, conditions, and optionally the rhythm
 * @example deliveredMass(injector, { pulseMs: 4.2, volts: 13.8, pressureKpa: 300 }) // mg
 * @throws FuelwrightError `out-of-range` for a negative pulse, `not-positive`
 */
export function deliveredMass(
  injector: InjectorSpec,
  injection: InjectionConditions & InjectionRhythm & { readonly pulseMs: number },
): number {
  requireWithin("deliveredMass: pulseMs", injection.pulseMs, 0, Number.MAX_VALUE);
  const { injectionsPerCycle = 1, rpm } = requireConditions("deliveredMass", injection);
  const delivery = deliveryOf(injector)(injection.volts, injection.pressureKpa, injection.densityKgPerL);
  return delivery.massMg(injection.pulseMs, injectionsPerCycle, rpm === undefined ? undefined : cycleTimeMs(rpm));
}

/**
 * The pulse in ms, of each injection, that delivers a mass of fuel in a cycle: the inverse of {@link deliveredMass}.
 *
 * No fuel needs no pulse: 0. The result may be longer than the cycle; `dutyCycle` then says so, above 1.
 *
 * @param injection - `massMg` a cycle from this injector, conditions, and optionally `injectionsPerCycle`
 * @throws FuelwrightError `out-of-range` for a negative mass, `not-positive`
 */
export function pulseWidth(
  injector: InjectorSpec,
  injection: InjectionConditions & Pick<InjectionRhythm, "injectionsPerCycle"> & { readonly massMg: number },
): number {
  requireWithin("pulseWidth: massMg", injection.massMg, 0, Number.MAX_VALUE);
  const { injectionsPerCycle = 1 } = requireConditions("pulseWidth", injection);
  const delivery = deliveryOf(injector)(injection.volts, injection.pressureKpa, injection.densityKgPerL);
  return delivery.pulseMs(injection.massMg, injectionsPerCycle);
}

/** An injector at one voltage, pressure and density: both directions, unchecked, for use over many cells. */
export interface Delivery {
  readonly deadMs: number;
  /** Flow held open, in mg/ms, which is g/s. */
  readonly flow: number;
  /** mg a cycle of `injections` pulses; with the cycle's length, static where the pulses fill it. */
  massMg(pulseMs: number, injections: number, cycleMs?: number): number;
  /** The inverse, static left out of account; 0 for no mass. */
  pulseMs(massMg: number, injections: number): number;
}

/** The injector, prepared once, at any conditions. */
export function deliveryOf(
  injector: InjectorSpec,
): (volts: number, pressureKpa: number, densityKgPerL: number | undefined) => Delivery {
  const deadAt = deadTimeLookup(injector.deadTime);
  const effective = injector.shortPulse ? [0, ...injector.shortPulse.map((point) => point.effectiveMs)] : [0];
  const delivered = injector.shortPulse ? [0, ...injector.shortPulse.map((point) => point.deliveredMs)] : [0];
  const lastOf = effective.length - 1;
  const linearFrom = effective[lastOf]!;
  const deliveredFor = (open: number) => (open >= linearFrom ? open : along(effective, delivered, open));
  const openFor = (wanted: number) => (wanted >= linearFrom ? wanted : along(delivered, effective, wanted));
  return (volts, pressureKpa, densityKgPerL) => {
    const deadMs = deadAt(volts, pressureKpa);
    const flow = flowAt(injector, pressureKpa, densityKgPerL);
    return {
      deadMs,
      flow,
      massMg(pulseMs, injections, cycleMs) {
        if (cycleMs !== undefined && pulseMs * injections >= cycleMs) return flow * cycleMs;
        const open = pulseMs - deadMs;
        return open > 0 ? flow * deliveredFor(open) * injections : 0;
      },
      pulseMs(massMg, injections) {
        return massMg > 0 ? deadMs + openFor(massMg / (flow * injections)) : 0;
      },
    };
  };
}

/** Whether two injectors do the same, whatever they are called. */
export function sameInjector(a: InjectorSpec, b: InjectorSpec): boolean {
  if (a === b) return true;
  return (
    a.flowGramsPerSecond === b.flowGramsPerSecond &&
    a.ratedPressureKpa === b.ratedPressureKpa &&
    a.testDensityKgPerL === b.testDensityKgPerL &&
    JSON.stringify(a.deadTime) === JSON.stringify(b.deadTime) &&
    JSON.stringify(a.shortPulse) === JSON.stringify(b.shortPulse)
  );
}

/** Linear between points that rise in both directions, from 0; `x` lies inside. */
function along(xs: readonly number[], ys: readonly number[], x: number): number {
  let at = 1;
  while (xs[at]! < x) at++;
  const x0 = xs[at - 1]!;
  const y0 = ys[at - 1]!;
  return y0 + ((x - x0) * (ys[at]! - y0)) / (xs[at]! - x0);
}

function flowAt(
  injector: Pick<InjectorSpec, "flowGramsPerSecond" | "ratedPressureKpa" | "testDensityKgPerL">,
  pressureKpa: number,
  densityKgPerL: number | undefined,
): number {
  const { flowGramsPerSecond, ratedPressureKpa, testDensityKgPerL } = injector;
  const pressure = pressureKpa / ratedPressureKpa;
  const density =
    densityKgPerL === undefined || testDensityKgPerL === undefined ? 1 : densityKgPerL / testDensityKgPerL;
  return flowGramsPerSecond * Math.sqrt(pressure * density);
}

function createShortPulse(points: readonly ShortPulsePoint[], where: string): readonly ShortPulsePoint[] {
  if (!Array.isArray(points) || points.length === 0)
    throw new FuelwrightError(
      "bad-short-pulse",
      `${where} must be a list of points, got ${say(points)}; or leave it out`,
      {
        where,
      },
    );
  const copy = points.map((point: ShortPulsePoint, at) => ({
    effectiveMs: requireFinite(`${where}[${at}].effectiveMs`, point?.effectiveMs),
    deliveredMs: requireFinite(`${where}[${at}].deliveredMs`, point.deliveredMs),
  }));
  // A first point at 0, 0 says what is true of every injector.
  if (copy[0]!.effectiveMs === 0 && copy[0]!.deliveredMs === 0) copy.shift();
  copy.forEach((point, at) => {
    const before = copy[at - 1] ?? { effectiveMs: 0, deliveredMs: 0 };
    if (!(point.effectiveMs > before.effectiveMs && point.deliveredMs > before.deliveredMs))
      throw new FuelwrightError(
        "bad-short-pulse",
        `${where}[${at}] must rise in both figures above ${before.effectiveMs} and ${before.deliveredMs} ms, ` +
          `got ${point.effectiveMs} and ${point.deliveredMs}; more open time always delivers more`,
        { where, at },
      );
  });
  const last = copy.at(-1);
  if (!last || last.effectiveMs !== last.deliveredMs)
    throw new FuelwrightError(
      "bad-short-pulse",
      `${where} must end where delivered equals effective, got ${last ? `${last.effectiveMs} and ${last.deliveredMs} ms` : "no point above 0"}; ` +
        "add the point from which delivery is linear",
      { where },
    );
  return Object.freeze(copy.map((point) => Object.freeze(point)));
}

function requireConditions<T extends InjectionConditions & InjectionRhythm>(where: string, conditions: T): T {
  requireVolts(`${where}: volts`, conditions.volts);
  requirePositive(`${where}: pressureKpa`, conditions.pressureKpa);
  if (conditions.densityKgPerL !== undefined) requirePositive(`${where}: densityKgPerL`, conditions.densityKgPerL);
  if (conditions.rpm !== undefined) requirePositive(`${where}: rpm`, conditions.rpm);
  if (conditions.injectionsPerCycle !== undefined)
    requireWithin(`${where}: injectionsPerCycle`, conditions.injectionsPerCycle, 1, 8);
  return conditions;
}
