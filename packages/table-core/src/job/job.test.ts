import { describe, expect, test } from "vitest";
import { everyStepJob } from "../../testing/every-step.ts";
import { inventedBuild } from "../../testing/jobs.ts";
import { refusal } from "../../testing/refusal.ts";
import { applyStep } from "./apply-step.ts";
import { defaultScheme } from "./colour-scheme.ts";
import { createJob, type JobSpec } from "./job.ts";
import { readJob, writeJob } from "./job-text.ts";
import { replayJob, sourceState } from "./replay-job.ts";
import type { Step } from "./step.ts";
import { requireTable } from "./step-definition.ts";
import { checkStep, checkSteps, MOST_STEPS } from "./step-schema.ts";

const [table, masses] = everyStepJob.tables as [(typeof everyStepJob.tables)[0], (typeof everyStepJob.tables)[0]];
const [first, second] = everyStepJob.steps as [Step, Step];
const spec: JobSpec = { name: "invented", build: inventedBuild };
const bad = (part: object) => refusal(() => createJob({ ...spec, ...part } as JobSpec));

test("a name and a build are enough", () => {
  const before = new Date().toISOString();
  const { created, build, ...rest } = createJob(spec);
  expect(rest).toEqual({
    id: "job",
    name: "invented",
    about: "",
    invented: false,
    tables: [],
    roles: {},
    steps: [],
    named: [],
    scheme: defaultScheme,
  });
  expect(build).toEqual(inventedBuild);
  expect(created >= before && created <= new Date().toISOString()).toBe(true);
});

test("a job is frozen, and what was frozen is taken over as it is", () => {
  const tables = Object.freeze([table]);
  const job = createJob({ ...spec, tables, named: [{ name: "a", after: "s0" }], roles: { target: "t" } });
  expect(job.tables).toBe(tables);
  for (const part of [job, job.roles, job.steps, job.named, job.named[0], job.scheme])
    expect(Object.isFrozen(part)).toBe(true);
  const open = [table];
  const copied = createJob({ ...spec, tables: open }).tables;
  expect(copied).toEqual(open);
  expect(copied).not.toBe(open);
  expect(Object.isFrozen(copied)).toBe(true);
  // What was checked once is known again: replay tells by identity what did not change.
  const again = createJob({ ...job });
  expect([again.build, again.scheme, again.tables]).toEqual([job.build, job.scheme, job.tables]);
  expect(again.build === job.build && again.scheme === job.scheme).toBe(true);
  expect(createJob({ ...everyStepJob }).steps[0]).toBe(first);
});

describe("what is no job is refused by its place", () => {
  test("names and ids", () => {
    expect(bad({ name: "" })).toMatchObject({ code: "bad-text", details: { where: "job.name" } });
    expect(bad({ id: "n".repeat(101) })).toMatchObject({ code: "bad-text", details: { where: "job.id" } });
    expect(bad({ roles: { target: "" } }).details.where).toBe("job.roles.target");
    expect(bad({ roles: { basePulse: 5 } }).details.where).toBe("job.roles.basePulse");
    expect(createJob({ ...spec, roles: { basePulse: "gone" } }).roles).toEqual({ basePulse: "gone" });
  });

  test("ids given twice", () => {
    expect(bad({ tables: [table, masses, table] })).toMatchObject({
      code: "repeated-id",
      message: 'job.tables must have an id of its own each, got "t" twice; rename one',
      details: { where: "job.tables", id: "t" },
    });
    expect(bad({ steps: [first, second, first] }).details).toEqual({ where: "job.steps", id: first.id });
  });

  test("steps that are no list, too many, or none", () => {
    expect(refusal(() => checkSteps({}))).toMatchObject({ code: "bad-job", details: { where: "job.steps" } });
    const many = Array.from({ length: MOST_STEPS + 1 }, () => first);
    expect(refusal(() => checkSteps(many, "steps")).details).toEqual({ where: "steps" });
    expect(checkSteps(many.slice(1))).toHaveLength(MOST_STEPS);
    expect(refusal(() => checkSteps([first, null])).message).toMatch(/^job\.steps\[1\] does not fit/);
    expect(refusal(() => checkStep({ ...first, kind: "melt" }))).toMatchObject({
      code: "unknown-step-kind",
      details: { kind: "melt", where: "step.kind" },
    });
  });

  test("documents of no version, or of none that there is", () => {
    const read = (part: object) => refusal(() => readJob({ ...JSON.parse(writeJob(everyStepJob)), ...part }));
    for (const version of [0, 1.5, "1", null, undefined]) expect(read({ version }).code).toBe("bad-job");
    expect(read({ version: 2 })).toMatchObject({ code: "future-version", details: { version: 2, known: 1 } });
    expect(read({ format: "other" }).code).toBe("not-a-job");
    expect(refusal(() => readJob(null as unknown as object)).code).toBe("not-a-job");
  });

  test("keys that set what objects inherit, at any depth", () => {
    const text = writeJob(everyStepJob).replace('"roles": {', '"roles": { "__proto__": 1, ');
    expect(refusal(() => readJob(text))).toMatchObject({ code: "bad-job", details: { key: "__proto__" } });
  });
});

