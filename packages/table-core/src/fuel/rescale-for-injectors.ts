import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { cellPlace, type FuelTable, withCells } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { type CellFuel, cellFuel, deliveriesOf, requireRpmAxis, trimmedPulses } from "./cell-fuel.ts";
import { type CellNote, cellNote, notesOf } from "./cell-note.ts";
import {
  basePulseCells,
  type FuellingConditions,
  howMuch,
  injectionPressures,
  largestDifference,
  type ManifoldPressures,
  manifoldPressures,
  planningOf,
  requirePulses,
} from "./conditions.ts";
import { cycleTimeMs } from "./duty-cycle.ts";
import { type Delivery, type InjectorSpec, massFlow, sameInjector } from "./injector.ts";
import { type InjectorConstants, injectorConstants, ratingAssumptions } from "./injector-constants.ts";
import { type InjectorLimits, injectorLimits } from "./injector-limits.ts";
import { trimEstimate } from "./trim-estimate.ts";

/** What {@link rescaleForInjectors} works with. */
export interface RescaleForInjectors {
  /** The injectors that come out. */
  readonly from: InjectorSpec;
  /** The injectors that go in. */
  readonly to: InjectorSpec;
  /** Engine, fuel, rail, battery and place; its own injectors don't count. */
  readonly build: FuellingConditions;
  /** For the trims of an in-line unit: the factory's unchanged pulses. Without them the trims are an estimate. */
  readonly basePulse?: FuelTable;
  /** Where the load axis doesn't say it, and the rail is fixed. */
  readonly manifoldKpa?: ManifoldPressures;
  /** Lambda of each cell, for the duty that an efficiency table leads to. */
  readonly target?: number | FuelTable;
  /** Shortest and longest base pulse that trims without `basePulse` may stand on; default 1.5 ms to the planning ceiling. */
  readonly plausiblePulseMs?: readonly [shortest: number, longest: number];
  /**
   * Cells that open no longer than the old dead time deliver nothing: `refuse` (default) says which one, `keep` carries them
   * over as pulses that deliver nothing (a fuel cut) and lists them.
   */
  readonly closedCells?: "refuse" | "keep";
}

/** What the change does in each cell, row-major [load][rpm]. */
export interface RescaledCells {
  readonly pulseBeforeMs: Float64Array;
  readonly pulseAfterMs: Float64Array;
  /** As fractions; 1 is always open. */
  readonly dutyBefore: Float64Array;
  /** See `dutyBefore`. */
  readonly dutyAfter: Float64Array;
  /** Delivered fuel, after against before, in percent; zero wherever both sets are inside their limits. */
  readonly fuelChangePercent: Float64Array;
  /** The new pulse against the old one times the ratio of flows, in percent: what dead time and short pulses make. */
  readonly flowRatioDifferencePercent: Float64Array;
}

/** What a change of injectors leads to; the limits are those of the new set. Where it is static the mass can't be kept. */
export interface RescaleReport extends InjectorLimits {
  /** `computed`, or `estimated` for trims without their base pulse. */
  readonly basis: Basis;
  readonly changed: "cells" | "injector-constants";
  /** What goes into the controller, or shows how the two sets differ. */
  readonly constants: InjectorConstants;
  /** Null where the table alone says nothing of pulses (lambda, factor, trims without base pulse). */
  readonly cells: RescaledCells | null;
  /** Always open with the old injectors: what was really delivered, full flow, is carried over. */
  readonly wasStatic: readonly CellNote[];
  /** No longer than the dead time. `value` is the old pulse in ms. */
  readonly closed: readonly CellNote[];
  /** Trims without base pulse: the least and the greatest trim that would be right, by what the base pulse is. */
  readonly band?: { readonly low: Float64Array; readonly high: Float64Array };
  readonly assumptions: readonly Assumption[];
}

/** In percent; less is rounding. */
const NOTHING_PERCENT = 1e-9;

/**
 * Carries a table over to other injectors, so that every cell still delivers the same fuel mass.
 *
 * Pulse widths: cell by cell, through both injectors at the cell's own pressure difference. Trims of an in-line unit: the
 * trims that make the factory's unchanged `basePulse` deliver the same; without it a flow-ratio estimate with its error band.
 * Fuel masses, efficiencies, lambda and factors: the cells stay, and the report says which constants change in the
 * controller. Cells that can't be kept are listed and never clipped. Equal injectors: the same table. O(cells).
 *
 * A first start on the result is made cold, by a competent person, with a wideband sensor and an extinguisher.
 *
 * @returns the new table, same axes and unit, and a report
 * @throws FuelwrightError naming the cell: `pulse-negative`, `pulse-under-dead-time`, `no-injection-pressure`; also
 *   `wrong-axis`, `wrong-quantity`, `axes-do-not-match`, `not-positive`
 */
