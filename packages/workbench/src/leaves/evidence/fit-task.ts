import type { FuelTable, Step } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import type { FitTask, LogSource } from "../../workers/evidence-tasks.ts";
import { knownToJob } from "./correctable.ts";

/** A fit of `sources` for a table, with what the job knows of mixture and injectors. */
export function fitTask(
  desk: Desk,
  { rpm, load, id, name, cylinder }: FuelTable,
  sources: readonly LogSource[],
  rest: Pick<FitTask, "gates" | "apart" | "film">,
): FitTask {
  const { target, injectors } = knownToJob(desk);
  return {
    ...rest,
    kind: "fit",
    sources,
    table: { rpm, load, id, name, ...(cylinder !== undefined && { cylinder }) },
    sensors: null,
    target,
    // The made machine has injectors of its own.
    injectors: sources.every(({ kind }) => kind === "made") ? null : injectors,
  };
}

export type EvidenceStep = Extract<Step, { kind: "apply-evidence" }>;

/** Steps that applied evidence and stand in the job, the latest last. */
export const evidenceStepsOf = (desk: Desk): readonly EvidenceStep[] =>
  desk.job.steps.filter((step): step is EvidenceStep => step.kind === "apply-evidence" && step.on);

/** The table that a check is fitted for: that of the evidence that was applied. */
export function tableOfStep(desk: Desk, checked: string | null): FuelTable | null {
  const steps = evidenceStepsOf(desk);
  const step = steps.find(({ id }) => id === checked) ?? steps.at(-1);
  return (step?.table !== undefined && desk.bench.replay.state.tables[step.table]) || null;
}