test("a text with a byte order mark is read", () => {
  expect(readJob(`\uFEFF${writeJob(everyStepJob)}`)).toEqual(everyStepJob);
});

describe("a step alone", () => {
  const state = sourceState(everyStepJob);

  test("means the state it meets wherever it speaks of another", () => {
    const blend = everyStepJob.steps.find(({ kind, settings }) => kind === "blend-tables" && "with" in settings)!;
    const alone = applyStep(state, blend).state.tables.t!;
    expect(alone).toEqual(applyStep(state, blend, { stateAt: () => state }).state.tables.t);
  });

  test("needs its table, and names those there are", () => {
    const lost = refusal(() => applyStep(state, checkStep({ ...first, table: "gone" })));
    expect(lost).toMatchObject({ code: "no-such-table", details: { id: "gone", tables: Object.keys(state.tables) } });
    const { table: _, ...without } = first;
    expect(refusal(() => applyStep(state, checkStep(without))).message).toContain("table null is not in the job");
    expect(refusal(() => requireTable("x", state, "toString")).code).toBe("no-such-table");
  });

  test("leaves the other tables and the build as they are", () => {
    const { state: after } = applyStep(state, first);
    expect(after.build).toBe(state.build);
    expect(after.tables.m).toBe(state.tables.m);
    expect(Object.isFrozen(after) && Object.isFrozen(after.tables)).toBe(true);
  });
});

describe("a replay", () => {
  test("works a report out only when it is read", () => {
    const smooth = everyStepJob.steps.findIndex(({ kind }) => kind === "smooth-cells");
    const { outcomes } = replayJob(everyStepJob);
    expect(Object.getOwnPropertyDescriptor(outcomes[smooth], "report")!.get).toBeTypeOf("function");
    expect(outcomes[smooth]!.report).toHaveProperty("smoothing");
    expect(outcomes[smooth]!.report).toHaveProperty("comparison");
    const reported = outcomes.filter(({ report }) => report !== undefined);
    expect(reported.length).toBeGreaterThan(12);
  });

  test("refuses a place that is no earlier step", () => {
    const blend = everyStepJob.steps.find(({ kind }) => kind === "blend-tables")!;
    const at = (after: string) => {
      const settings = { ...blend.settings, with: { table: "front", after } };
      const step = checkStep({ ...blend, settings });
      return replayJob(createJob({ ...everyStepJob, steps: [first, step, second] })).outcomes[1]!;
    };
    expect(at("source").status).toBe("applied");
    expect(at(first.id).status).toBe("applied");
    for (const later of [second.id, blend.id, "gone"])
      expect(at(later).reason).toMatchObject({ code: "no-such-state", details: { place: later } });
  });

  test("goes on from an earlier one where nothing before differs, and anew where tables or build do", () => {
    const before = replayJob(everyStepJob);
    const longer = replayJob(createJob({ ...everyStepJob, steps: everyStepJob.steps.slice(0, 5) }), {
      previous: before,
    });
    expect(longer.states[5]).toBe(before.states[5]);
    expect(longer.outcomes[4]).toBe(before.outcomes[4]);
    const build = { ...everyStepJob.build };
    const other = replayJob(createJob({ ...everyStepJob, build }), { previous: before });
    expect(other.states[1]).not.toBe(before.states[1]);
    const tables = [...everyStepJob.tables];
    expect(replayJob(createJob({ ...everyStepJob, tables }), { previous: before }).states[1]).not.toBe(
      before.states[1],
    );
  });
});