export function rescaleForInjectors(
  table: FuelTable,
  settings: RescaleForInjectors,
): { readonly table: FuelTable; readonly report: RescaleReport } {
  const constants = injectorConstants(settings.from, settings.to, settings.build);
  switch (table.quantity) {
    case "pulse-width":
      return rescalePulses(table, settings, constants);
    case "trim":
      return settings.basePulse ? rescalePulses(table, settings, constants) : estimateTrims(table, settings, constants);
    case "fuel-mass":
    case "volumetric-efficiency":
      return keepCells(table, settings, constants);
    default:
      return {
        table,
        report: {
          ...nothingListed,
          basis: "computed",
          changed: "injector-constants",
          constants,
          cells: null,
          assumptions: [],
        },
      };
  }
}

const operation = "rescaleForInjectors";

const nothingListed = { wasStatic: [], static: [], abovePlanning: [], underSmallestPulse: [], closed: [] } as const;

/** Pulse widths, and trims on their base pulse: new⁻¹(old(pulse)). */
function rescalePulses(table: FuelTable, settings: RescaleForInjectors, constants: InjectorConstants) {
  requireRpmAxis(operation, table);
  const { build, basePulse, from, to } = settings;
  const trims = table.quantity === "trim";
  const before = trims ? trimmedPulses(operation, table, basePulse) : table.cells;
  const pressures = manifoldPressures(operation, table, build, settings.manifoldKpa);
  const solved = carryPulses(table, before, pressures.manifoldKpa, settings);
  const assumptions = [...ratingAssumptions(from, to, build)];
  if (build.rail.kind === "fixed")
    for (const assumption of pressures.assumptions) {
      const other =
        pressures.alternativeKpa && carryPulses(table, before, pressures.alternativeKpa, settings).pulseAfterMs;
      assumptions.push(other ? howMuch(assumption, largestDifference(solved.pulseAfterMs, other)) : assumption);
    }
  const base = trims ? basePulseCells(operation, basePulse!, table) : null;
  const same = sameInjector(from, to);
  const cells = base
    ? solved.pulseAfterMs.map((pulse, at) => (base[at]! > 0 ? (pulse / base[at]! - 1) * 100 : table.cells[at]!))
    : solved.pulseAfterMs;
  return {
    table: same ? table : withCells(table, cells, operation),
    report: reportOf(table, settings, constants, solved, assumptions),
  };
}

interface Carried extends RescaledCells {
  readonly closedCells: readonly number[];
}

function carryPulses(
  table: FuelTable,
  before: Float64Array,
  manifoldKpa: Float64Array,
  settings: RescaleForInjectors,
): Carried {
  const { from, to, build } = settings;
  requirePulses(operation, "the pulse", table, before);
  const pressureKpa = injectionPressures(operation, table, build, manifoldKpa);
  const oldAt = deliveriesOf(from, build, pressureKpa);
  const newAt = deliveriesOf(to, build, pressureKpa);
  const same = sameInjector(from, to);
  const { injectionsPerCycle } = build.engine;
  const { breakpoints } = table.rpm;
  const count = before.length;
  const after = new Float64Array(count);
  const dutyBefore = new Float64Array(count);
  const dutyAfter = new Float64Array(count);
  const fuelChangePercent = new Float64Array(count);
  const flowRatioDifferencePercent = new Float64Array(count);
  const closedCells: number[] = [];
  for (let at = 0, column = 0; at < count; at++) {
    const pulse = before[at]!;
    const old = oldAt(at);
    const next = newAt(at);
    const cycleMs = cycleTimeMs(breakpoints[column]!);
    if (++column === breakpoints.length) column = 0;
    const mass = old.massMg(pulse, injectionsPerCycle, cycleMs);
    if (mass === 0) {
      if (settings.closedCells !== "keep") refuseClosed(table, at, pulse, old.deadMs, build.battery.volts);
      closedCells.push(at);
    }
    const carried = same ? pulse : mass > 0 ? next.pulseMs(mass, injectionsPerCycle) : closedPulse(pulse, old, next);
    after[at] = carried;
    dutyBefore[at] = (pulse * injectionsPerCycle) / cycleMs;
    dutyAfter[at] = (carried * injectionsPerCycle) / cycleMs;
    if (mass > 0) {
      const difference = next.massMg(carried, injectionsPerCycle, cycleMs) - mass;
      const change = (difference / mass) * 100;
      // Just above the dead time the pulse's own last place is a share of the little that is delivered.
      const rounding = 64 * Number.EPSILON * carried * next.flow * injectionsPerCycle;
      fuelChangePercent[at] = Math.abs(change) < NOTHING_PERCENT || Math.abs(difference) < rounding ? 0 : change;
    }
    const plain = (pulse * old.flow) / next.flow;
    if (plain > 0) flowRatioDifferencePercent[at] = (carried / plain - 1) * 100;
  }
  return {
    pulseBeforeMs: before,
    pulseAfterMs: after,
    dutyBefore,
    dutyAfter,
    fuelChangePercent,
    flowRatioDifferencePercent,
    closedCells,
  };
}

/** A pulse that delivers nothing stays one, at the same share of the dead time, so that going back restores it. */
function closedPulse(pulse: number, old: Delivery, next: Delivery): number {
  return old.deadMs > 0 ? (pulse / old.deadMs) * next.deadMs : 0;
}

