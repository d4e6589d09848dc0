import type { EvidenceSummary, FuelTable } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import type { FitTask } from "../../workers/evidence-tasks.ts";

/** Tables that evidence can correct, as they are after all steps: those that meter the fuel. */
export function correctableTables(desk: Desk): readonly FuelTable[] {
  const { roles } = desk.job;
  return Object.values(desk.bench.replay.state.tables).filter(
    ({ id, quantity }) => quantity !== "lambda" && id !== roles.basePulse,
  );
}

/** The table that a log is fitted for: the one asked for, the one at hand, or the first. */
export function tableToCorrect(desk: Desk, wanted: string | null): FuelTable | null {
  const tables = correctableTables(desk);
  const find = (id: string | null) => tables.find((table) => table.id === id);
  return find(wanted) ?? find(desk.view.table) ?? tables[0] ?? null;
}

/** The table that a fit belongs to: where each sensor was fitted apart, that of its cylinder. */
export function tableOfFit(desk: Desk, table: FuelTable, summary: EvidenceSummary): FuelTable {
  if (summary.cylinder === undefined || summary.cylinder === table.cylinder) return table;
  return (
    correctableTables(desk).find(
      ({ cylinder, quantity }) => cylinder === summary.cylinder && quantity === table.quantity,
    ) ?? table
  );
}

/** What the job itself knows that a fit needs: the mixture wished for and the injectors' dead time. */
export function knownToJob(desk: Desk): Pick<FitTask, "target" | "injectors"> {
  const { job, bench } = desk;
  const { build, tables } = bench.replay.state;
  const target = job.roles.target === undefined ? undefined : tables[job.roles.target];
  return {
    target: target?.quantity === "lambda" ? target : null,
    injectors: { spec: build.injectors, pressureKpa: build.rail.pressureKpa },
  };
}
