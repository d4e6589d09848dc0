import { type FuelTable, FuelwrightError, type Gate, type GateCount, usualGates } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import { EvidenceClient } from "../../workers/evidence-client.ts";
import type { FittedEvidence, LogSource, ReadChoices, TaskProgress } from "../../workers/evidence-tasks.ts";
import type { EvidenceManners } from "../table/forms/evidence-form.ts";
import { tableToCorrect } from "./correctable.ts";
import { fitTask, tableOfStep } from "./fit-task.ts";
import { addedCounts } from "./gate-totals.ts";
import { type LogEntry, type LogRole, refusedColumns } from "./log-entry.ts";
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
  logs: readonly LogEntry[] = [];
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
  private readonly readings = new Map<number, AbortController>();
  private readonly fitting: Partial<Record<LogRole, AbortController>> = {};
  private counting = new AbortController();
  private listeners = new Set<() => void>();
  private next = 1;

  constructor(readonly desk: Desk) {}

  listen(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }

  /** Changes what is looked at or applied, without fitting anything again. */
  put(part: Partial<Pick<EvidenceBench, "shown" | "manners" | "checked">>): void {
    Object.assign(this, part);
    this.tell();
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

  of(role: LogRole): readonly LogEntry[] {
    return this.logs.filter((log) => log.role === role);
  }

  addFiles(files: Iterable<File>, role: LogRole): void {
    for (const file of files) this.add({ kind: "file", file, name: file.name, choices: {} }, role);
  }

  /** Rides the table as it is on a made machine. */
  addMade(table: FuelTable, role: LogRole): void {
    const ride = madeRide(this.desk, table);
    // A made log tells of one state of the table; an older one would mix two.
    for (const log of this.of(role)) if (log.source.kind === "made") this.remove(log.id);
    this.add({ kind: "made", ride, name: ride.name ?? "made log", choices: {} }, role);
  }

  private add(source: LogSource, role: LogRole): void {
    const entry = { id: this.next++, role, source, reading: null, progress: null, problem: null, columns: [] };
    this.logs = [...this.logs, entry];
    void this.read(entry.id);
  }

  remove(id: number): void {
    const gone = this.logs.find((log) => log.id === id);
    if (!gone) return;
    this.readings.get(id)?.abort();
    this.logs = this.logs.filter((log) => log !== gone);
    this.refit(gone.role);
  }

  /** Puts right how a log is read, and reads it again. */
  choose(id: number, choices: ReadChoices): void {
    const log = this.logs.find((other) => other.id === id);
    if (!log) return;
    this.amend(id, { source: { ...log.source, choices: { ...log.source.choices, ...choices } } });
    void this.read(id);
  }

  setRole(id: number, role: LogRole): void {
    this.amend(id, { role });
    this.refit("correct");
    this.refit("check");
  }

  setGates(gates: readonly Gate[]): void {
    this.gates = gates;
    this.refit("correct");
    this.refit("check");
    void this.recount();
  }

  setFit(part: Partial<Pick<EvidenceBench, "wanted" | "film" | "apart">>): void {
    Object.assign(this, part, { shown: 0 });
    this.refit("correct");
    if ("film" in part) this.refit("check");
  }

  /** Stops reading and fitting; what was found before stays. */
  cancel(): void {
    for (const control of this.readings.values()) control.abort();
    for (const control of Object.values(this.fitting)) control.abort();
  }

  private amend(id: number, part: Partial<LogEntry>): void {
    this.logs = this.logs.map((log) => (log.id === id ? { ...log, ...part } : log));
    this.tell();
  }

  private async read(id: number): Promise<void> {
    this.readings.get(id)?.abort();
    const control = new AbortController();
    this.readings.set(id, control);
    const { source, columns } = this.logs.find((log) => log.id === id)!;
    this.amend(id, { problem: null, progress: null });
    const mine = () => this.readings.get(id) === control;
    try {
      const reading = await this.client.run<"read">(
        { kind: "read", source, gates: this.gates },
        { signal: control.signal, onProgress: (progress) => mine() && this.amend(id, { progress }) },
      );
      if (mine()) this.amend(id, { reading, progress: null });
    } catch (error) {
      if (mine())
        this.amend(id, {
          reading: null,
          progress: null,
          problem: sentenceOf(error),
          columns: refusedColumns(error, columns),
        });
    } finally {
      if (mine()) this.readings.delete(id);
    }
    const log = this.logs.find((other) => other.id === id);
    if (log) this.refit(log.role);
  }

  /** Counts anew what the gates remove, for as long as no fit says it. */
  private async recount(): Promise<void> {
    const { gates } = this;
    this.counting.abort();
    const { signal } = (this.counting = new AbortController());
    for (const { id, source, reading } of this.logs) {
      if (!reading) continue;
      try {
        const counted = await this.client.run<"count">({ kind: "count", source, gates }, { signal });
        const now = this.logs.find((log) => log.id === id)?.reading;
        if (gates !== this.gates) return;
        if (now) this.amend(id, { reading: { ...now, gates: counted } });
      } catch {
        // The fit of the same log says what is wrong with it.
      }
    }
  }

  /** Fits the logs of a role as soon as all of them are read. */
  refit(role: LogRole): void {
    this.fitting[role]?.abort();
    delete this.fitting[role];
    const ready = this.of(role).filter(({ reading }) => reading !== null);
    const waiting = this.of(role).some(({ id }) => this.readings.has(id));
    const table = role === "correct" ? this.table : tableOfStep(this.desk, this.checked);
    if (ready.length === 0 || waiting || !table) {
      this.fit[role] = ready.length === 0 ? nothing : { ...this.fit[role], running: false, progress: null };
      this.tell();
      return;
    }
    void this.runFit(
      role,
      table,
      ready.map(({ source }) => source),
    );
  }

  private async runFit(role: LogRole, table: FuelTable, sources: readonly LogSource[]): Promise<void> {
    const control = new AbortController();
    this.fitting[role] = control;
    const { gates, film } = this;
    const settings = { gates, film, apart: role === "correct" && this.apart };
    const mine = () => this.fitting[role] === control;
    const put = (part: Partial<FitState>) => {
      if (!mine()) return;
      this.fit[role] = { ...this.fit[role], ...part };
      this.tell();
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

const sentenceOf = (error: unknown) =>
  error instanceof FuelwrightError ? error.message : `This is a fault of the page: ${String(error)}`;

const benches = new WeakMap<Desk, EvidenceBench>();

/** The bench of a desk: the same one however often the leaf is left and opened. */
export function evidenceBench(desk: Desk): EvidenceBench {
  let bench = benches.get(desk);
  if (!bench) benches.set(desk, (bench = new EvidenceBench(desk)));
  return bench;
}
