import type { Assumption } from "../values/basis.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { cycleTimeMs } from "./duty-cycle.ts";
import type { Delivery } from "./injector.ts";

/** Base pulses tried between the shortest and the longest: the error falls as 1/pulse, so they are spaced by ratio. */
const PULSES_TRIED = 12;

/** A short idle pulse of a small engine; common practice. */
const SHORTEST_PULSE_MS = 1.5;

/**
 * Trims whose base pulse isn't known: by the ratio of flows alone, with the band that dead time and short pulses leave
 * open over the base pulses that are plausible at each cell's rpm.
 *
 * With base pulse p the right trim differs from the ratio by (new dead time - ratio · old dead time) / p.
 */
export function trimEstimate(
  table: FuelTable,
  settings: {
    readonly oldAt: (at: number) => Delivery;
    readonly newAt: (at: number) => Delivery;
    readonly injections: number;
    /** New fuel over old, in each cell. */
    readonly massFactor: (at: number) => number;
    readonly planningDuty: number;
    readonly plausiblePulseMs?: readonly [shortest: number, longest: number];
  },
): {
  readonly cells: Float64Array;
  readonly band: { readonly low: Float64Array; readonly high: Float64Array };
  readonly assumption: Assumption;
} {
  const { oldAt, newAt, injections, massFactor, planningDuty, plausiblePulseMs } = settings;
  const { cells } = table;
  const columns = table.rpm.breakpoints.length;
  const estimate = new Float64Array(cells.length);
  const low = new Float64Array(cells.length);
  const high = new Float64Array(cells.length);
  let widest = 0;
  for (let at = 0; at < cells.length; at++) {
    const old = oldAt(at);
    const next = newAt(at);
    const factor = 1 + cells[at]! / 100;
    const more = massFactor(at);
    const ratio = ((factor * old.flow) / next.flow) * more;
    estimate[at] = (ratio - 1) * 100;
    low[at] = high[at] = estimate[at]!;
    const cycleMs = cycleTimeMs(table.rpm.breakpoints[at % columns]!);
    const shortest = plausiblePulseMs?.[0] ?? SHORTEST_PULSE_MS;
    const longest = Math.max(shortest, plausiblePulseMs?.[1] ?? (cycleMs / injections) * planningDuty);
    for (let tried = 0; tried < PULSES_TRIED; tried++) {
      const base = shortest * (longest / shortest) ** (tried / (PULSES_TRIED - 1));
      const mass = old.massMg(base * factor, injections) * more;
      // A base pulse that delivers nothing can't be the factory's.
      if (mass <= 0) continue;
      const trim = (next.pulseMs(mass, injections) / base - 1) * 100;
      low[at] = Math.min(low[at]!, trim);
      high[at] = Math.max(high[at]!, trim);
    }
    widest = Math.max(widest, high[at]! - estimate[at]!, estimate[at]! - low[at]!);
  }
  const from = plausiblePulseMs?.[0] ?? SHORTEST_PULSE_MS;
  const to = plausiblePulseMs ? `${plausiblePulseMs[1]} ms` : "the planning ceiling";
  return {
    cells: estimate,
    band: { low, high },
    assumption: {
      id: "base-pulse-unknown",
      text: `The factory's pulses are not known; trims go by flow alone, and base pulses from ${from} ms to ${to} are considered.`,
      basis: "estimated",
      matters: `Dead time could make ${widest.toFixed(1)} points of trim; short pulses at idle suffer most. Give the base pulses to be exact.`,
      mattersPercent: widest,
    },
  };
}
