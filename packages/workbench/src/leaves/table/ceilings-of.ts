import {
  type CeilingReport,
  type CellDemand,
  cellDemand,
  checkCeilings,
  type FuelTable,
  FuelwrightError,
  type JobState,
  regionWeights,
  type TableRoles,
} from "@fuelwright/table-core";
import type { CellMark } from "../../elements/fuel-grid/cell-marks.ts";
import type { Desk } from "../../store/desk.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { reachOf } from "./forms/reach.ts";

/** What the hardware says of a table as it is shown: hatches, sentences, fuel and duty of each cell. */
export interface TableCeilings {
  readonly report: CeilingReport | null;
  readonly marks: readonly CellMark[];
  readonly sentences: readonly string[];
  /** Why it can't be worked out, where that is worth saying. */
  readonly problem: string | null;
  fuelAt(at: number): number | null;
  fuelBeforeAt(at: number): number | null;
  dutyAt(at: number): number | null;
}

/** Quantities that meter no fuel by themselves. */
const silent = new Set(["lambda", "factor"]);

/** Works the ceilings out once for each state shown, and hands the same result out until that changes. */
export class CeilingsOf {
  private key: readonly unknown[] = [];
  private last: TableCeilings | null = null;

  at(desk: Pick<Desk, "job" | "shown" | "compared">, table: FuelTable): TableCeilings {
    const { shown, compared } = desk;
    const { roles } = desk.job;
    const key = [shown, compared, table, roles];
    if (!this.last || key.some((part, at) => part !== this.key[at])) {
      this.key = key;
      this.last = workOut(shown, compared, table, roles);
    }
    return this.last;
  }
}

function workOut(shown: JobState, compared: JobState, table: FuelTable, roles: TableRoles): TableCeilings {
  const locked = lockMarks(table);
  if (silent.has(table.quantity) || table.rpm.quantity !== "rpm") return without(locked, null);
  try {
    const report = checkCeilings(demandSettings(shown, table, roles));
    const earlier = compared.tables[table.id];
    const before = earlier ? demandOf(compared, earlier, roles) : null;
    const same = before?.askedMg.length === table.cells.length ? before : null;
    const { demand } = report;
    return {
      report,
      marks: [
        ...report.ceilings.flatMap(({ sentence, cells }) =>
          cells.map(({ at }): CellMark => ({ at, kind: "ceiling", words: sentence })),
        ),
        ...locked,
      ],
      sentences: report.ceilings.map(
        ({ sentence, cells }) =>
          `${sentence} ${cells.length === 1 ? "1 cell" : `${cells.length} cells`}, ${reachOf(cells)}.`,
      ),
      problem: null,
      fuelAt: (at) => demand.askedMg[at] ?? null,
      fuelBeforeAt: (at) => same?.askedMg[at] ?? null,
      dutyAt: (at) => demand.duty[at] ?? null,
    };
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return without(locked, plainRefusal(error.message));
  }
}

function demandOf(state: JobState, table: FuelTable, roles: TableRoles): CellDemand | null {
  try {
    return cellDemand(demandSettings(state, table, roles));
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return null;
  }
}

function demandSettings({ build, tables }: JobState, table: FuelTable, { target, basePulse }: TableRoles) {
  const wished = target === undefined ? undefined : tables[target];
  const base = basePulse === undefined ? undefined : tables[basePulse];
  return { build, table, ...(wished && { target: wished }), ...(base && { basePulse: base }) };
}

function lockMarks(table: FuelTable): CellMark[] {
  const locked = new Set<number>();
  for (const region of table.locked)
    regionWeights(table, region).forEach((weight, at) => {
      if (weight > 0) locked.add(at);
    });
  return [...locked].map((at) => ({ at, kind: "locked", words: "locked" }));
}

const none = () => null;

const without = (marks: readonly CellMark[], problem: string | null): TableCeilings => ({
  ...{ report: null, marks, sentences: [], problem },
  ...{ fuelAt: none, fuelBeforeAt: none, dutyAt: none },
});
