import { FuelwrightError } from "@fuelwright/table-core";
import { startWorker } from "#start-worker";
import type { Asked, Task, TaskKind, TaskProgress, Tasks, Told } from "./evidence-tasks.ts";

interface Waiting {
  resolve(result: unknown): void;
  reject(error: Error): void;
  progress(progress: TaskProgress): void;
}

/** How long a cancelled task may take to notice before its worker is ended, in milliseconds. */
const PATIENCE = 1500;

const cancelled = () =>
  new FuelwrightError(
    "cancelled",
    "evidence: the work was cancelled; nothing has been changed, start again when you like",
  );

/**
 * Reads and fits logs in a worker, so that the page stays at hand.
 *
 * A worker that breaks is replaced by a new one: what it was doing is refused with a sentence, and the next task begins
 * afresh. Tasks carry all that they need, so nothing is lost with it.
 */
export class EvidenceClient {
  private worker: Worker | null = null;
  private next = 1;
  private readonly waiting = new Map<number, Waiting>();

  constructor(private readonly start: () => Worker = startWorker) {}

  /**
   * Carries out a task.
   *
   * @throws FuelwrightError what the task throws, `cancelled`, or `worker-stopped` where the worker broke
   */
  run<K extends TaskKind>(
    task: Tasks[K]["task"],
    {
      signal,
      onProgress,
    }: { readonly signal?: AbortSignal; readonly onProgress?: (progress: TaskProgress) => void } = {},
  ): Promise<Tasks[K]["result"]> {
    if (signal?.aborted) return Promise.reject(cancelled());
    const id = this.next++;
    const worker = (this.worker ??= this.begin());
    return new Promise((resolve, reject) => {
      this.waiting.set(id, {
        resolve: resolve as (result: unknown) => void,
        reject,
        progress: (progress) => onProgress?.(progress),
      });
      signal?.addEventListener("abort", () => this.cancel(id), { once: true });
      this.ask(worker, { id, task: task as Task });
    });
  }

  /** Ends the worker and all it does. */
  stop(error: Error = cancelled()): void {
    this.worker?.terminate();
    this.worker = null;
    const left = [...this.waiting.values()];
    this.waiting.clear();
    for (const { reject } of left) reject(error);
  }

  private ask(worker: Worker, asked: Asked): void {
    try {
      worker.postMessage(asked);
    } catch {
      this.waiting
        .get(asked.id)
        ?.reject(
          new FuelwrightError(
            "worker-refused",
            "evidence: the log could not be handed to the worker; choose the file again",
          ),
        );
      this.waiting.delete(asked.id);
    }
  }

  private cancel(id: number): void {
    if (!this.waiting.has(id)) return;
    this.worker?.postMessage({ id, cancel: true } satisfies Asked);
    setTimeout(() => {
      if (this.waiting.has(id)) this.stop();
    }, PATIENCE);
  }

  private begin(): Worker {
    const worker = this.start();
    worker.addEventListener("message", ({ data }: MessageEvent<Told>) => this.hear(data));
    const broke = (event: Event) => {
      event.preventDefault();
      if (this.worker !== worker) return;
      const why = event instanceof ErrorEvent && event.message ? ` (${event.message})` : "";
      this.stop(
        new FuelwrightError(
          "worker-stopped",
          `evidence: the work stopped unexpectedly${why}; the job is as it was. Try again, or a shorter piece of the log`,
        ),
      );
    };
    worker.addEventListener("error", broke);
    worker.addEventListener("messageerror", broke);
    return worker;
  }

  private hear(told: Told): void {
    const waiting = this.waiting.get(told.id);
    if (!waiting) return;
    if ("progress" in told) {
      waiting.progress(told.progress);
      return;
    }
    this.waiting.delete(told.id);
    if ("done" in told) waiting.resolve(told.done);
    else waiting.reject(new FuelwrightError(told.refused.code, told.refused.message, { ...told.refused.details }));
  }
}
