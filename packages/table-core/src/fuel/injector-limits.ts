import type { FuelTable } from "../values/fuel-table.ts";
import { type CellNote, notesOf } from "./cell-note.ts";

/** Cells that meet a limit of the injectors. */
export interface InjectorLimits {
  /** Always open. `value` is the duty. */
  readonly static: readonly CellNote[];
  /** Above the planning ceiling, still closing. `value` is the duty. */
  readonly abovePlanning: readonly CellNote[];
  /** Under the shortest pulse that repeats. `value` is the pulse in ms. */
  readonly underSmallestPulse: readonly CellNote[];
}

/** The limits that pulses and duties meet; nothing where they aren't known. */
export function injectorLimits(
  table: FuelTable,
  pulses: { readonly pulseMs: Float64Array; readonly duty: Float64Array } | null,
  planningDuty: number,
  smallestPulseMs = 0,
): InjectorLimits {
  if (!pulses) return { static: [], abovePlanning: [], underSmallestPulse: [] };
  return {
    static: notesOf(table, pulses.duty, (duty) => duty >= 1),
    abovePlanning: notesOf(table, pulses.duty, (duty) => duty > planningDuty && duty < 1),
    underSmallestPulse: notesOf(table, pulses.pulseMs, (pulse) => pulse > 0 && pulse < smallestPulseMs),
  };
}
