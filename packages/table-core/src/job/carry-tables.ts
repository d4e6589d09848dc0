import * as v from "valibot";
import type { Build } from "../build/build.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { identifier } from "./shapes.ts";
import type { JobState } from "./step.ts";
import { requireTable, withTable } from "./step-definition.ts";

/** Settings of every step that carries several tables over to other parts. */
export const carriedEntries = {
  tables: v.array(identifier),
  /** The factory's pulses, for trims of an in-line unit. */
  basePulse: v.exactOptional(identifier),
};

/** What the operations behind such steps all take. */
interface Shared {
  readonly build: Build;
  readonly basePulse?: FuelTable;
}

/** Each table of the settings carried over, and the reports by table id. */
export function carryTables(
  kind: string,
  state: JobState,
  settings: { readonly tables: readonly string[]; readonly basePulse?: string },
  carry: (table: FuelTable, shared: Shared) => { readonly table: FuelTable; readonly report: unknown },
): { readonly state: JobState; readonly report: Readonly<Record<string, unknown>> } {
  const { tables, basePulse } = settings;
  const shared: Shared = {
    build: state.build,
    ...(basePulse !== undefined && { basePulse: requireTable(kind, state, basePulse) }),
  };
  const reports = new Map<string, unknown>();
  let next = state;
  for (const id of tables) {
    const { table, report } = carry(requireTable(kind, state, id), shared);
    next = withTable(next, table);
    reports.set(id, report);
  }
  // By way of a map, for a table may be called what objects inherit from.
  return { state: next, report: Object.fromEntries(reports) };
}

/** The state with some parts of the build exchanged. */
export const withBuild = (state: JobState, parts: Partial<Build>): JobState =>
  Object.freeze({ ...state, build: Object.freeze({ ...state.build, ...parts }) });
