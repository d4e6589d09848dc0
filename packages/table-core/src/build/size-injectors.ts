import { type CellNote, cellNote } from "../fuel/cell-note.ts";
import { cycleTimeMs } from "../fuel/duty-cycle.ts";
import { deliveryOf } from "../fuel/injector.ts";
import { findRoot } from "../numeric/find-root.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { sayFigure, sayPercent } from "../values/plausible.ts";
import { type Region, regionWeights } from "../values/region.ts";
import { requirePositive, requireWhole, requireWithin } from "../values/require.ts";
import { basisOf, type CellDemand, cellDemand, type DemandSettings } from "./cell-demand.ts";
import { pumpFlow, pumpLoad } from "./pump-flow.ts";

/** Fuel and injector flow for a power. */
export interface PowerSizing {
  readonly totalGramsPerSecond: number;
  /** Of each injector, held open at the pressure it will see. */
  readonly flowGramsPerSecond: number;
  readonly basis: Basis;
}

/**
 * Flow of each injector for a power: power · consumption / (injectors · duty). Arithmetic for a first look; dead time, pressure
 * over the table and idle are left out, `sizeInjectors` has them.
 *
 * @example sizeInjectorsForPower({ powerKw: 150, brakeSpecificFuelConsumptionGPerKwh: 310, injectors: 4, dutyPercent: 85 })
 * @throws FuelwrightError `not-positive`, `not-whole`, `out-of-range`
 */
export function sizeInjectorsForPower(wish: {
  readonly powerKw: number;
  readonly brakeSpecificFuelConsumptionGPerKwh: number;
  readonly injectors: number;
  readonly dutyPercent: number;
}): PowerSizing {
  const power = requirePositive("sizeInjectorsForPower: powerKw", wish.powerKw);
  const consumption = requirePositive(
    "sizeInjectorsForPower: brakeSpecificFuelConsumptionGPerKwh",
    wish.brakeSpecificFuelConsumptionGPerKwh,
  );
  const injectors = requireWhole("sizeInjectorsForPower: injectors", wish.injectors, 1, 64);
  const duty = requireWithin("sizeInjectorsForPower: dutyPercent", wish.dutyPercent, 1, 100) / 100;
  const totalGramsPerSecond = (power * consumption) / 3600;
  return { totalGramsPerSecond, flowGramsPerSecond: totalGramsPerSecond / injectors / duty, basis: "computed" };
}

/** One end of the window, and the cell that sets it. */
export interface SizingEnd {
  /** Rated as the build's injectors are: at their rated pressure, with their test fluid. */
  readonly flowGramsPerSecond: number;
  /** The same of the build's fuel. */
  readonly flowCcPerMinute: number;
  /** `value` is the fuel mass of the cell in mg. */
  readonly cell: CellNote;
}

/** More rail pressure instead of other injectors. */
export interface RailAlternative {
  readonly pressureKpa: number;
  /** Whether the pump still gives the demand at that pressure; null when it isn't described. */
  readonly pumpKeepsUp: boolean | null;
  readonly sentence: string;
}

