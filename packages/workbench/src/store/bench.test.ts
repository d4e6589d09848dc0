import {
  cellRows,
  createAxis,
  createJob,
  createTable,
  FuelwrightError,
  type Job,
  readJob,
  writeJob,
} from "@fuelwright/table-core";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Bench } from "./bench.ts";
import {
  addStep,
  annotateStep,
  branchJob,
  bringInTable,
  type Command,
  changeBuild,
  changeScheme,
  changeStep,
  deleteStep,
  forgetNamedState,
  makeStep,
  moveStep,
  nameState,
  renameJob,
  switchStep,
} from "./commands.ts";
import { demoJob, emptyJob } from "./demo-job.ts";

const axes = {
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60, 90] }),
};
const table = createTable({
  ...axes,
  id: "t",
  name: "invented",
  quantity: "pulse-width",
  cells: [
    [2, 3, 4],
    [3, 4, 5],
    [4, 5, 6],
  ],
});
const start = (): Job => createJob({ ...emptyJob(null), tables: [table] });
const cells = (bench: Bench) => cellRows(bench.replay.state.tables.t!);

describe("a bench", () => {
  test("keeps a step, undoes it and does it again, naming it", () => {
    const bench = new Bench(start());
    bench.perform(addStep(makeStep(bench.job, "scale-cells", "t", { factor: 2 }), "Scale"));
    expect(cells(bench)[0]).toEqual([4, 6, 8]);
    expect(bench.undoLabel).toBe("Scale");
    expect(bench.undo()).toBe("Scale");
    expect(cells(bench)[0]).toEqual([2, 3, 4]);
    expect(bench.redoLabel).toBe("Scale");
    bench.redo();
    expect(cells(bench)[0]).toEqual([4, 6, 8]);
  });

  test("previews a step without keeping it, and a reopened one in its place", () => {
    const bench = new Bench(start());
    const first = makeStep(bench.job, "offset-cells", "t", { amount: 1 });
    bench.perform(addStep(first, "Add"));
    bench.perform(addStep(makeStep(bench.job, "scale-cells", "t", { factor: 10 }), "Scale"));
    const draft = bench.preview({ ...first, settings: { amount: 2 } } as typeof first);
    expect(draft.kind).toBe("reopened");
    expect(cellRows(draft.state.tables.t!)[0]).toEqual([4, 5, 6]);
    expect(cells(bench)[0]).toEqual([30, 40, 50]);
    bench.perform(changeStep(draft.step, "Change Add"));
    expect(bench.draft).toBeNull();
    expect(cells(bench)[0]).toEqual([40, 50, 60]);
  });

  test("says in the draft why a step can't be applied, and changes nothing", () => {
    const bench = new Bench(start());
    const draft = bench.preview(makeStep(bench.job, "scale-cells", "gone", { factor: 2 }));
    expect(draft.outcome.status).toBe("passed-over");
    expect(draft.outcome.reason!.message).toContain("gone");
    expect(draft.state).toBe(bench.replay.state);
  });

  test("a command that fails leaves job and history as they were", () => {
    const bench = new Bench(start());
    const { job, history } = bench;
    expect(() => bench.perform(changeBuild({ ...job.build, battery: { volts: 0 } }, "the battery"))).toThrow(
      FuelwrightError,
    );
    expect(() => bench.perform(deleteStep("none", "a step"))).toThrow("none");
    expect(bench.job).toBe(job);
    expect(bench.history).toBe(history);
  });

  test("a table brought in again in the place of another has the steps done again on it", () => {
    const bench = new Bench(start());
    bench.perform(addStep(makeStep(bench.job, "offset-cells", "t", { amount: 1 }), "Add"));
    bench.perform(bringInTable(createTable({ ...table, cells: [[1, 1, 1], [1, 1, 1], [1, 1, 1]] }))); // biome-ignore format: rows
    expect(cells(bench)[1]).toEqual([2, 2, 2]);
  });

  test("a branch has the steps up to a place, and a life of its own", () => {
    const bench = new Bench(demoJob());
    const branch = branchJob(bench.job, "s1", "other");
    expect(branch.steps.map(({ id }) => id)).toEqual(["s1"]);
    expect(branch.tables).toEqual(bench.job.tables);
    expect(branch.id).toBe("other");
  });

  test("a deleted step hands its named state to the one before", () => {
    const bench = new Bench(demoJob());
    bench.perform(nameState("rich", "s2"));
    bench.perform(deleteStep("s2", "step 2"));
    expect(bench.job.named).toEqual([{ name: "rich", after: "s1" }]);
  });

  test("an earlier version comes back as a change that can be undone", () => {
    const bench = new Bench(start());
    bench.perform(renameJob("A", ""));
    bench.perform(renameJob("B", ""));
    bench.restoreVersion(1);
    expect(bench.job.name).toBe("A");
    bench.undo();
    expect(bench.job.name).toBe("B");
    expect(bench.history.entries).toHaveLength(4);
  });
});

