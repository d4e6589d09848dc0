import { replayJob } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { evidenceMap } from "./evidence-map.ts";
import { cylinderJob } from "./testing/jobs.ts";

const replay = replayJob(cylinderJob());
const { front, rear } = replay.state.tables;
const at = (row: number, column: number) => evidenceMap(replay, front!)![row * 15 + column];

test("cells are told apart by what the log and later steps did to them", () => {
  expect(at(4, 5)).toBe("corrected");
  expect(at(5, 5)).toBe("confirmed");
  // 1,800 rpm and 40 kPa, which the second step scales.
  expect(at(3, 3)).toBe("changed-since");
  expect(at(6, 5)).toBe("few");
  expect(at(9, 14)).toBe("unseen");
});

test("a table that no log was applied to has no map", () => {
  expect(evidenceMap(replay, rear!)).toBeNull();
});

test("a step that is off proves nothing", () => {
  const job = cylinderJob();
  const off = replayJob({ ...job, steps: job.steps.map((step, n) => (n === 0 ? { ...step, on: false } : step)) });
  expect(evidenceMap(off, off.state.tables.front!)).toBeNull();
});

test("after a change of breakpoints what was proven stands between proven cells, and is not called proven", () => {
  const job = cylinderJob();
  const finer = replayJob({
    ...job,
    steps: [
      job.steps[0]!,
      {
        ...job.steps[1]!,
        id: "finer",
        kind: "rebin-table",
        table: "front",
        settings: { load: [20, 26, 32, 40, 45, 50, 60, 70, 80, 90, 100] },
      } as (typeof job.steps)[number],
    ],
  });
  expect(finer.outcomes[1]!.status).toBe("applied");
  const map = evidenceMap(finer, finer.state.tables.front!)!;
  expect(map[4 * 15 + 5]).toBe("changed-since");
  expect(map.includes("corrected")).toBe(false);
  expect(map[10 * 15 + 14]).toBe("unseen");
});