/** Injectors that fit: not one number but a window. */
export interface InjectorSizing {
  /** Smaller ones pass the planning ceiling somewhere; null when even the longest pulse is eaten by dead time. */
  readonly smallest: SizingEnd | null;
  /** Larger ones need a shorter pulse than they repeat somewhere. */
  readonly largest: SizingEnd | null;
  /** Whether any size fits both ends. */
  readonly fits: boolean;
  readonly sentence: string;
  /** The build's own injectors at more pressure; null when they do already, or no rail gets them there. */
  readonly rail: RailAlternative | null;
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** What {@link sizeInjectors} works with. */
export interface SizeInjectors extends DemandSettings {
  /** Where the engine idles, for the largest; left out: every cell that asks for fuel. */
  readonly idleRegion?: Region;
  /** Fuel to be had beyond the table, in percent; default 0. */
  readonly sparePercent?: number;
}

/** Where an injector doesn't say what it repeats; common practice is 1.5 to 2 ms. */
const COMMON_SMALLEST_PULSE_MS = 1.5;

/** Rails above this are no port injection; hoses, pump and regulator have their own limits long before. */
const HIGHEST_RAIL_KPA = 600;

/**
 * The window of injector flow for a table: from the smallest that stays under the planning ceiling in every cell, at its own
 * pressure difference, to the largest whose idle pulse stays above the shortest that repeats. Dead time and short pulses are
 * taken from the build's injectors.
 *
 * The smallest just meets the ceiling: with it, `checkCeilings` finds the greatest duty equal to the planning duty.
 *
 * @throws FuelwrightError as `cellDemand`; `no-fuel-asked` for a table without fuel
 */
export function sizeInjectors(settings: SizeInjectors): InjectorSizing {
  const { build, table, idleRegion, sparePercent = 0 } = settings;
  requireWithin("sizeInjectors: sparePercent", sparePercent, 0, 200);
  const demand = cellDemand(settings);
  const more = 1 + sparePercent / 100;
  const flowFor = ratedFlow(settings, demand);
  const { columns, cycleAt } = cyclesOf(settings);
  const planning = build.planning.dutyPercent / 100;
  const { injectionsPerCycle } = build.engine;
  const assumptions: Assumption[] = [...demand.assumptions];
  const smallestPulse = build.injectors.smallestPulseMs ?? COMMON_SMALLEST_PULSE_MS;
  const idle = idleRegion ? regionWeights(table, idleRegion) : null;
  let least = -1;
  let leastFlow = 0;
  let most = -1;
  let mostFlow = Number.POSITIVE_INFINITY;
  for (let at = 0; at < demand.askedMg.length; at++) {
    const mass = demand.askedMg[at]!;
    if (!(mass > 0)) continue;
    const flow = flowFor(at, mass * more, (cycleAt(at % columns) * planning) / injectionsPerCycle);
    if (flow > leastFlow) [least, leastFlow] = [at, flow];
    if (idle && idle[at] === 0) continue;
    const idleFlow = flowFor(at, mass, smallestPulse);
    if (idleFlow < mostFlow) [most, mostFlow] = [at, idleFlow];
  }
  if (least < 0)
    throw new FuelwrightError(
      "no-fuel-asked",
      `sizeInjectors: ${table.id} asks for no fuel in any cell; give a table that does`,
      {
        table: table.id,
      },
    );
  if (build.injectors.smallestPulseMs === undefined)
    assumptions.push(smallestPulseAssumption(most, flowFor, demand, mostFlow));
  const end = (at: number, flow: number): SizingEnd | null =>
    at < 0 || !Number.isFinite(flow)
      ? null
      : {
          flowGramsPerSecond: flow,
          flowCcPerMinute: (flow * 60) / build.fuel.densityKgPerL,
          cell: cellNote(table, at, demand.askedMg[at]!),
        };
  const smallest = end(least, leastFlow);
  const largest = end(most, mostFlow);
  const fits = smallest !== null && (largest === null || smallest.flowGramsPerSecond <= largest.flowGramsPerSecond);
  return {
    smallest,
    largest,
    fits,
    sentence: windowSentence(smallest, largest, fits),
    rail: railAlternative(settings, demand, more),
    basis: basisOf(assumptions),
    assumptions,
  };
}

/** The rated flow, in g/s, with which a pulse delivers a mass in a cell; infinite when dead time eats the pulse. */
function ratedFlow(
  { build }: DemandSettings,
  demand: CellDemand,
): (at: number, massMg: number, pulseMs: number) => number {
  const each = build.engine.injectorsPerCylinder ?? 1;
  const { injectionsPerCycle } = build.engine;
  const rated = build.injectors.flowGramsPerSecond;
  const prepare = deliveryOf(build.injectors);
  return (at, massMg, pulseMs) => {
    const delivery = prepare(build.battery.volts, demand.pressureKpa[at]!, build.fuel.densityKgPerL);
    const withOwn = delivery.massMg(pulseMs, injectionsPerCycle) * each;
    return withOwn > 0 ? (massMg / withOwn) * rated : Number.POSITIVE_INFINITY;
  };
}

function cyclesOf({ table }: DemandSettings) {
  const { breakpoints } = table.rpm;
  return { columns: breakpoints.length, cycleAt: (column: number) => cycleTimeMs(breakpoints[column]!) };
}

function smallestPulseAssumption(
  at: number,
  flowFor: (at: number, massMg: number, pulseMs: number) => number,
  demand: CellDemand,
  flow: number,
): Assumption {
  const other = flowFor(at, demand.askedMg[at]!, 2);
  const mattersPercent = Number.isFinite(flow) && at >= 0 ? (1 - other / flow) * 100 : 0;
  return {
    id: "smallest-pulse",
    text: `The injectors say no shortest pulse; ${COMMON_SMALLEST_PULSE_MS} ms is taken.`,
    basis: "common-practice",
    matters: `With 2 ms the largest size would be ${sayPercent(mattersPercent)} % less.`,
    mattersPercent,
  };
}

function windowSentence(smallest: SizingEnd | null, largest: SizingEnd | null, fits: boolean): string {
  const say = (end: SizingEnd) => `${sayFigure(end.flowGramsPerSecond)} g/s (${sayFigure(end.flowCcPerMinute)} cc/min)`;
  if (!smallest) return "No size does it: dead time eats the longest pulse. Lower the rev limit or the dead time.";
  if (!largest) return `At least ${say(smallest)}.`;
  return fits
    ? `From ${say(smallest)} to ${say(largest)}.`
    : `No size does both: full load needs ${say(smallest)}, idle at most ${say(largest)}. More injectors, or a shorter pulse that repeats.`;
}

/** The rail pressure at which the build's own injectors just meet the planning ceiling. */
function railAlternative(settings: SizeInjectors, demand: CellDemand, more: number): RailAlternative | null {
  const { build, table } = settings;
  const { injectionsPerCycle } = build.engine;
  const each = build.engine.injectorsPerCylinder ?? 1;
  const planning = build.planning.dutyPercent / 100;
  const { columns, cycleAt } = cyclesOf(settings);
  const prepare = deliveryOf(build.injectors);
  const now = build.rail.pressureKpa;
  const excessAt = (railKpa: number) => {
    let greatest = 0;
    for (let at = 0; at < demand.askedMg.length; at++) {
      const across = demand.pressureKpa[at]! + railKpa - now;
      const delivery = prepare(build.battery.volts, across, build.fuel.densityKgPerL);
      const pulse = delivery.pulseMs((demand.askedMg[at]! * more) / each, injectionsPerCycle);
      greatest = Math.max(greatest, (pulse * injectionsPerCycle) / cycleAt(at % columns));
    }
    return greatest - planning;
  };
  if (excessAt(now) <= 0 || excessAt(HIGHEST_RAIL_KPA) > 0) return null;
  const pressureKpa = findRoot(excessAt, now, HIGHEST_RAIL_KPA, 1e-6);
  const raised = { ...build, rail: { ...build.rail, pressureKpa } };
  const pumpKeepsUp = build.pump
    ? pumpLoad({
        build: raised,
        table,
        askedMg: demand.askedMg.map((mg) => mg * more),
        manifoldKpa: demand.manifoldKpa,
      }).every(
        ({ needLitresPerHour, pumpKpa }) =>
          pumpFlow(build.pump!, { pressureKpa: pumpKpa, volts: build.battery.volts }).litresPerHour >=
          needLitresPerHour,
      )
    : null;
  const pumpWords =
    pumpKeepsUp === null
      ? "whether the pump keeps up is not known"
      : pumpKeepsUp
        ? "the pump keeps up"
        : "the pump does not keep up";
  return {
    pressureKpa,
    pumpKeepsUp,
    sentence:
      `The present injectors would do at ${sayFigure(pressureKpa)} kPa of rail pressure; ${pumpWords}. ` +
      "Hoses, clamps, regulator and dead time must be good for it: fuel under pressure burns.",
  };
}
