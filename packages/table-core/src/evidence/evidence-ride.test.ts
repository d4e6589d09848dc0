import { beforeAll, describe, expect, test } from "vitest";
import { rideLoad, rideOf, rideRpm } from "../../testing/rides.ts";
import { createTable } from "../values/fuel-table.ts";
import { applyEvidence } from "./apply-evidence.ts";
import { compareEvidence } from "./compare-evidence.ts";
import { createEvidenceSummary, summariseEvidence } from "./evidence-summary.ts";
import { type EvidenceFit, fitEvidence } from "./fit-evidence.ts";
import type { SimulatedLogOptions } from "./simulate-log.ts";
import { suggestTipIn } from "./suggest-tip-in.ts";
import { whereToRideNext } from "./where-to-ride-next.ts";

const table = { rpm: rideRpm, load: rideLoad };
const options: SimulatedLogOptions = { seed: 21, ...table, minutes: 8, hertz: 25, film: { share: 0.25, time: 0.3 } };
const made = rideOf(options);
let fit: EvidenceFit;
beforeAll(async () => {
  fit = await fitEvidence({ logs: [made.log], table });
}, 60_000);

describe("a summary", () => {
  test("is JSON, comes back the same, and says that it is simulated", () => {
    const summary = summariseEvidence(fit, "first ride");
    expect(summary).toMatchObject({ name: "first ride", simulated: true, version: 1 });
    const back = createEvidenceSummary(JSON.parse(JSON.stringify(summary)));
    expect(JSON.parse(JSON.stringify(back))).toEqual(JSON.parse(JSON.stringify(summary)));
    expect(JSON.stringify(summary).length).toBeLessThan(40_000);
    summary.factors.forEach((factor, at) => {
      expect(Math.abs(factor / fit.corrections.cells[at]! - 1)).toBeLessThan(1e-5);
    });
  });
});

describe("whereToRideNext", () => {
  test("asks for what is nearly reached and uncertain, in an order that can be ridden", () => {
    const { stages, gain, caution } = whereToRideNext(fit);
    expect(stages.length).toBeGreaterThan(2);
    expect(gain).toBeGreaterThan(0.02);
    expect(stages.reduce((sum, stage) => sum + stage.gain, 0)).toBeCloseTo(gain, 9);
    expect(caution).toMatch(/closed road|dyno/);
    const visits = stages.flatMap(({ cells }) => cells);
    expect(new Set(visits).size).toBe(visits.length);
    expect(visits.length).toBeLessThanOrEqual(12);
    for (const stage of stages) {
      expect(stage.deviationAfter).toBeLessThan(stage.deviationBefore);
      expect(stage.kind === "hold").toBe(stage.cells.length === 1);
      if (stage.kind === "pull") expect(stage.rpm[0]).toBe(stage.rpm[1]);
      if (stage.kind === "roll-on") expect(stage.load[0]).toBe(stage.load[1]);
    }
    const rpm = stages.map((stage) => stage.rpm[0]);
    expect(rpm).toEqual([...rpm].sort((a, b) => a - b));
    // Nothing in the corner that the machine never reaches: light load below 30 kPa at high revs is beyond one row.
    for (const at of visits) {
      const row = Math.floor(at / 16);
      const near = [row - 1, row, row + 1].some((r) =>
        [-1, 0, 1].some((c) => (fit.coverage.samples[r * 16 + (at % 16) + c] ?? 0) >= 5),
      );
      expect(near).toBe(true);
    }
  });

  test("danger draws it to high load", () => {
    const height = (danger: number) => {
      const visits = whereToRideNext(fit, { danger }).stages.flatMap(({ cells }) => cells);
      return visits.reduce((sum, at) => sum + Math.floor(at / 16), 0) / visits.length;
    };
    expect(height(30)).toBeGreaterThan(height(0));
  });

  test("a ride that goes there teaches about what was expected", async () => {
    const { stages } = whereToRideNext(fit, { most: 4, seconds: 20 });
    const visits = stages.flatMap(({ cells }) => cells);
    // A second ride of the same length adds to all cells; the ones asked for get surer, as expected or more.
    const more = await fitEvidence({
      logs: [made.log, rideOf({ ...options, seed: 22, truth: made.truth.corrections }).log],
      table,
    });
    const before = visits.reduce((sum, at) => sum + fit.deviation[at]!, 0);
    const after = visits.reduce((sum, at) => sum + more.deviation[at]!, 0);
    expect(after).toBeLessThan(before);
  });
});

describe("suggestTipIn", () => {
  test("is the step response of the film that was found", () => {
    const tip = suggestTipIn(fit.delay)!;
    const { share, time } = fit.delay.film!;
    expect(tip.share.value).toBeCloseTo(share.value / (1 - share.value), 12);
    expect(tip.decay.value).toBeCloseTo((1 - share.value) * time.value, 12);
    expect(tip.share.deviation).toBeGreaterThan(0);
    expect(tip.decay.deviation).toBeGreaterThan(0);
    expect(Math.abs(tip.share.value - 0.25 / 0.75)).toBeLessThan(0.05);
    expect(Math.abs(tip.decay.value - 0.75 * 0.3)).toBeLessThan(0.05);
    expect(tip.response[0]!.without).toBeCloseTo(tip.leanest, 12);
    expect(tip.response.at(-1)!.without).toBeCloseTo(1, 2);
    expect(suggestTipIn({ film: null })).toBeNull();
  });
});

describe("compareEvidence", () => {
  test("finds that an applied correction worked, and where it did not", async () => {
    const before = summariseEvidence(fit);
    const fuel = createTable({
      id: "main",
      name: "invented",
      quantity: "fuel-mass",
      ...table,
      cells: new Float64Array(256).fill(10),
    });
    const { report } = applyEvidence(fuel, { evidence: before, manner: "whole", cap: 0.5, deviations: 0 });
    // The table was changed: what is left of the truth is what was not applied. One cell went wrong by hand.
    const wrong = Array.from(fit.coverage.samples.keys()).sort(
      (a, b) => fit.coverage.samples[b]! - fit.coverage.samples[a]!,
    )[25]!;
    const left = made.truth.corrections.map((truth, at) => truth - report.applied[at]! + (at === wrong ? 0.06 : 0));
    const second = await fitEvidence({ logs: [rideOf({ ...options, seed: 23, truth: left }).log], table });
    const outcome = compareEvidence(before, report.applied, summariseEvidence(second));
    expect(outcome.achieved).toBeLessThan(0.6 * outcome.before);
    expect(outcome.predicted).toBeLessThan(0.005);
    expect(outcome.asPredicted).toBeGreaterThan(0.8);
    expect(outcome.surprises[0]!.at).toBe(wrong);
    expect(outcome.spreadAfter).toBeCloseTo(0.015, 2);
    expect(outcome.simulated).toBe(true);
  });

  test("needs the same table and cells in common", () => {
    const summary = summariseEvidence(fit);
    const other = {
      ...summary,
      rpm: { ...summary.rpm, breakpoints: summary.rpm.breakpoints.map((value) => value + 1) },
    };
    expect(() => compareEvidence(summary, new Float64Array(256), other)).toThrow(/same table/);
    expect(() => compareEvidence(summary, new Float64Array(256), summary, 1e9)).toThrow(/no cell in common/);
  });
});
