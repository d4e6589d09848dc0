import { type CellNote, cellNote } from "../fuel/cell-note.ts";
import { findRoot } from "../numeric/find-root.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { sayFigure } from "../values/plausible.ts";
import { requireWithin } from "../values/require.ts";
import { basisOf, cellDemand, type DemandSettings } from "./cell-demand.ts";
import { pumpAssumptions, pumpCurve, pumpLoad } from "./pump-flow.ts";

/** What a pump must give, and what the build's pump has in hand. */
export interface PumpSizing {
  /** Flow asked in the cell that strains the pump most; without a pump, the greatest flow. */
  readonly needLitresPerHour: number;
  /** The same with the spare. */
  readonly wantedLitresPerHour: number;
  /** At the pump's outlet in that cell: rail, filter and line. */
  readonly pressureKpa: number;
  /** That cell. `value` is L/h. */
  readonly cell: CellNote;
  /** Null when no pump is described. */
  readonly pump: {
    readonly litresPerHour: number;
    /** Flow beyond the need in that cell, in percent; negative: short. */
    readonly inHandPercent: number;
    /** Outlet pressure at which its flow falls to the need; null when it never reaches it. */
    readonly givesOutKpa: number | null;
  } | null;
  readonly sentence: string;
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** Common practice: a fifth more than the engine burns, for hot fuel, age and low voltage. */
const COMMON_SPARE_PERCENT = 20;

/**
 * The pump for a table: the greatest demand, the pressure it is wanted at, and what the build's own pump has in hand there.
 *
 * A regulator returns what isn't burnt, so a pump may be larger; it may not be smaller in any cell.
 *
 * @param settings - as `cellDemand`; `sparePercent` beyond the need, default 20 (common practice)
 * @throws FuelwrightError as `cellDemand`
 */
export function sizePump(settings: DemandSettings & { readonly sparePercent?: number }): PumpSizing {
  const { build, table, sparePercent = COMMON_SPARE_PERCENT } = settings;
  requireWithin("sizePump: sparePercent", sparePercent, 0, 200);
  const demand = cellDemand(settings);
  const loads = pumpLoad({ build, table, askedMg: demand.askedMg, manifoldKpa: demand.manifoldKpa });
  const { volts } = build.battery;
  const curve = build.pump ? pumpCurve(build.pump, volts) : null;
  // With a pump: the cell that takes the most of what it can give there; without one: the greatest flow.
  const strain = loads.map(({ needLitresPerHour, pumpKpa }) =>
    curve ? needLitresPerHour / Math.max(curve(Math.max(pumpKpa, 0)), 1e-9) : needLitresPerHour,
  );
  const at = strain.reduce((most, value, here) => (value > strain[most]! ? here : most), 0);
  const { needLitresPerHour, pumpKpa } = loads[at]!;
  const assumptions = [...demand.assumptions, ...(build.pump ? pumpAssumptions(build.pump, volts) : [])];
  const litresPerHour = curve?.(Math.max(pumpKpa, 0)) ?? 0;
  const pump = curve && {
    litresPerHour,
    inHandPercent: (litresPerHour / needLitresPerHour - 1) * 100,
    givesOutKpa: givesOut(curve, needLitresPerHour),
  };
  const wantedLitresPerHour = needLitresPerHour * (1 + sparePercent / 100);
  return {
    needLitresPerHour,
    wantedLitresPerHour,
    pressureKpa: pumpKpa,
    cell: cellNote(table, at, needLitresPerHour),
    pump,
    sentence:
      `The engine burns up to ${sayFigure(needLitresPerHour)} L/h at ${sayFigure(pumpKpa)} kPa; with ${sparePercent} % to spare ` +
      `${sayFigure(wantedLitresPerHour)} L/h (common practice).` +
      (pump
        ? ` The pump gives ${sayFigure(litresPerHour)} L/h there` +
          (pump.givesOutKpa === null ? " and never enough." : `, and enough up to ${sayFigure(pump.givesOutKpa)} kPa.`)
        : ""),
    basis: basisOf(assumptions),
    assumptions,
  };
}

/** The highest pressure at which the pump still gives a flow. */
function givesOut(curve: (kpa: number) => number, litresPerHour: number): number | null {
  if (curve(0) < litresPerHour) return null;
  return findRoot((kpa) => curve(kpa) - litresPerHour, 0, 10_000, 1e-9);
}
