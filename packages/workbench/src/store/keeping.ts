import {
  type Build,
  type ColourScheme,
  checkStep,
  createJob,
  createTable,
  type FuelTable,
  type Job,
  type Step,
} from "@fuelwright/table-core";
import { type DBSchema, deleteDB, type IDBPDatabase, openDB } from "idb";
import { current, type Entry, type History } from "./history.ts";

/** A job on this machine, as the list of jobs shows it. */
export interface KeptJob {
  readonly id: string;
  readonly name: string;
  readonly changed: string;
  readonly entries: number;
}

/** How keeping stands: told to the user at all times. */
export type KeepingState =
  | { readonly kind: "kept"; readonly time: Date }
  | { readonly kind: "keeping" }
  | { readonly kind: "failed"; readonly why: string };

type PartKey = number;

interface JobRow extends KeptJob {
  at: number;
  undone: number[];
  parts: number;
}

/** An entry without its large parts, which it names: a part that several entries share is stored once. */
interface EntryRow extends Omit<Entry, "job"> {
  readonly jobId: string;
  readonly plain: Omit<Job, "build" | "tables" | "steps" | "scheme">;
  readonly build: PartKey;
  readonly scheme: PartKey;
  readonly tables: readonly PartKey[];
  readonly steps: readonly PartKey[];
}

interface PartRow {
  readonly jobId: string;
  readonly key: PartKey;
  readonly part: Build | ColourScheme | FuelTable | Step;
}

interface Schema extends DBSchema {
  jobs: { key: string; value: JobRow };
  entries: { key: [string, number]; value: EntryRow };
  parts: { key: [string, number]; value: PartRow };
}

const ofJob = (id: string) => IDBKeyRange.bound([id, Number.NEGATIVE_INFINITY], [id, Number.POSITIVE_INFINITY]);

/**
 * Keeps jobs in IndexedDB, every state of them, so that undo reaches back over a reload.
 *
 * Each change is one transaction: it is there whole or not at all. Changes that come while one is being written go
 * together into the next.
 */
export class Keeper {
  /** By job: a part that two jobs share stands under a key of its own in each. */
  private readonly keys = new Map<string, WeakMap<object, PartKey>>();
  private readonly saved = new Map<string, { entries: number; parts: number }>();
  private waiting: History | null = null;
  private writing: Promise<void> | null = null;

  private closed = false;

  private constructor(
    private db: IDBPDatabase<Schema>,
    private readonly tell: (state: KeepingState) => void,
    private readonly name: string,
  ) {}

  /** @throws DOMException when the browser refuses storage */
  static async open(tell: (state: KeepingState) => void, name = "fuelwright"): Promise<Keeper> {
    return new Keeper(await connect(tell, name), tell, name);
  }

  static remove(name = "fuelwright"): Promise<void> {
    return deleteDB(name);
  }

  close(): void {
    this.closed = true;
    this.db.close();
  }

  /** Latest changed first. */
  async list(): Promise<KeptJob[]> {
    const rows = await this.db.getAll("jobs");
    return rows.sort((a, b) => b.changed.localeCompare(a.changed));
  }

  /** All states of a job, or null if it is not here. Each part is checked as if it came from outside. */
  async load(id: string): Promise<History | null> {
    const transaction = this.db.transaction(["jobs", "entries", "parts"]);
    const [row, entries, parts] = await Promise.all([
      transaction.objectStore("jobs").get(id),
      transaction.objectStore("entries").getAll(ofJob(id)),
      transaction.objectStore("parts").getAll(ofJob(id)),
    ]);
    if (!row) return null;
    const keys = new WeakMap<object, PartKey>();
    const byKey = new Map(parts.map(({ key, part }) => [key, part]));
    const made = new Map<PartKey, object>();
    const take = <T extends object>(key: PartKey, make: (part: T) => T): T => {
      let part = made.get(key) as T | undefined;
      if (!part) {
        part = make(byKey.get(key) as T);
        made.set(key, part);
        keys.set(part, key);
      }
      return part;
    };
    const lists = new Map<string, readonly FuelTable[]>();
    const history: History = {
      at: row.at,
      undone: row.undone,
      entries: entries.map(({ jobId: _, plain, build, scheme, tables, steps, ...entry }) => {
        const names = tables.join();
        const list = lists.get(names) ?? Object.freeze(tables.map((key) => take<FuelTable>(key, createTable)));
        lists.set(names, list);
        const job = createJob({
          ...plain,
          build: take<Build>(build, (part) => createJob({ name: "part", build: part }).build),
          scheme: take<ColourScheme>(scheme, (part) => part),
          tables: list,
          steps: steps.map((key) => take<Step>(key, (part) => checkStep(part))),
        });
        keys.set(job.build, build);
        keys.set(job.scheme, scheme);
        return { ...entry, job };
      }),
    };
    this.keys.set(id, keys);
    this.saved.set(id, { entries: entries.length, parts: row.parts });
    return history;
  }

