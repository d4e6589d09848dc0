import fc from "fast-check";
import { expect, test } from "vitest";
import { inventedBuild, jobs } from "../../testing/jobs.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { cellRows, createTable } from "../values/fuel-table.ts";
import { applyStep } from "./apply-step.ts";
import { createJob } from "./job.ts";
import { replayJob, sourceState } from "./replay-job.ts";
import type { Step } from "./step.ts";
import { checkStep } from "./step-schema.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 80] });
const table = createTable({ id: "t", name: "invented", quantity: "pulse-width", rpm, load, cells: [[2, 3], [4, 5]] }); // biome-ignore format: rows
const step = (id: string, kind: string, settings: object, on = true): Step =>
  checkStep({ id, kind, table: "t", settings, on, note: "", time: "2026-01-05T09:00:00.000Z" });
const job = createJob({
  name: "invented",
  build: inventedBuild,
  tables: [table],
  steps: [step("a", "scale-cells", { factor: 2 }), step("b", "offset-cells", { amount: 1 })],
});

test("steps are carried out in order, and every state in between is kept", () => {
  const { states, state, outcomes } = replayJob(job);
  expect(states.map(({ tables }) => cellRows(tables.t!))).toEqual([
    [[2, 3], [4, 5]],
    [[4, 6], [8, 10]],
    [[5, 7], [9, 11]],
  ]); // biome-ignore format: rows
  expect(state).toBe(states[2]);
  expect(outcomes.map(({ status }) => status)).toEqual(["applied", "applied"]);
});

test("a step that is off is passed over and stays in the job", () => {
  const off = createJob({ ...job, steps: [{ ...job.steps[0]!, on: false }, job.steps[1]!] });
  const { state, outcomes } = replayJob(off);
  expect(cellRows(state.tables.t!)).toEqual([[3, 4], [5, 6]]); // biome-ignore format: rows
  expect(outcomes[0]).toEqual({ id: "a", status: "off" });
});

test("a step that no longer applies says why, and the rest goes on", () => {
  const lost = checkStep({ ...step("c", "set-cells", { value: 9 }), table: "gone" });
  const { state, outcomes } = replayJob(createJob({ ...job, steps: [lost, ...job.steps] }));
  expect(outcomes[0]!.status).toBe("passed-over");
  expect(outcomes[0]!.reason).toBeInstanceOf(FuelwrightError);
  expect(outcomes[0]!.reason!.message).toContain('"gone"');
  expect(cellRows(state.tables.t!)).toEqual([[5, 7], [9, 11]]); // biome-ignore format: rows
});

test("a change of the injectors changes table and build together, and later steps meet the new set", () => {
  const to = { name: "new set", flowGramsPerSecond: 5.8, ratedPressureKpa: 300, deadTime: 0.4 };
  const { table: _, ...change } = step("i", "rescale-for-injectors", { tables: ["t"], to });
  const { state } = replayJob(createJob({ ...job, steps: [change as Step] }));
  expect(state.build.injectors.name).toBe("new set");
  // On paper: (2 − 0.4) · 2.9 / 5.8 + 0.4 = 1.2 ms.
  expect(cellRows(state.tables.t!)[0]![0]).toBeCloseTo(1.2, 12);
});

test("replay equals applying one by one", () => {
  fc.assert(
    fc.property(jobs(), (whole) => {
      const { state, states, outcomes } = replayJob(whole);
      let now = sourceState(whole);
      whole.steps.forEach((one, at) => {
        try {
          if (one.on) now = applyStep(now, one).state;
        } catch (error) {
          expect(error).toBeInstanceOf(FuelwrightError);
          expect(outcomes[at]!.status).toBe("passed-over");
        }
        expect(states[at + 1]!.tables.t!.cells).toEqual(now.tables.t!.cells);
      });
      expect(state.build.injectors).toEqual(now.build.injectors);
    }),
    { numRuns: 300 },
  );
});

test("a replay that goes on from an earlier one is the whole replay", () => {
  fc.assert(
    fc.property(jobs(), fc.nat(), fc.boolean(), (whole, where, drop) => {
      const before = replayJob(whole);
      const at = whole.steps.length ? where % whole.steps.length : 0;
      const steps = drop
        ? whole.steps.filter((_, other) => other !== at)
        : whole.steps.map((one, other) => (other === at ? { ...one, on: !one.on } : one));
      const changed = createJob({ ...whole, steps });
      const quick = replayJob(changed, { previous: before });
      const slow = replayJob(changed);
      expect(quick.state.tables.t!.cells).toEqual(slow.state.tables.t!.cells);
      expect(quick.outcomes.map(({ id, status }) => [id, status])).toEqual(
        slow.outcomes.map(({ id, status }) => [id, status]),
      );
      // Nothing before the change is done again.
      for (let one = 0; one < Math.min(at, whole.steps.length); one++)
        expect(quick.states[one]).toBe(before.states[one]);
    }),
    { numRuns: 300 },
  );
});

test("sources are never written to", () => {
  fc.assert(
    fc.property(jobs(), (whole) => {
      const kept = whole.tables[0]!.cells.slice();
      replayJob(whole);
      expect(whole.tables[0]!.cells).toEqual(kept);
    }),
    { numRuns: 200 },
  );
});
