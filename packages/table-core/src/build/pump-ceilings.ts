import { cellNote } from "../fuel/cell-note.ts";
import { cycleTimeMs } from "../fuel/duty-cycle.ts";
import { deliveryOf } from "../fuel/injector.ts";
import { findRoot } from "../numeric/find-root.ts";
import { sayFigure } from "../values/plausible.ts";
import { type PartCeilings, placeOf, unknownPart, worstOf } from "./ceiling.ts";
import { basisOf, type CellDemand, type DemandSettings } from "./cell-demand.ts";
import { pumpAssumptions, pumpCurve, pumpLoad } from "./pump-flow.ts";

/** The pump's verdict, and what its shortfall does to the fuel that arrives. */
export interface PumpCeilings extends PartCeilings {
  /** How far rail pressure falls in each cell, in kPa; null without a pump. */
  readonly railDropKpa: Float64Array | null;
  /** Fuel that arrives at that pressure, for one cylinder and cycle. */
  readonly deliveredMg: Float64Array;
}

/** Below this share of its flow in hand a pump is at its limit; common practice. */
const LEAST_IN_HAND_PERCENT = 10;

/**
 * The pump against the demand of each cell, at its own pressure.
 *
 * Where the injectors draw more than the pump gives, rail pressure falls until both agree: the pulses stay, the fuel doesn't.
 */
export function pumpCeilings({ build, table }: DemandSettings, demand: CellDemand): PumpCeilings {
  const { pump } = build;
  if (!pump)
    return {
      ...unknownPart("pump", "No pump is described."),
      railDropKpa: null,
      deliveredMg: demand.deliveredMg,
    };
  const { volts } = build.battery;
  const curve = pumpCurve(pump, volts);
  const { manifoldKpa } = demand;
  const asked = pumpLoad({ build, table, askedMg: demand.askedMg, manifoldKpa });
  const drawn = pumpLoad({ build, table, askedMg: demand.deliveredMg, manifoldKpa });
  const capacity = asked.map(({ pumpKpa }) => curve(Math.max(pumpKpa, 0)));
  const share = Float64Array.from(asked, ({ needLitresPerHour }, at) =>
    capacity[at]! > 0 ? needLitresPerHour / capacity[at]! : needLitresPerHour > 0 ? Number.POSITIVE_INFINITY : 0,
  );
  const railDropKpa = new Float64Array(share.length);
  const deliveredMg = demand.deliveredMg.slice();
  const prepare = deliveryOf(build.injectors);
  const { injectionsPerCycle } = build.engine;
  const each = build.engine.injectorsPerCylinder ?? 1;
  const { breakpoints } = table.rpm;
  for (let at = 0; at < share.length; at++) {
    if (drawn[at]!.needLitresPerHour <= capacity[at]!) continue;
    const cycleMs = cycleTimeMs(breakpoints[at % breakpoints.length]!);
    const across = demand.pressureKpa[at]!;
    const { pumpKpa, needLitresPerHour } = drawn[at]!;
    const massAt = (drop: number) =>
      prepare(volts, Math.max(across - drop, 1e-9), build.fuel.densityKgPerL).massMg(
        demand.pulseMs[at]!,
        injectionsPerCycle,
        cycleMs,
      ) * each;
    const litresPerMg = needLitresPerHour / demand.deliveredMg[at]!;
    const excess = (drop: number) => massAt(drop) * litresPerMg - curve(Math.max(pumpKpa - drop, 0));
    railDropKpa[at] = findRoot(excess, 0, across, 1e-9);
    deliveredMg[at] = massAt(railDropKpa[at]!);
  }
  const worst = worstOf(table, share);
  const need = sayFigure(asked[worst.at]!.needLitresPerHour);
  const inHandPercent = worst.value > 0 ? (1 / worst.value - 1) * 100 : null;
  const short = worst.value > 1;
  const assumptions = [...demand.assumptions, ...pumpAssumptions(pump, volts)];
  return {
    verdict: {
      part: "pump",
      verdict: short
        ? "gives-out"
        : inHandPercent !== null && inHandPercent < LEAST_IN_HAND_PERCENT
          ? "at-limit"
          : "in-hand",
      sentence:
        `${need} L/h are asked ${placeOf(table, worst)}; at ${sayFigure(asked[worst.at]!.pumpKpa)} kPa and ${volts} V the pump gives ` +
        `${sayFigure(capacity[worst.at]!)} L/h.`,
      basis: basisOf(assumptions),
      share,
      worst,
      inHandPercent,
      assumptions,
    },
    ceilings: [
      {
        kind: "pump-short",
        part: "pump",
        sentence: "The injectors draw more than the pump gives: rail pressure falls, and the mixture goes lean.",
        cells: Array.from(railDropKpa).flatMap((drop, at) => (drop > 0 ? [cellNote(table, at, drop)] : [])),
      },
    ],
    railDropKpa,
    deliveredMg,
  };
}