  /** Keeps what is new in the history. Resolves when it is on the disk, or when that failed and was told. */
  save(history: History): Promise<void> {
    this.waiting = history;
    this.tell({ kind: "keeping" });
    this.writing ??= this.writeAll().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  async remove(id: string): Promise<void> {
    const transaction = this.db.transaction(["jobs", "entries", "parts"], "readwrite");
    await Promise.all([
      transaction.objectStore("jobs").delete(id),
      transaction.objectStore("entries").delete(ofJob(id)),
      transaction.objectStore("parts").delete(ofJob(id)),
      transaction.done,
    ]);
    this.saved.delete(id);
    this.keys.delete(id);
  }

  private async writeAll(): Promise<void> {
    let reopened = false;
    while (this.waiting) {
      const history = this.waiting;
      this.waiting = null;
      try {
        await this.write(history);
        if (!this.waiting) this.tell({ kind: "kept", time: new Date() });
      } catch (error) {
        // A browser that cleared the page's storage has closed it as well: once more, with a fresh one.
        if (!this.closed && !reopened && isClosed(error)) {
          reopened = true;
          this.waiting ??= history;
          if (await this.reconnect()) continue;
          this.waiting = null;
        }
        this.tell({ kind: "failed", why: reasonOf(error) });
        return;
      }
    }
  }

  private async reconnect(): Promise<boolean> {
    try {
      this.db = await connect(this.tell, this.name);
      return true;
    } catch {
      return false;
    }
  }

  private async write(history: History): Promise<void> {
    const job = current(history);
    const transaction = this.db.transaction(["jobs", "entries", "parts"], "readwrite", { durability: "strict" });
    const jobs = transaction.objectStore("jobs");
    const known = this.saved.get(job.id);
    const row = await jobs.get(job.id);
    // What this page has not read or written itself is never written over.
    if (row && row.entries !== known?.entries)
      throw new Error("The job kept under this name was changed elsewhere; save this one to a file, then reload.");
    // It is new here, or the storage was wiped meanwhile: then everything is written.
    const whole = !known || !row;
    let parts = whole ? 0 : known.parts;
    const keys = (whole ? null : this.keys.get(job.id)) ?? new WeakMap<object, PartKey>();
    const puts: Promise<unknown>[] = [];
    const fresh = new Map<object, PartKey>();
    const keyOf = (part: PartRow["part"]): PartKey => {
      const key = keys.get(part) ?? fresh.get(part);
      if (key !== undefined) return key;
      fresh.set(part, parts);
      puts.push(transaction.objectStore("parts").put({ jobId: job.id, key: parts, part }));
      return parts++;
    };
    for (const entry of history.entries.slice(whole ? 0 : known.entries)) {
      const { job: state, ...rest } = entry;
      const { build, tables, steps, scheme, ...plain } = state;
      puts.push(
        transaction.objectStore("entries").put({
          ...rest,
          jobId: job.id,
          plain,
          build: keyOf(build),
          scheme: keyOf(scheme),
          tables: tables.map(keyOf),
          steps: steps.map(keyOf),
        }),
      );
    }
    const entries = history.entries.length;
    const changed = history.entries.at(-1)!.time;
    puts.push(
      jobs.put({ id: job.id, name: job.name, changed, entries, at: history.at, undone: [...history.undone], parts }),
    );
    await Promise.all([...puts, transaction.done]);
    // Only now: a transaction that failed has stored none of these.
    for (const [part, key] of fresh) keys.set(part, key);
    this.keys.set(job.id, keys);
    this.saved.set(job.id, { entries, parts });
  }
}

/** The page's storage, made where it is not there yet. @throws DOMException when the browser refuses storage */
function connect(tell: (state: KeepingState) => void, name: string): Promise<IDBPDatabase<Schema>> {
  return openDB<Schema>(name, 1, {
    upgrade(fresh) {
      fresh.createObjectStore("jobs", { keyPath: "id" });
      fresh.createObjectStore("entries", { keyPath: ["jobId", "seq"] });
      fresh.createObjectStore("parts", { keyPath: ["jobId", "key"] });
    },
    terminated: () => tell({ kind: "failed", why: "The browser closed this page's storage." }),
  });
}

const isClosed = (error: unknown) => error instanceof DOMException && error.name === "InvalidStateError";

function reasonOf(error: unknown): string {
  if (error instanceof DOMException && error.name === "QuotaExceededError") return "The browser's storage is full.";
  if (isClosed(error)) return "The browser closed this page's storage.";
  return error instanceof Error ? error.message : String(error);
}
