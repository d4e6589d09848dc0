import * as v from "valibot";
import { blendTables } from "../cells/blend-tables.ts";
import { quantiseReport } from "../cells/quantise-report.ts";
import { quantiseTable } from "../cells/quantise-table.ts";
import { rebinReport, rebinTable } from "../cells/rebin-table.ts";
import { shapeCells } from "../cells/shape-cells.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { finite, identifier, withRegion } from "./shapes.ts";
import type { JobState } from "./step.ts";
import { requireTable, type StepContext, tableStep } from "./step-definition.ts";

/** Another table of the job, as it is when the step is carried out, or as it stood after an earlier step. */
export const tableReference = v.strictObject({ table: identifier, after: v.exactOptional(identifier) });

/** The table that a reference means. @throws FuelwrightError `no-such-table`, `no-such-state` */
export function referredTable(
  kind: string,
  { table, after }: v.InferOutput<typeof tableReference>,
  state: JobState,
  context: StepContext,
): FuelTable {
  return requireTable(kind, after === undefined ? state : context.stateAt(after), table);
}

const side = v.pipe(v.array(finite), v.minLength(2), v.maxLength(256));
const share = v.pipe(finite, v.minValue(0), v.maxValue(1));
const rampPoint = v.strictTuple([finite, share]);

/** Steps that look at a whole table, or at a second one. */
export const tableSteps = [
  tableStep(
    "blend-tables",
    withRegion({
      with: tableReference,
      weight: v.union([share, v.strictObject({ along: v.picklist(["rpm", "load"]), from: rampPoint, to: rampPoint })]),
    }),
    (table, settings, state, context) =>
      blendTables(table, { ...settings, with: referredTable("blend-tables", settings.with, state, context) }),
  ),
  tableStep(
    "rebin-table",
    v.strictObject({ rpm: v.exactOptional(side), load: v.exactOptional(side) }),
    rebinTable,
    rebinReport,
  ),
  tableStep(
    "shape-cells",
    withRegion({
      along: v.picklist(["rpm", "load"]),
      points: v.pipe(v.array(v.strictTuple([finite, finite])), v.minLength(1), v.maxLength(256)),
    }),
    shapeCells,
  ),
  tableStep(
    "quantise-table",
    v.strictObject({
      storage: v.exactOptional(v.strictObject({ min: finite, max: finite, step: finite })),
      diffuse: v.exactOptional(v.boolean()),
    }),
    quantiseTable,
    (before, after) => quantiseReport(before, after),
  ),
] as const;
