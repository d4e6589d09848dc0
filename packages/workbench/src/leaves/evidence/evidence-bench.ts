import { type FuelTable, FuelwrightError, type Gate, type GateCount, usualGates } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import { EvidenceClient } from "../../workers/evidence-client.ts";
import type { FittedEvidence, LogSource, ReadChoices, TaskProgress } from "../../workers/evidence-tasks.ts";
import type { EvidenceManners } from "../table/forms/evidence-form.ts";
import { tableToCorrect } from "./correctable.ts";
import { fitTask, tableOfStep } from "./fit-task.ts";
import { addedCounts } from "./gate-totals.ts";
import { type LogEntry, type LogRole, sentenceOf } from "./log-entry.ts";
import { LogShelf } from "./log-shelf.ts";
import { madeRide } from "./made-ride.ts";

/** What was fitted, and for which table; `gates` are those it was fitted with. */
export interface Fitted {
  readonly table: FuelTable;
  readonly fits: readonly FittedEvidence[];
  readonly gates: readonly Gate[];
}

/** A fit under way, or why the last one came to nothing. */
export interface FitState {
  readonly progress: TaskProgress | null;
  readonly running: boolean;
  readonly problem: string | null;
  readonly result: Fitted | null;
}

const nothing: FitState = { progress: null, running: false, problem: null, result: null };

/**
 * The logs on the leaf, their gates and what was fitted: kept beside the job while the page is open, never in it.
 *
 * A log is read as soon as it is there, and fitted as soon as it is read; whatever is changed about it is read and fitted
 * again. Nothing is applied here.
 */
export class EvidenceBench {
  gates: readonly Gate[] = usualGates;
  wanted: string | null = null;
  film = true;
  apart = false;
  /** Which of the fits is shown, where each sensor has one. */
  shown = 0;
  manners: Required<EvidenceManners> = { fraction: 1, cap: 0.1, deviations: 1, manner: "shrunk", smooth: 0 };
  /** Fits of the logs to correct from, and of those that check a correction. */
  readonly fit: Record<LogRole, FitState> = { correct: nothing, check: nothing };
  /** The step that a second log is held against; null: the last. */
  checked: string | null = null;
  private readonly client = new EvidenceClient();
  private readonly shelf = new LogShelf(this.client, this);
  private readonly fitting: Partial<Record<LogRole, AbortController>> = {};
  private listeners = new Set<() => void>();

  constructor(readonly desk: Desk) {
    // Logs belong to the job they were dropped on.
    desk.bench.listen(({ type }) => type === "opened" && this.clear());
  }

  listen(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  changed(): void {
    for (const listener of this.listeners) listener();
  }

  settled(role: LogRole): void {
    this.refit(role);
  }

  get logs(): readonly LogEntry[] {
    return this.shelf.logs;
  }
  of(role: LogRole): readonly LogEntry[] {
    return this.shelf.of(role);
  }
  get table(): FuelTable | null {
    return tableToCorrect(this.desk, this.wanted);
  }

  /** Readings that the gates remove of all logs to correct from: of the fit where it is of these gates, else counted. */
  get counts(): { readonly readings: number; readonly kept: number; readonly gates: readonly GateCount[] } | null {
    const { result } = this.fit.correct;
    const report = result?.gates === this.gates ? result.fits[this.shown]?.fit.report : null;
    if (report) return { readings: report.readings, kept: report.used, gates: report.gates };
    return addedCounts(this.of("correct").map(({ reading }) => reading?.gates ?? null));
  }

  /** Changes what is looked at or applied, without fitting anything again. */
  put(part: Partial<Pick<EvidenceBench, "shown" | "manners" | "checked">>): void {
    Object.assign(this, part);
    this.changed();
  }

  addFiles(files: Iterable<File>, role: LogRole): void {
    for (const file of files) this.shelf.add({ kind: "file", file, name: file.name, choices: {} }, role);
  }

  /** Rides the table as it is on a made machine. */
  addMade(table: FuelTable, role: LogRole): void {
    const ride = madeRide(this.desk, table);
    // A made log tells of one state of the table; an older one would mix two.
    for (const log of this.of(role)) if (log.source.kind === "made") this.remove(log.id);
    this.shelf.add({ kind: "made", ride, name: ride.name ?? "made log", choices: {} }, role);
  }

  remove(id: number): void {
    this.shelf.remove(id);
  }

  choose(id: number, choices: ReadChoices): void {
    this.shelf.choose(id, choices);
  }

  setRole(id: number, role: LogRole): void {
    this.shelf.amend(id, { role });
    this.refitAll();
  }

  setGates(gates: readonly Gate[]): void {
    this.gates = gates;
    this.refitAll();
    void this.shelf.recount();
  }

  setFit(part: Partial<Pick<EvidenceBench, "wanted" | "film" | "apart">>): void {
    Object.assign(this, part, { shown: 0 });
    this.refitAll();
  }

  /** Stops reading and fitting; what was found before stays. */
  cancel(): void {
    this.shelf.cancel();
    for (const control of Object.values(this.fitting)) control.abort();
  }

  private clear(): void {
    this.cancel();
    this.shelf.clear();
    Object.assign(this, { wanted: null, shown: 0, checked: null, gates: usualGates });
    this.refitAll();
  }

  private refitAll(): void {
    this.refit("correct");
    this.refit("check");
  }

  /** Fits the logs of a role as soon as all of them are read. */
  refit(role: LogRole): void {
    this.fitting[role]?.abort();
    delete this.fitting[role];
    const ready = this.of(role).filter(({ reading }) => reading !== null);
    const table = role === "correct" ? this.table : tableOfStep(this.desk, this.checked);
    if (ready.length > 0 && !this.shelf.reads(role) && table) {
      const sources = ready.map(({ source }) => source);
      void this.runFit(role, table, sources);
      return;
    }
    // A log that is read again leaves the last fit standing for so long.
    const kept = this.of(role).length > 0 && this.shelf.reads(role);
    this.fit[role] = kept ? { ...this.fit[role], running: false, progress: null } : nothing;
    this.changed();
  }

  private async runFit(role: LogRole, table: FuelTable, sources: readonly LogSource[]): Promise<void> {
    const control = new AbortController();
    this.fitting[role] = control;
    const { gates, film } = this;
    const settings = { gates, film, apart: role === "correct" && this.apart };
    const put = (part: Partial<FitState>) => {
      if (this.fitting[role] !== control) return;
      this.fit[role] = { ...this.fit[role], ...part };
      this.changed();
    };
    put({ running: true, problem: null, progress: null });
    try {
      const fits = await this.client.run<"fit">(fitTask(this.desk, table, sources, settings), {
        signal: control.signal,
        onProgress: (progress) => put({ progress }),
      });
      put({ running: false, progress: null, result: { table, fits, gates } });
    } catch (error) {
      const stopped = error instanceof FuelwrightError && error.code === "cancelled";
      // What a stopped fit would have replaced is still true.
      put({ running: false, progress: null, problem: sentenceOf(error), ...(!stopped && { result: null }) });
    }
  }
}

const benches = new WeakMap<Desk, EvidenceBench>();

/** The bench of a desk: the same one however often the leaf is left and opened. */
export function evidenceBench(desk: Desk): EvidenceBench {
  let bench = benches.get(desk);
  if (!bench) benches.set(desk, (bench = new EvidenceBench(desk)));
  return bench;
}
