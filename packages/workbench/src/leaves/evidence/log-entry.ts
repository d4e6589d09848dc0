import { FuelwrightError, type LogColumn, recogniseColumns } from "@fuelwright/table-core";
import { plainRefusal } from "../../store/plain-refusal.ts";
import type { LogReading, LogSource, TaskProgress } from "../../workers/evidence-tasks.ts";

/** What a log is for: to correct the table from, or to see whether a correction worked. */
export type LogRole = "correct" | "check";

/** A log on the leaf, and how far it has been understood. */
export interface LogEntry {
  readonly id: number;
  readonly role: LogRole;
  readonly source: LogSource;
  /** null while it is being read, or where it can't be. */
  readonly reading: LogReading | null;
  readonly progress: TaskProgress | null;
  /** Why it can't be read, in words. */
  readonly problem: string | null;
  /** Columns to put right where reading stopped for want of one. */
  readonly columns: readonly LogColumn[];
}

export const columnsOf = (log: LogEntry): readonly LogColumn[] => log.reading?.columns ?? log.columns;

/** What a refused reading still tells of the log's headings. */
export function refusedColumns(error: unknown, before: readonly LogColumn[]): readonly LogColumn[] {
  const headings = error instanceof FuelwrightError ? error.details.headings : null;
  return Array.isArray(headings) ? recogniseColumns(headings.map(String)) : before;
}

/** Reading as a share 0..1, or null where its end is not known. */
export function readShare(progress: TaskProgress | null): number | null {
  if (progress?.of !== "log" || !progress.totalBytes) return null;
  return Math.min(1, progress.bytes / progress.totalBytes);
}

/** What an error is told as: a refusal's own sentence. */
export const sentenceOf = (error: unknown): string =>
  error instanceof FuelwrightError ? plainRefusal(error.message) : `This is a fault of the page: ${String(error)}`;
