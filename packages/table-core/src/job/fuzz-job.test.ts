import fc from "fast-check";
import { expect, test } from "vitest";
import { answer, deepFrozen, fuzzRuns, requireCleanPrototypes, requireUse } from "../../testing/answer.ts";
import { brokenData, brokenText } from "../../testing/broken-json.ts";
import { everyStep, everyStepJob } from "../../testing/every-step.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createJob, type Job } from "./job.ts";
import { jobData, readJob, writeJob } from "./job-text.ts";
import { replayJob } from "./replay-job.ts";

/** Jobs with some steps of any kinds. */
const someJobs = fc
  .subarray([...everyStep], { maxLength: 4 })
  .map((steps) => createJob({ ...everyStepJob, steps, named: [] }));

/** What has to hold of a job that was read, whatever it was read from: it is kept whole, and replay ends well. */
function holds(job: Job): void {
  const text = writeJob(job);
  const back = readJob(text);
  expect(back).toEqual(job);
  expect(writeJob(back)).toBe(text);
  const { state, outcomes } = replayJob(job);
  for (const { cells } of Object.values(state.tables)) expect(cells.every(Number.isFinite)).toBe(true);
  for (const outcome of outcomes)
    answer(() => {
      if (outcome.reason) throw outcome.reason;
      return outcome.report;
    });
}

test("any data is read as a job that is kept whole and replays, or refused with a sentence", () => {
  let tried = 0;
  let read = 0;
  fc.assert(
    fc.property(brokenData(someJobs.map(jobData)), (data) => {
      tried++;
      const job = answer(() => readJob(deepFrozen(data)));
      requireCleanPrototypes();
      if (job instanceof FuelwrightError) return;
      read++;
      holds(job);
    }),
    { numRuns: 0.6 * fuzzRuns },
  );
  // Were all of them refused, the most of the check would be empty.
  requireUse(read, tried, 1 / 50);
});

test("any text is read as a job, or refused with a sentence", () => {
  const texts = fc.oneof(
    brokenText(someJobs.map(writeJob)),
    brokenData(someJobs.map(jobData)).map((data) => JSON.stringify(data)),
    fc.string({ unit: "binary", maxLength: 200 }),
    fc.json(),
  );
  fc.assert(
    fc.property(texts, (text) => {
      const job = answer(() => readJob(text));
      requireCleanPrototypes();
      if (!(job instanceof FuelwrightError)) holds(job);
    }),
    { numRuns: 0.4 * fuzzRuns },
  );
});
