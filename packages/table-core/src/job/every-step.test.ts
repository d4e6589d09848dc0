import { describe, expect, test } from "vitest";
import { everyStepJob } from "../../testing/every-step.ts";
import { applyStep, stepKinds } from "./apply-step.ts";
import { createJob } from "./job.ts";
import { readJob, writeJob } from "./job-text.ts";
import { replayJob, sourceState } from "./replay-job.ts";
import { checkStep } from "./step-schema.ts";

const { states, outcomes } = replayJob(everyStepJob);

test("a step of every kind, with every setting, applies", () => {
  expect(new Set(everyStepJob.steps.map(({ kind }) => kind))).toEqual(new Set(stepKinds));
  expect(outcomes.filter(({ status }) => status !== "applied")).toEqual([]);
});

test("it survives being written and read, every setting of it", () => {
  const back = readJob(writeJob(everyStepJob));
  expect(back).toEqual(everyStepJob);
  expect(replayJob(back).state).toEqual(states.at(-1));
});

describe.each(everyStepJob.steps.map((step, at) => [step.kind, step, at] as const))("%s", (_, step, at) => {
  test("changes something, and leaves the state it was given as it was", () => {
    const before = states[at]!;
    const kept = structuredClone(before);
    const { state } = applyStep(before, step, { stateAt: () => states[0]! });
    expect(before).toEqual(kept);
    expect(state).toEqual(states[at + 1]);
    expect(state).not.toEqual(before);
  });

  test("a setting that does not belong is refused by its place", () => {
    expect(() => checkStep({ ...step, settings: { ...step.settings, unheardOf: 1 } })).toThrow(
      "step.settings.unheardOf does not fit",
    );
  });

  test("each setting that takes no word is refused if it is one, by its place", () => {
    for (const [name, value] of Object.entries(step.settings)) {
      if (typeof value === "string") continue;
      expect(() => checkStep({ ...step, settings: { ...step.settings, [name]: "a word" } })).toThrow(
        `step.settings.${name} does not fit`,
      );
    }
  });
});

test("a table may be called what an object inherits from: reports are kept by name all the same", () => {
  const { table: _, ...step } = everyStepJob.steps.find(({ kind }) => kind === "change-displacement")!;
  const odd = everyStepJob.tables.map((table) => (table.id === "m" ? { ...table, id: "__proto__" } : table));
  const state = sourceState(createJob({ ...everyStepJob, tables: odd, steps: [] }));
  const { report } = applyStep(state, checkStep({ ...step, settings: { tables: ["__proto__"], toCc: 1150 } }));
  expect(Object.keys(report as object)).toEqual(["__proto__"]);
  expect(Object.getPrototypeOf(report)).toBe(Object.prototype);
});
