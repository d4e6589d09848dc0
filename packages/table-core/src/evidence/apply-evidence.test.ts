import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createBuild } from "../build/build.ts";
import { fuels } from "../fuel/fuel.ts";
import { createInjector, deliveredMass } from "../fuel/injector.ts";
import { createAxis } from "../values/axis.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { type ApplyEvidence, applyEvidence } from "./apply-evidence.ts";
import { createEvidenceSummary, type EvidenceSummary } from "./evidence-summary.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000, 4000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60, 90] });

function evidenceOf(change: Partial<EvidenceSummary> = {}, factors = new Array(12).fill(1.05)): EvidenceSummary {
  return {
    version: 1,
    name: "invented",
    logs: ["invented"],
    simulated: true,
    rpm,
    load,
    factors,
    deviations: new Array(12).fill(0.01),
    samples: new Array(12).fill(500),
    seconds: new Array(12).fill(10),
    residuals: new Array(12).fill(0),
    spreads: new Array(12).fill(0.015),
    delay: { sensors: [], film: null, reference: { rpm: 3000, manifoldKpa: 60 }, found: true, profile: [] },
    noise: 0.015,
    inflation: 1,
    used: 6000,
    usedSeconds: 120,
    gates: [],
    deadTime: null,
    warmth: null,
    warnings: [],
    ...change,
  };
}

const tableOf = (quantity: FuelTable["quantity"], cells: number[], more: object = {}) =>
  createTable({ id: "t", name: "invented", quantity, rpm, load, cells: Float64Array.from(cells), ...more });

const twelve = (value: number) => new Array(12).fill(value);
const apply = (table: FuelTable, settings: Partial<ApplyEvidence> = {}) =>
  applyEvidence(table, { evidence: evidenceOf(), ...settings });

const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 7000, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: createInjector({ name: "invented", flowGramsPerSecond: 3, ratedPressureKpa: 300, deadTime: 0.9 }),
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 20, temperatureC: 20 },
});

