/// <reference lib="webworker" />
import { FuelwrightError } from "@fuelwright/table-core";
import { carryOut } from "./carry-out.ts";
import type { Asked, Told } from "./evidence-tasks.ts";

const running = new Map<number, AbortController>();
const tell = (told: Told) => self.postMessage(told);

/** What a page may be told of an error: the details may hold what cannot be sent. */
function refusal(error: FuelwrightError) {
  const { code, message, details } = error;
  try {
    return { code, message, details: structuredClone(details) };
  } catch {
    return { code, message, details: {} };
  }
}

self.addEventListener("message", async ({ data }: MessageEvent<Asked>) => {
  const { id } = data;
  if ("cancel" in data) {
    running.get(id)?.abort();
    return;
  }
  const control = new AbortController();
  running.set(id, control);
  try {
    const done = await carryOut(data.task, control.signal, (progress) => tell({ id, progress }));
    tell({ id, done });
  } catch (error) {
    // What is no refusal is a fault: it ends the worker, and the page begins a new one.
    if (!(error instanceof FuelwrightError)) reportError(error);
    else tell({ id, refused: refusal(error) });
  } finally {
    running.delete(id);
  }
});
