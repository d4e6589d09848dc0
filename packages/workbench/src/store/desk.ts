import {
  blendTables,
  type FuelTable,
  FuelwrightError,
  type Job,
  type JobState,
  type Region,
} from "@fuelwright/table-core";
import { Bench } from "./bench.ts";
import type { Command } from "./commands.ts";
import { DEMO_CELL } from "./demo-job.ts";
import type { History } from "./history.ts";
import type { Keeper, KeepingState } from "./keeping.ts";
import { plainRefusal } from "./plain-refusal.ts";
import { type Preferences, readPreferences, usualPreferences, writePreferences } from "./preferences.ts";

/** The leaves, in the order of the work. */
export const leaves = ["build", "table", "evidence", "what-if", "handover"] as const;
export type Leaf = (typeof leaves)[number];

/** What is told to the user in the line under the leaves. */
export interface Message {
  readonly tone: "said" | "refused";
  readonly text: string;
}

/**
 * What a change is measured against: the tables as brought in, the state before the step at hand, the state after a
 * step by its id, or a table from elsewhere.
 */
export type Against =
  | "source"
  | "previous"
  | { readonly after: string }
  | { readonly other: FuelTable; readonly name: string };

/** What the page looks at: not part of the job, and not undone. */
export interface View {
  readonly leaf: Leaf;
  readonly table: string | null;
  readonly region: Region | null;
  /** The cell at hand, row-major in the shown table. */
  readonly cell: number;
  readonly against: Against;
  /** The step after which the tables are shown; null: after all. */
  readonly after: string | null;
}

const startView: View = { leaf: "table", table: null, region: null, cell: 0, against: "source", after: null };

/**
 * The demo begins with what its last step did, at one of the cells it changed: since it was brought in, other injectors
 * have changed all of them.
 */
const viewOf = (job: Job): View => (job.invented ? { ...startView, against: "previous", cell: DEMO_CELL } : startView);

/**
 * The open job, what the page looks at, and the person's preferences: the one thing all leaves share.
 *
 * It tells its listeners after every change of any of them. Commands that fail leave the job as it was and are told.
 */
export class Desk {
  readonly bench: Bench;
  private listeners = new Set<() => void>();
  private viewNow: View;
  private preferencesNow: Preferences;
  private messageNow: Message | null = null;
  private keepingNow: KeepingState | null = null;
  private reading: string | null = null;
  private keeper: Keeper | null = null;

  constructor(
    job: Job,
    private readonly shelf: Pick<Storage, "getItem" | "setItem"> | null = null,
  ) {
    this.bench = new Bench(job, "Open the demo job");
    this.viewNow = viewOf(job);
    this.preferencesNow = shelf ? readPreferences(shelf) : usualPreferences;
    this.bench.listen((event) => {
      if (event.type === "history") {
        this.put("said", event.label);
        this.keepNow();
      }
      this.settleView();
      this.tell();
    });
    this.settleView();
  }

  get job(): Job {
    return this.bench.job;
  }
  get view(): View {
    return this.viewNow;
  }
  get preferences(): Preferences {
    return this.preferencesNow;
  }
  get message(): Message | null {
    return this.messageNow;
  }
  get keeping(): KeepingState | null {
    return this.keepingNow;
  }
  /** Why the job can only be read here, or null if it can be changed. */
  get readOnly(): string | null {
    return this.reading;
  }

  /** The tables and build shown: of the draft, after the step looked at, or after all steps. */
  get shown(): JobState {
    const { bench, viewNow } = this;
    if (bench.draft) return bench.draft.state;
    return (viewNow.after !== null && bench.stateAfter(viewNow.after)) || bench.replay.state;
  }

  /** What the shown state is compared with. */
  get compared(): JobState {
    const { bench, viewNow } = this;
    const { against } = viewNow;
    if (bench.draft) return bench.stateBefore(bench.draft.step.id);
    if (against === "previous") return bench.stateBefore(viewNow.after ?? bench.job.steps.at(-1)?.id ?? "");
    const place = typeof against === "object" && "after" in against ? against.after : "source";
    return bench.stateAfter(place) ?? bench.replay.states[0]!;
  }

