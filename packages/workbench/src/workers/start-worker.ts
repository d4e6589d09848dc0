/** A new worker for logs, from a script of its own. */
export const startWorker = (): Worker =>
  new Worker(new URL("./evidence-worker.ts", import.meta.url), { type: "module", name: "evidence" });
