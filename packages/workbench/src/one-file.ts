/** The page in one file is its own worker: its script, run again where there is no document, does the worker's part. */
if (typeof document === "undefined") void import("./workers/evidence-worker.ts");
else void import("./main.ts");
