import {
  type AppliedEvidence,
  applyEvidence,
  type Build,
  type EvidenceSummary,
  type FuelTable,
  FuelwrightError,
} from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import type { EvidenceManners } from "../table/forms/evidence-form.ts";

/** What applying would do to the table, or why it can't be done. */
export type WouldApply =
  | { readonly report: AppliedEvidence; readonly problem: null }
  | { readonly report: null; readonly problem: string };

/** Settings of the step beside the evidence: the trims' base pulse, where the job has one. */
export function stepSettings(desk: Desk, table: FuelTable, manners: EvidenceManners) {
  const { basePulse } = desk.job.roles;
  return { ...manners, ...(table.quantity === "trim" && basePulse !== undefined && { basePulse }) };
}

/** Works out what applying would do, once for the same table, build, evidence and settings. */
export class WouldApplyOf {
  private key: readonly unknown[] = [];
  private last: WouldApply | null = null;

  of(desk: Desk, table: FuelTable, evidence: EvidenceSummary, manners: EvidenceManners): WouldApply {
    const { state } = desk.bench.replay;
    const key = [state, table, evidence, manners];
    if (!this.last || key.some((part, at) => part !== this.key[at])) {
      this.key = key;
      const base = stepSettings(desk, table, manners).basePulse;
      const basePulse = base === undefined ? undefined : state.tables[base];
      this.last = work(table, { ...manners, evidence, build: state.build, ...(basePulse && { basePulse }) });
    }
    return this.last;
  }
}

function work(
  table: FuelTable,
  settings: EvidenceManners & { evidence: EvidenceSummary; build: Build; basePulse?: FuelTable },
): WouldApply {
  try {
    return { report: applyEvidence(table, settings).report, problem: null };
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return { report: null, problem: plainRefusal(error.message) };
  }
}