describe("applyEvidence", () => {
  test("takes of a correction what its doubt leaves", () => {
    const c = Math.log(1.05);
    const mass = tableOf("fuel-mass", twelve(10));
    const grown = (settings: Partial<ApplyEvidence>) => Math.log(apply(mass, settings).table.cells[5]! / 10);
    expect(grown({ manner: "whole" })).toBeCloseTo(c, 12);
    expect(grown({ manner: "excess" })).toBeCloseTo(c - 0.01, 12);
    expect(grown({ manner: "excess", deviations: 2 })).toBeCloseTo(c - 0.02, 12);
    expect(grown({})).toBeCloseTo(c * (1 - (0.01 / c) ** 2), 12);
    expect(grown({ manner: "whole", fraction: 0.5 })).toBeCloseTo(c / 2, 12);
    expect(grown({ manner: "whole", cap: 0.02 })).toBeCloseTo(Math.log(1.02), 12);
    expect(grown({ deviations: 5 })).toBe(0);
    expect(apply(mass, { deviations: 5 }).report).toMatchObject({
      changed: 0,
      doubtful: 12,
      unsupported: 0,
      simulated: true,
    });
    expect(apply(mass, { manner: "whole", cap: 0.02 }).report.capped).toBe(12);
  });

  test("multiplies masses, efficiencies and factors; adds to trims; goes through the injector for pulses", () => {
    const whole = { manner: "whole" as const };
    for (const quantity of ["fuel-mass", "volumetric-efficiency", "factor"] as const)
      expect(apply(tableOf(quantity, twelve(80)), whole).table.cells[0]).toBeCloseTo(84, 10);
    const trims = apply(tableOf("trim", twelve(-10)), whole);
    expect(trims.table.cells[0]).toBeCloseTo(-5.5, 10);
    expect(trims.report.assumptions[0]).toMatchObject({ id: "trims-by-ratio" });
    const pulses = tableOf("pulse-width", twelve(4));
    const { table, report } = apply(pulses, { ...whole, build });
    const delivered = (pulseMs: number) =>
      deliveredMass(build.injectors, {
        pulseMs,
        volts: 13.6,
        pressureKpa: 300,
        densityKgPerL: build.fuel.densityKgPerL,
      });
    expect(delivered(table.cells[3]!) / delivered(4)).toBeCloseTo(1.05, 10);
    // The dead time stays: 3.1 ms open become 3.255.
    expect(table.cells[3]).toBeCloseTo(0.9 + 3.1 * 1.05, 10);
    expect(report.fuel!.dutyAfter).not.toBeNull();
    const onBase = apply(tableOf("trim", twelve(0)), { ...whole, build, basePulse: pulses });
    expect(onBase.table.cells[3]).toBeCloseTo(((0.9 + 3.1 * 1.05) / 4 - 1) * 100, 9);
    expect(() => apply(pulses)).toThrow(/give build/);
    expect(() => apply(tableOf("lambda", twelve(1)))).toThrow(/is a target/);
  });

  test("leaves cells without support, outside the region and locked bit for bit", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 50, noNaN: true }), { minLength: 12, maxLength: 12 }),
        fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 12, maxLength: 12 }),
        fc.array(fc.double({ min: 0.8, max: 1.2, noNaN: true }), { minLength: 12, maxLength: 12 }),
        fc.constantFrom("fuel-mass" as const, "pulse-width" as const, "trim" as const),
        fc.constantFrom(0, 3),
        (cells, samples, factors, quantity, smooth) => {
          const table = tableOf(quantity, cells, { locked: [{ rpm: [1000, 1000] }] });
          const evidence = evidenceOf({ samples }, factors);
          const region = { load: [0, 70] as const };
          const { table: after, report } = applyEvidence(table, {
            evidence,
            region,
            build,
            smooth,
            ...(quantity === "trim" && { basePulse: tableOf("pulse-width", twelve(5)) }),
          });
          after.cells.forEach((cell, at) => {
            const free = samples[at]! >= 25 && at < 8 && at % 4 !== 0;
            if (!free) {
              expect(Object.is(cell, table.cells[at])).toBe(true);
              expect(report.applied[at]).toBe(0);
            } else if (quantity === "fuel-mass")
              expect(cell).toBeCloseTo(table.cells[at]! * Math.exp(report.applied[at]!), 9);
            expect(Math.abs(report.applied[at]!)).toBeLessThanOrEqual(Math.log(1.1) + 1e-12);
          });
          expect(table.cells).toEqual(Float64Array.from(cells));
        },
      ),
      { numRuns: 60 },
    );
  });

  test("smooths what is applied: a constant stays, a single cell is shared out", () => {
    const mass = tableOf("fuel-mass", twelve(10));
    const even = apply(mass, { manner: "whole", smooth: 5 });
    for (const value of even.report.applied) expect(value).toBeCloseTo(Math.log(1.05), 6);
    const one = evidenceOf(
      {},
      twelve(1).map((value, at) => (at === 5 ? 1.08 : value)),
    );
    const rough = applyEvidence(mass, { evidence: one, manner: "whole" }).report.applied;
    const smooth = applyEvidence(mass, { evidence: one, manner: "whole", smooth: 5 }).report.applied;
    expect(smooth[5]).toBeLessThan(rough[5]!);
    expect(smooth[6]).toBeGreaterThan(rough[6]!);
  });

  test("follows a table to other breakpoints, and asks for support of all that it interpolates", () => {
    const fine = createTable({
      id: "t",
      name: "invented",
      quantity: "fuel-mass",
      rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 1500, 2000, 5000] }),
      load,
      cells: new Float64Array(12).fill(10),
    });
    const evidence = evidenceOf({ samples: twelve(500).map((value, at) => (at === 1 ? 0 : value)) }, twelve(1.04));
    const { table, report } = applyEvidence(fine, { evidence, manner: "whole" });
    // The cell at 2000 rpm, 30 kPa is not supported, so neither is 1500 rpm; 5000 rpm lies beyond the evidence.
    expect(Array.from(table.cells.subarray(0, 4), (cell) => Number(cell.toFixed(6)))).toEqual([10.4, 10, 10, 10]);
    expect(Array.from(table.cells.subarray(4, 8), (cell) => Number(cell.toFixed(6)))).toEqual([10.4, 10.4, 10.4, 10]);
    expect(report.unsupported).toBe(5);
    const throttle = createTable({
      ...fine,
      load: createAxis({ quantity: "throttle-position", breakpoints: [0, 50, 100] }),
    });
    expect(() => applyEvidence(throttle, { evidence })).toThrow(/runs along/);
  });

  test("settings that make no sense are refused", () => {
    const mass = tableOf("fuel-mass", twelve(10));
    expect(() => apply(mass, { fraction: 1.5 })).toThrow(/fraction must be between 0 and 1/);
    expect(() => apply(mass, { cap: -1 })).toThrow(/cap/);
    expect(() => apply(mass, { manner: "bold" as never })).toThrow(/manner must be one of/);
    expect(() => apply(mass, { evidence: evidenceOf({ factors: [1, 2] }) })).toThrow(
      /evidence\.factors must be 12 numbers/,
    );
    expect(() => apply(mass, { evidence: evidenceOf({ deviations: twelve(-1) }) })).toThrow(/deviations\[0\]/);
    expect(() => createEvidenceSummary({ ...evidenceOf(), version: 2 as never })).toThrow(/version must be 1/);
  });
});
