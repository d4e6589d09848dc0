import type { Job } from "@fuelwright/table-core";

/** One state of the job, and the change that led to it. Entries are never changed or thrown away. */
export interface Entry {
  readonly seq: number;
  /** The entry it was made from; -1: none, it is the first. */
  readonly parent: number;
  readonly label: string;
  readonly time: string;
  readonly job: Job;
}

/**
 * All states the job has had, as a tree, and where it stands.
 *
 * Undo goes to the parent, redo back along the way undone; a change after an undo starts a new branch and leaves the old
 * one in the list of versions.
 */
export interface History {
  readonly entries: readonly Entry[];
  readonly at: number;
  /** What was undone, the next to redo last. */
  readonly undone: readonly number[];
}

export function startHistory(job: Job, label: string, time = new Date().toISOString()): History {
  return { entries: [{ seq: 0, parent: -1, label, time, job }], at: 0, undone: [] };
}

export const current = (history: History): Job => history.entries[history.at]!.job;

/** The history with a new state at its end; the same history if the change changed nothing. */
export function record(history: History, label: string, job: Job, time = new Date().toISOString()): History {
  if (job === current(history)) return history;
  const seq = history.entries.length;
  return { entries: [...history.entries, { seq, parent: history.at, label, time, job }], at: seq, undone: [] };
}

/** What undo would undo, by its label, or null. */
export function undoLabel(history: History): string | null {
  const entry = history.entries[history.at]!;
  return entry.parent < 0 ? null : entry.label;
}

/** What redo would do again, by its label, or null. */
export function redoLabel(history: History): string | null {
  const next = history.undone.at(-1);
  return next === undefined ? null : history.entries[next]!.label;
}

/** One step back; the same history where there is none. */
export function undo(history: History): History {
  const { parent, seq } = history.entries[history.at]!;
  return parent < 0 ? history : { ...history, at: parent, undone: [...history.undone, seq] };
}

/** One step forward again; the same history where nothing was undone. */
export function redo(history: History): History {
  const next = history.undone.at(-1);
  return next === undefined ? history : { ...history, at: next, undone: history.undone.slice(0, -1) };
}

/** An earlier version brought back as a new change, so that bringing it back can be undone as well. */
export function restore(history: History, seq: number): History {
  const entry = history.entries[seq];
  return entry ? record(history, `Restore version ${seq + 1}, ${entry.label}`, entry.job) : history;
}
