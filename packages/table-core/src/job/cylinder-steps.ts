import * as v from "valibot";
import { copyCylinder } from "../cells/cylinders/copy-cylinder.ts";
import { joinCylinders } from "../cells/cylinders/join-cylinders.ts";
import { splitByCylinder } from "../cells/cylinders/split-by-cylinder.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { finite, identifier, region } from "./shapes.ts";
import type { JobState } from "./step.ts";
import { defineStep, requireTable, withTable } from "./step-definition.ts";

const several = v.pipe(v.array(identifier), v.minLength(2), v.maxLength(64));

const tablesOf = (kind: string, state: JobState, ids: readonly string[]) =>
  ids.map((id) => requireTable(kind, state, id));

const withTables = (state: JobState, tables: readonly FuelTable[]): JobState => tables.reduce(withTable, state);

/** Steps over the tables of several cylinders; the tables they make are added to those there are. */
export const cylinderSteps = [
  defineStep({
    kind: "split-by-cylinder",
    schema: v.strictObject({ cylinders: finite, trims: v.exactOptional(v.array(identifier)) }),
    apply(state, { table, settings: { cylinders, trims = [] } }) {
      const base = requireTable("split-by-cylinder", state, table);
      const parts = splitByCylinder(base, { cylinders, trims: tablesOf("split-by-cylinder", state, trims) });
      return { state: withTables(state, parts), report: { tables: parts.map(({ id }) => id) } };
    },
  }),
  defineStep({
    kind: "join-cylinders",
    schema: v.strictObject({ tables: several, base: v.exactOptional(identifier) }),
    apply(state, { settings: { tables, base } }) {
      const joined = joinCylinders(
        tablesOf("join-cylinders", state, tables),
        base === undefined ? {} : { base: requireTable("join-cylinders", state, base) },
      );
      return { state: withTables(state, [joined.base, ...joined.trims]), report: { inexact: joined.inexact } };
    },
  }),
  defineStep({
    kind: "copy-cylinder",
    schema: v.strictObject({
      tables: several,
      from: finite,
      to: v.exactOptional(v.array(finite)),
      region: v.exactOptional(region),
    }),
    apply(state, { settings: { tables, ...how } }) {
      return { state: withTables(state, copyCylinder(tablesOf("copy-cylinder", state, tables), how)) };
    },
  }),
] as const;