function refuseClosed(table: FuelTable, at: number, pulse: number, deadMs: number, volts: number): never {
  throw new FuelwrightError(
    "pulse-under-dead-time",
    `${operation}: the pulse at ${cellPlace(table, at)} must be longer than the dead time, ${deadMs} ms at ${volts} V, ` +
      `got ${pulse} ms; correct the cell, the dead time or the voltage, or say closedCells "keep" if fuel is cut there`,
    { at, pulse, deadMs, volts },
  );
}

/** Fuel masses and efficiencies: the cells stay; pulses and duty before and after are told. */
function keepCells(table: FuelTable, settings: RescaleForInjectors, constants: InjectorConstants) {
  const { from, to, build, target, manifoldKpa } = settings;
  const given = { build, ...(target !== undefined && { target }), ...(manifoldKpa !== undefined && { manifoldKpa }) };
  const before = cellFuel(operation, table, { ...given, injectors: from });
  const after = cellFuel(operation, table, { ...given, injectors: to });
  const assumptions = [
    ...before.assumptions.filter(({ id }) => id !== "rated-with-the-fuel"),
    ...ratingAssumptions(from, to, build),
  ];
  return { table, report: reportOf(table, settings, constants, keptCells(before, after, settings), assumptions) };
}

function keptCells(before: CellFuel, after: CellFuel, { from, to, build }: RescaleForInjectors): Carried {
  const { densityKgPerL } = build.fuel;
  const flow = (injector: InjectorSpec, pressureKpa: number) => massFlow(injector, { pressureKpa, densityKgPerL });
  const ratio = after.pressureKpa.map((kpa) => flow(from, kpa) / flow(to, kpa));
  return {
    pulseBeforeMs: before.pulseMs,
    pulseAfterMs: after.pulseMs,
    dutyBefore: before.duty,
    dutyAfter: after.duty,
    fuelChangePercent: after.deliveredMg.map((mass, at) => {
      const change = before.deliveredMg[at]! > 0 ? (mass / before.deliveredMg[at]! - 1) * 100 : 0;
      return Math.abs(change) < NOTHING_PERCENT ? 0 : change;
    }),
    flowRatioDifferencePercent: after.pulseMs.map((pulse, at) => {
      const plain = before.pulseMs[at]! * ratio[at]!;
      return plain > 0 ? (pulse / plain - 1) * 100 : 0;
    }),
    closedCells: [],
  };
}

/** Trims without their base pulse: the ratio of flows, and how far dead time could put it wrong. */
function estimateTrims(table: FuelTable, settings: RescaleForInjectors, constants: InjectorConstants) {
  requireRpmAxis(operation, table);
  const { build, from, to, plausiblePulseMs } = settings;
  if (plausiblePulseMs) {
    requireWithin(`${operation}: plausiblePulseMs[0]`, plausiblePulseMs[0], 0.1, 100);
    requireWithin(`${operation}: plausiblePulseMs[1]`, plausiblePulseMs[1], plausiblePulseMs[0], 1000);
  }
  const pressures = manifoldPressures(operation, table, build, settings.manifoldKpa);
  const pressureKpa = injectionPressures(operation, table, build, pressures.manifoldKpa);
  const same = sameInjector(from, to);
  const { injectionsPerCycle } = build.engine;
  const estimate = trimEstimate(table, {
    oldAt: deliveriesOf(from, build, pressureKpa),
    newAt: deliveriesOf(to, build, pressureKpa),
    injections: injectionsPerCycle,
    massFactor: () => 1,
    planningDuty: planningOf(build),
    ...(plausiblePulseMs && { plausiblePulseMs }),
  });
  return {
    table: same ? table : withCells(table, estimate.cells, operation),
    report: {
      ...nothingListed,
      basis: "estimated",
      changed: "cells",
      constants,
      cells: null,
      band: same ? { low: table.cells.slice(), high: table.cells.slice() } : estimate.band,
      assumptions: [
        ...(same ? [] : [estimate.assumption]),
        ...ratingAssumptions(from, to, build),
        ...(build.rail.kind === "fixed" ? pressures.assumptions : []),
      ],
    } satisfies RescaleReport,
  };
}

function reportOf(
  table: FuelTable,
  settings: RescaleForInjectors,
  constants: InjectorConstants,
  { closedCells, ...cells }: Carried,
  assumptions: readonly Assumption[],
): RescaleReport {
  const metered = table.quantity === "pulse-width" || table.quantity === "trim";
  return {
    basis: "computed",
    changed: metered ? "cells" : "injector-constants",
    constants,
    cells,
    wasStatic: notesOf(table, cells.dutyBefore, (duty) => duty >= 1),
    ...injectorLimits(
      table,
      { pulseMs: cells.pulseAfterMs, duty: cells.dutyAfter },
      planningOf(settings.build),
      settings.to.smallestPulseMs,
    ),
    closed: closedCells.map((at) => cellNote(table, at, cells.pulseBeforeMs[at]!)),
    assumptions,
  };
}
