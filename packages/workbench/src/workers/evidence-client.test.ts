import { createAxis, simulateLog, usualGates } from "@fuelwright/table-core";
import { afterEach, expect, test } from "vitest";
import { EvidenceClient } from "./evidence-client.ts";
import type { LogSource } from "./evidence-tasks.ts";
import { startWorker } from "./start-worker.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2500, 4000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60, 100] });
const made = (minutes: number): LogSource => ({
  kind: "made",
  name: "made",
  ride: { seed: 7, rpm, load, minutes, hertz: 20 },
  choices: {},
});
const read = (source: LogSource) => ({ kind: "read", source, gates: usualGates }) as const;
const refusal = (work: Promise<unknown>) =>
  work.then(
    () => "it went through",
    (error: { code?: string }) => error.code,
  );

let client: EvidenceClient;
afterEach(() => client.stop());

test("a made log is read as a file would be: simulated, recognised, gated and drawn", async () => {
  client = new EvidenceClient();
  const { simulated, summary, trace, gates, sensors, columns } = await client.run<"read">({
    ...read(made(1)),
    gates: [{ kind: "run-time", seconds: 20 }],
  });
  expect(simulated).toBe(true);
  expect(summary.rows).toBeGreaterThan(1100);
  expect(columns.every(({ quantity }) => quantity !== null)).toBe(true);
  expect(sensors).toEqual([1]);
  expect(gates.readings).toBeGreaterThan(gates.kept);
  expect(trace.lanes.rpm!.high.length).toBe(trace.count);
  // The first seconds after the start are removed, and later ones are not.
  expect(gates.removed.high.length).toBe(trace.count);
  expect(gates.removed.low[0]).toBe(1);
  expect(gates.removed.high.some((most) => most === 0)).toBe(true);
  expect(simulateLog({ seed: 7, rpm, load }).log.simulated).toBe(true);
});

test("a worker that breaks refuses what it was doing, and the next task has a new one", async () => {
  let started = 0;
  client = new EvidenceClient(() => {
    started++;
    if (started > 1) return startWorker();
    const broken = new Blob(["self.onmessage = () => { throw new Error('out of memory'); };"], {
      type: "text/javascript",
    });
    return new Worker(URL.createObjectURL(broken));
  });
  expect(await refusal(client.run<"read">(read(made(0.2))))).toBe("worker-stopped");
  expect((await client.run<"read">(read(made(0.2)))).summary.complete).toBe(true);
  expect(started).toBe(2);
});

test("a task that was cancelled before or in the middle is refused as such, and others go on", async () => {
  client = new EvidenceClient();
  expect(await refusal(client.run<"read">(read(made(1)), { signal: AbortSignal.abort() }))).toBe("cancelled");
  const control = new AbortController();
  const long = client.run<"read">(read(made(600)), { signal: control.signal, onProgress: () => control.abort() });
  expect(await refusal(long)).toBe("cancelled");
  expect((await client.run<"read">(read(made(0.2)))).summary.complete).toBe(true);
});

test("a worker that does not listen is ended when its task is cancelled", async () => {
  const deaf = new Blob(["self.onmessage = () => { for (;;); };"], { type: "text/javascript" });
  client = new EvidenceClient(() => new Worker(URL.createObjectURL(deaf)));
  const control = new AbortController();
  const stuck = client.run<"read">(read(made(1)), { signal: control.signal });
  control.abort();
  expect(await refusal(stuck)).toBe("cancelled");
});

test("what the library refuses comes back with its code and its sentence", async () => {
  client = new EvidenceClient();
  const empty: LogSource = { kind: "file", name: "empty", file: new File([""], "empty.csv"), choices: {} };
  const error = (await client.run<"read">(read(empty)).catch((reason: unknown) => reason)) as {
    code: string;
    message: string;
  };
  expect(error.code).toBe("log-empty");
  expect(error.message).toContain("readLog");
});