test("the demo job says that it is invented, applies whole, and survives saving", () => {
  const job = demoJob();
  expect(job.invented).toBe(true);
  const bench = new Bench(job);
  expect(bench.replay.outcomes.map(({ status }) => status)).toEqual(["applied", "applied"]);
  expect(readJob(writeJob(job))).toEqual(job);
  expect(emptyJob(null).tables).toEqual([]);
});

/** What a person may do, as data; the model is the list of jobs that were there, and a place in it. */
type Act =
  | { readonly kind: "undo" }
  | { readonly kind: "redo" }
  | { readonly kind: "do"; readonly command: (job: Job) => Command | null };

const anyStep = (job: Job, pick: number) => (job.steps.length ? job.steps[pick % job.steps.length]! : null);

const acts: fc.Arbitrary<Act> = fc.oneof(
  { weight: 2, arbitrary: fc.constant({ kind: "undo" } as const) },
  { weight: 2, arbitrary: fc.constant({ kind: "redo" } as const) },
  {
    weight: 6,
    arbitrary: fc.tuple(fc.nat(9), fc.nat(), fc.nat(), fc.double({ min: 0.9, max: 1.1, noNaN: true })).map(
      ([which, pick, other, factor]): Act => ({
        kind: "do",
        command: (job) => {
          const step = anyStep(job, pick);
          if (which < 3) return addStep(makeStep(job, "scale-cells", "t", { factor }), "Scale");
          if (which === 3) return renameJob(`job ${pick}`, "");
          if (which === 4) return changeScheme({ ...job.scheme, name: `scheme ${pick % 50}` });
          if (which === 5)
            return changeBuild({ ...job.build, battery: { volts: 11 + (pick % 40) / 10 } }, "the battery");
          if (!step) return null;
          if (which === 6) return switchStep(step.id, !step.on, "a step");
          if (which === 7) return annotateStep(step.id, `note ${other}`, "a step");
          if (which === 8)
            return other % 3 === 0
              ? forgetNamedState("n")
              : other % 2
                ? nameState("n", step.id)
                : deleteStep(step.id, "a step");
          return moveStep(step.id, other % job.steps.length, "a step");
        },
      }),
    ),
  },
);

test("undo and redo give back exactly the jobs that were there, whatever was done", () => {
  fc.assert(
    fc.property(fc.array(acts, { maxLength: 40 }), (list) => {
      const bench = new Bench(start());
      let past: Job[] = [bench.job];
      let at = 0;
      for (const act of list) {
        if (act.kind === "undo") {
          bench.undo();
          at = Math.max(0, at - 1);
        } else if (act.kind === "redo") {
          bench.redo();
          at = Math.min(past.length - 1, at + 1);
        } else {
          const command = act.command(bench.job);
          if (!command) continue;
          bench.perform(command);
          past = [...past.slice(0, at + 1), bench.job];
          at++;
        }
        expect(bench.job).toBe(past[at]);
        expect(bench.undoLabel === null).toBe(at === 0);
        expect(bench.redoLabel === null).toBe(at === past.length - 1);
      }
      // What the bench shows is what a fresh replay of the saved job gives.
      const fresh = new Bench(readJob(writeJob(bench.job)));
      expect(fresh.replay.state.tables.t!.cells).toEqual(bench.replay.state.tables.t!.cells);
      expect(fresh.job).toEqual(bench.job);
    }),
    { numRuns: 150 },
  );
});
