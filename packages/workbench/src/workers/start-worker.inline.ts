import EvidenceWorker from "./evidence-worker.ts?worker&inline";

/** A new worker for logs, whose script is in the page itself: a page from a disk may fetch none. */
export const startWorker = (): Worker => new EvidenceWorker({ name: "evidence" });
