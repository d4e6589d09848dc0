import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { type EvidenceSummary, summariseEvidence } from "../evidence/evidence-summary.ts";
import { fitEvidence } from "../evidence/fit-evidence.ts";
import { simulateLog } from "../evidence/simulate-log.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { createJob } from "./job.ts";
import { readJob, writeJob } from "./job-text.ts";
import { replayJob } from "./replay-job.ts";
import { checkStep } from "./step-schema.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000, 5500] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 50, 70, 95] });
const masses = createTable({
  id: "fuel",
  name: "invented",
  quantity: "fuel-mass",
  rpm,
  load,
  cells: load.breakpoints.map((l) => rpm.breakpoints.map((r) => 4 + l / 8 + r / 2000)),
});

let evidence: EvidenceSummary;
beforeAll(async () => {
  const { log } = simulateLog({ seed: 5, rpm, load, minutes: 3, hertz: 20, film: { share: 0.2, time: 0.2 } });
  evidence = summariseEvidence(await fitEvidence({ logs: [log], table: masses }));
});

const step = (settings: object) =>
  checkStep({
    id: "s",
    kind: "apply-evidence",
    table: "fuel",
    settings: { evidence, ...settings },
    on: true,
    note: "",
    time: "2026-01-05T09:00:00.000Z",
  });
const jobOf = (settings: object) =>
  createJob({ name: "invented", build: inventedBuild, tables: [masses], steps: [step(settings)], created: "2026" });

const settingsOf = fc.record(
  {
    fraction: fc.double({ min: 0, max: 1, noNaN: true }),
    cap: fc.double({ min: 0, max: 1, noNaN: true }),
    deviations: fc.double({ min: 0, max: 10, noNaN: true }),
    manner: fc.constantFrom("shrunk", "excess", "whole"),
    smooth: fc.double({ min: 0, max: 100, noNaN: true }),
    leastSamples: fc.double({ min: 0, max: 1e4, noNaN: true }),
    region: fc.constant({ rpm: [1500, 4500], feather: { rpm: 500 } }),
  },
  { requiredKeys: [] },
);

describe("a step that applies evidence", () => {
  test("keeps the summary in the job: written, read and replayed it gives the same cells", () => {
    fc.assert(
      fc.property(settingsOf, (settings) => {
        const job = jobOf(settings);
        const back = readJob(writeJob(job));
        expect(back).toEqual(job);
        expect(writeJob(back)).toBe(writeJob(job));
        const { outcomes, state } = replayJob(job);
        expect(outcomes[0]!.status).toBe("applied");
        expect(replayJob(back).state.tables.fuel!.cells).toEqual(state.tables.fuel!.cells);
      }),
      { numRuns: 60 },
    );
  });

  test("reports what it did, and changes nothing but what it reports", () => {
    const { state, outcomes } = replayJob(jobOf({ cap: 0.02 }));
    const report = outcomes[0]!.report as { applied: Float64Array; changed: number; simulated: boolean };
    expect(report.simulated).toBe(true);
    expect(report.changed).toBeGreaterThan(3);
    state.tables.fuel!.cells.forEach((cell, at) => {
      expect(cell / masses.cells[at]!).toBeCloseTo(Math.exp(report.applied[at]!), 12);
      expect(Math.abs(report.applied[at]!)).toBeLessThanOrEqual(Math.log(1.02) + 1e-12);
    });
  });

  test("is refused where its settings can't be, naming the place", () => {
    expect(() => step({ fraction: 1.2 })).toThrow("step.settings.fraction");
    expect(() => step({ evidence: { ...evidence, factors: ["1"] } })).toThrow("step.settings.evidence.factors[0]");
    expect(() => step({ evidence: { ...evidence, version: 2 } })).toThrow("step.settings.evidence.version");
    expect(() => step({ log: "text" })).toThrow("step.settings.log");
  });

  test("is passed over with its reason where the evidence is of other cells or of a target", () => {
    const short = replayJob(jobOf({ evidence: { ...evidence, samples: [1] } })).outcomes[0]!;
    expect([short.status, short.reason?.code]).toEqual(["passed-over", "bad-evidence"]);
    const unknown = { ...evidence, rpm: { ...evidence.rpm, quantity: "warp" } };
    expect(replayJob(jobOf({ evidence: unknown })).outcomes[0]!.reason?.code).toBe("unknown-choice");
    const target = createTable({ ...masses, quantity: "lambda", unit: "lambda", cells: masses.cells.map(() => 0.9) });
    const { outcomes } = replayJob(createJob({ ...jobOf({}), tables: [target] }));
    expect(outcomes[0]!.reason?.code).toBe("wrong-quantity");
  });
});
