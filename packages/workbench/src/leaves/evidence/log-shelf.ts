import type { Gate } from "@fuelwright/table-core";
import type { EvidenceClient } from "../../workers/evidence-client.ts";
import type { LogSource, ReadChoices } from "../../workers/evidence-tasks.ts";
import { type LogEntry, type LogRole, refusedColumns, sentenceOf } from "./log-entry.ts";

/** What a shelf tells the bench it stands on. */
export interface ShelfListener {
  readonly gates: readonly Gate[];
  changed(): void;
  /** A log of that role was read, refused or taken away. */
  settled(role: LogRole): void;
}

/** The logs on the leaf: each is read as soon as it is there, and again when something about it is put right. */
export class LogShelf {
  logs: readonly LogEntry[] = [];
  private readonly readings = new Map<number, AbortController>();
  private counting = new AbortController();
  private next = 1;

  constructor(
    private readonly client: EvidenceClient,
    private readonly listener: ShelfListener,
  ) {}

  of(role: LogRole): readonly LogEntry[] {
    return this.logs.filter((log) => log.role === role);
  }

  /** Whether any log of that role is still being read. */
  reads(role: LogRole): boolean {
    return this.of(role).some(({ id }) => this.readings.has(id));
  }

  add(source: LogSource, role: LogRole): void {
    const entry = { id: this.next++, role, source, reading: null, progress: null, problem: null, columns: [] };
    this.logs = [...this.logs, entry];
    void this.read(entry.id);
  }

  remove(id: number): void {
    const gone = this.logs.find((log) => log.id === id);
    if (!gone) return;
    this.readings.get(id)?.abort();
    this.readings.delete(id);
    this.logs = this.logs.filter((log) => log !== gone);
    this.listener.settled(gone.role);
  }

  clear(): void {
    this.cancel();
    this.readings.clear();
    this.logs = [];
  }

  cancel(): void {
    for (const control of this.readings.values()) control.abort();
    this.counting.abort();
  }

  /** Puts right how a log is read, and reads it again. */
  choose(id: number, choices: ReadChoices): void {
    const log = this.logs.find((other) => other.id === id);
    if (!log) return;
    this.amend(id, { source: { ...log.source, choices: { ...log.source.choices, ...choices } } });
    void this.read(id);
  }

  amend(id: number, part: Partial<LogEntry>): void {
    this.logs = this.logs.map((log) => (log.id === id ? { ...log, ...part } : log));
    this.listener.changed();
  }

  private async read(id: number): Promise<void> {
    this.readings.get(id)?.abort();
    const control = new AbortController();
    this.readings.set(id, control);
    const { source, columns, role } = this.logs.find((log) => log.id === id)!;
    this.amend(id, { reading: null, problem: null, progress: null });
    const mine = () => this.readings.get(id) === control;
    try {
      const reading = await this.client.run<"read">(
        { kind: "read", source, gates: this.listener.gates },
        { signal: control.signal, onProgress: (progress) => mine() && this.amend(id, { progress }) },
      );
      if (mine()) this.amend(id, { reading, progress: null });
    } catch (error) {
      const problem = sentenceOf(error);
      if (mine()) this.amend(id, { progress: null, problem, columns: refusedColumns(error, columns) });
    }
    if (!mine()) return;
    this.readings.delete(id);
    this.listener.settled(this.logs.find((log) => log.id === id)?.role ?? role);
  }

  /** Counts anew what the gates remove, for as long as no fit says it. */
  async recount(): Promise<void> {
    const { gates } = this.listener;
    this.counting.abort();
    const { signal } = (this.counting = new AbortController());
    for (const { id, source, reading } of this.logs) {
      if (!reading) continue;
      try {
        const counted = await this.client.run<"count">({ kind: "count", source, gates }, { signal });
        const now = this.logs.find((log) => log.id === id)?.reading;
        if (now && !signal.aborted) this.amend(id, { reading: { ...now, gates: counted } });
      } catch {
        // The fit of the same log says what is wrong with it.
      }
      if (signal.aborted) return;
    }
  }
}