  /** The table at hand as it is shown, or null if there is none. */
  get table(): FuelTable | null {
    const id = this.viewNow.table;
    return (id !== null && this.shown.tables[id]) || null;
  }

  /** The table at hand as it is compared with, or null if it was not there. */
  get before(): FuelTable | null {
    const { table: id, against } = this.viewNow;
    if (!this.bench.draft && typeof against === "object" && "other" in against) return this.onOwnAxes(against.other);
    return (id !== null && this.compared.tables[id]) || null;
  }

  /** Another table looked up on the breakpoints of the one at hand, or null if they do not compare. */
  private onOwnAxes(other: FuelTable): FuelTable | null {
    const { table } = this;
    if (!table) return null;
    try {
      return blendTables({ ...table, locked: [] }, { with: other, weight: 1 });
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      return null;
    }
  }

  listen(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  look(part: Partial<View>): void {
    this.viewNow = { ...this.viewNow, ...part };
    this.settleView();
    this.tell();
  }

  prefer(part: Partial<Preferences>): void {
    this.preferencesNow = { ...this.preferencesNow, ...part };
    if (this.shelf && !writePreferences(this.shelf, this.preferencesNow))
      this.messageNow = {
        tone: "refused",
        text: "The browser does not keep preferences here; they last until you leave.",
      };
    this.tell();
  }

  say(text: string, tone: Message["tone"] = "said"): void {
    this.put(tone, text);
    this.tell();
  }

  private put(tone: Message["tone"], text: string): void {
    // The same sentence twice is heard twice only if its text differs.
    this.messageNow = { tone, text: this.messageNow?.text === text ? `${text}\u00a0` : text };
  }

  /** Carries out a command. Returns whether it was; if not, why has been told. */
  perform(command: Command): boolean {
    return this.attempt(() => this.bench.perform(command));
  }

  undo(): void {
    this.attempt(() => {
      if (this.bench.undo() === null) this.say("There is nothing to undo.");
    });
  }

  redo(): void {
    this.attempt(() => {
      if (this.bench.redo() === null) this.say("There is nothing to do again.");
    });
  }

  /** Runs what may change the job; a FuelwrightError is told and changes nothing. */
  attempt(work: () => void): boolean {
    if (this.reading !== null) {
      this.say(this.reading, "refused");
      return false;
    }
    try {
      work();
      return true;
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.say(plainRefusal(error.message), "refused");
      return false;
    }
  }

  openHistory(history: History): void {
    this.viewNow = { ...viewOf(history.entries[history.at]!.job), leaf: this.viewNow.leaf };
    this.bench.openHistory(history);
  }

  /** From now on every change is kept by `keeper`. */
  keepWith(keeper: Keeper | null): void {
    this.keeper = keeper;
  }

  setKeeping(state: KeepingState): void {
    this.keepingNow = state;
    this.tell();
  }

  setReadOnly(why: string | null): void {
    this.reading = why;
    this.tell();
  }

  keepNow(): Promise<void> {
    return this.reading === null && this.keeper ? this.keeper.save(this.bench.history) : Promise.resolve();
  }

  /** Drops from the view what the job no longer has. */
  private settleView(): void {
    const { table, after, against } = this.viewNow;
    const ids = Object.keys(this.shown.tables);
    const known = (id: string) => id === "source" || this.job.steps.some((step) => step.id === id);
    this.viewNow = {
      ...this.viewNow,
      table: table !== null && ids.includes(table) ? table : (ids[0] ?? null),
      after: after !== null && known(after) ? after : null,
      against: typeof against === "object" && "after" in against && !known(against.after) ? "source" : against,
    };
    const cells = this.table?.cells.length ?? 1;
    if (this.viewNow.cell >= cells) this.viewNow = { ...this.viewNow, cell: cells - 1 };
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}
