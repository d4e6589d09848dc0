import type * as v from "valibot";
import { FuelwrightError } from "../values/errors.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { sayList } from "../values/require.ts";
import type { JobState } from "./step.ts";

/** What a step may look at beside the state it changes. */
export interface StepContext {
  /** The state after the step of that id, or before all steps (`source`). @throws FuelwrightError `no-such-state` */
  stateAt(place: string): JobState;
}

/** What applying a step gives: the next state, and what there is to say about it. */
export interface StepEffect {
  readonly state: JobState;
  /** The operation's own report, where it gives one. */
  readonly report?: unknown;
}

/** A kind of step: its settings' shape, and the one function that applies it. */
export interface StepDefinition<K extends string, S> {
  readonly kind: K;
  readonly schema: v.GenericSchema<unknown, S>;
  apply(state: JobState, step: { readonly table?: string; readonly settings: S }, context: StepContext): StepEffect;
}

export const defineStep = <const K extends string, S>(definition: StepDefinition<K, S>): StepDefinition<K, S> =>
  definition;

/**
 * A kind that changes one table by a pure operation `(table, settings) => table`.
 *
 * @param report - what there is to say about it, given the table before and after
 */
export const tableStep = <const K extends string, S>(
  kind: K,
  schema: v.GenericSchema<unknown, S>,
  operation: (table: FuelTable, settings: S, state: JobState, context: StepContext) => FuelTable,
  report?: (before: FuelTable, after: FuelTable, settings: S) => unknown,
): StepDefinition<K, S> =>
  defineStep({
    kind,
    schema,
    apply(state, { table: id, settings }, context) {
      const before = requireTable(kind, state, id);
      const after = operation(before, settings, state, context);
      return {
        state: withTable(state, after),
        // Made when it is read: a replay of many steps reads none.
        get report() {
          return report?.(before, after, settings);
        },
      };
    },
  });

/** The table of that id. @throws FuelwrightError `no-such-table`, naming those there are */
export function requireTable(where: string, state: JobState, id: string | undefined): FuelTable {
  const table = id !== undefined && Object.hasOwn(state.tables, id) ? state.tables[id] : undefined;
  if (!table)
    throw new FuelwrightError(
      "no-such-table",
      `${where}: table ${JSON.stringify(id ?? null)} is not in the job; choose one of ${sayList(Object.keys(state.tables))}`,
      { id, tables: Object.keys(state.tables) },
    );
  return table;
}

/** The state with that table put in or put in place of the one of the same id. */
export const withTable = (state: JobState, table: FuelTable): JobState =>
  Object.freeze({ ...state, tables: Object.freeze({ ...state.tables, [table.id]: table }) });
