import type { DemandSettings } from "../build/cell-demand.ts";
import { type CeilingReport, checkCeilings as checkTableCeilings } from "../build/check-ceilings.ts";
import { FuelwrightError } from "../values/errors.ts";
import type { Job } from "./job.ts";
import { replayJob } from "./replay-job.ts";
import { requireTable } from "./step-definition.ts";

/**
 * Which cells pass what the parts can give, which part gives out first, and what mixture then really arrives: of one
 * table with its build, or of a job as it stands after all its steps.
 *
 * For a job the target and the factory's pulses are those of its roles. `table` says which table; left out: the first
 * that meters fuel and is not the factory's.
 *
 * @example checkCeilings({ build, table, target: 0.88 }).first
 * @example checkCeilings(job, { table: "front" }).ceilings
 * @throws FuelwrightError `no-such-table` for a job without such a table, and as `cellDemand`
 */
export function checkCeilings(
  subject: Job | DemandSettings,
  { table: id }: { readonly table?: string } = {},
): CeilingReport {
  if (!("steps" in subject)) return checkTableCeilings(subject);
  const { state } = replayJob(subject);
  const { target, basePulse } = subject.roles;
  const meters = Object.values(state.tables).find(
    (table) => table.id !== basePulse && table.quantity !== "lambda" && table.quantity !== "factor",
  );
  if (id === undefined && !meters)
    throw new FuelwrightError(
      "no-such-table",
      `checkCeilings: ${subject.name} must have a table that meters fuel, got none; bring one in`,
    );
  return checkTableCeilings({
    build: state.build,
    table: id === undefined ? meters! : requireTable("checkCeilings", state, id),
    ...(target !== undefined && { target: requireTable("checkCeilings", state, target) }),
    ...(basePulse !== undefined && { basePulse: requireTable("checkCeilings", state, basePulse) }),
  });
}
