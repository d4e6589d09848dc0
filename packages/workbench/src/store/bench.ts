import {
  applyStep,
  checkStep,
  FuelwrightError,
  type Job,
  type JobState,
  type Replay,
  replayJob,
  type Step,
  type StepOutcome,
} from "@fuelwright/table-core";
import type { Command } from "./commands.ts";
import { current, type History, record, redo, redoLabel, restore, startHistory, undo, undoLabel } from "./history.ts";

/** A step that is being made or reopened, and not kept yet. */
export interface Draft {
  readonly step: Step;
  /** `new`: it will be put in after `after`; `reopened`: it stands in the job already. */
  readonly kind: "new" | "reopened";
  /** What the grid shows while the draft is open, or why it can't be applied. */
  readonly state: JobState;
  readonly outcome: StepOutcome;
}

/** What the bench tells those who listen. */
export type BenchEvent =
  | { readonly type: "history"; readonly label: string }
  | { readonly type: "draft" }
  | { readonly type: "opened" };

/**
 * The open job with all its states, and the draft on it. No DOM: pages, tests and scripts use it alike.
 *
 * Everything that changes the job goes through {@link perform}, so everything can be undone.
 */
export class Bench {
  private listeners = new Set<(event: BenchEvent) => void>();
  private past: History;
  private replayed: Replay;
  private open: Draft | null = null;

  constructor(job: Job, label = "Open") {
    this.past = startHistory(job, label);
    this.replayed = replayJob(job);
  }

  get history(): History {
    return this.past;
  }
  get job(): Job {
    return this.replayed.job;
  }
  get replay(): Replay {
    return this.replayed;
  }
  get draft(): Draft | null {
    return this.open;
  }
  get undoLabel(): string | null {
    return undoLabel(this.past);
  }
  get redoLabel(): string | null {
    return redoLabel(this.past);
  }

  listen(listener: (event: BenchEvent) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /**
   * Carries out a command.
   *
   * @throws FuelwrightError from the command; the job then stays as it was
   */
  perform({ label, change }: Command): void {
    this.move(record(this.past, label, change(this.job)), label);
  }

  undo(): string | null {
    const label = this.undoLabel;
    if (label !== null) this.move(undo(this.past), `Undone: ${label}`);
    return label;
  }

  redo(): string | null {
    const label = this.redoLabel;
    if (label !== null) this.move(redo(this.past), `Done again: ${label}`);
    return label;
  }

  restoreVersion(seq: number): void {
    this.move(restore(this.past, seq), `Version ${seq + 1} restored`);
  }

  /** Opens another job in the place of this one, with the states it has had. */
  openHistory(history: History): void {
    this.past = history;
    this.replayed = replayJob(current(history));
    this.open = null;
    this.tell({ type: "opened" });
  }

  /** The state before the step of that id (`source`: before all; an unknown id: after all). */
  stateBefore(id: string): JobState {
    const at = this.job.steps.findIndex((step) => step.id === id);
    return this.replayed.states[at < 0 ? this.job.steps.length : at]!;
  }

  /** The state after the step of that id, `source` before all, or null if there is no such step. */
  stateAfter(id: string): JobState | null {
    if (id === "source") return this.replayed.states[0]!;
    const at = this.job.steps.findIndex((step) => step.id === id);
    return at < 0 ? null : this.replayed.states[at + 1]!;
  }

  /** Shows what `step` would do, without keeping it. A step of an id in the job is shown in its place. */
  preview(step: Step): Draft {
    const checked = checkStep(step);
    const reopened = this.job.steps.some(({ id }) => id === checked.id);
    const before = this.stateBefore(checked.id);
    this.open = { step: checked, kind: reopened ? "reopened" : "new", ...this.tryStep(before, checked) };
    this.tell({ type: "draft" });
    return this.open;
  }

  closeDraft(): void {
    if (!this.open) return;
    this.open = null;
    this.tell({ type: "draft" });
  }

  private tryStep(state: JobState, step: Step): Pick<Draft, "state" | "outcome"> {
    try {
      const effect = applyStep(state, { ...step, on: true }, { stateAt: (place) => this.requireStateAfter(place) });
      return { state: effect.state, outcome: { id: step.id, status: "applied", report: effect.report } };
    } catch (reason) {
      if (!(reason instanceof FuelwrightError)) throw reason;
      return { state, outcome: { id: step.id, status: "passed-over", reason } };
    }
  }

  private requireStateAfter(place: string): JobState {
    const state = this.stateAfter(place);
    if (!state)
      throw new FuelwrightError("no-such-state", `step ${JSON.stringify(place)} is not in the job; choose another`, {
        place,
      });
    return state;
  }

  private move(history: History, label: string): void {
    if (history === this.past) return;
    this.past = history;
    this.replayed = replayJob(current(history), { previous: this.replayed });
    this.open = null;
    this.tell({ type: "history", label });
  }

  private tell(event: BenchEvent): void {
    for (const listener of this.listeners) listener(event);
  }
}
