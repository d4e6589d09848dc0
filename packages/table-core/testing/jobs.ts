import fc from "fast-check";
import { createBuild } from "../src/build/build.ts";
import { fuels } from "../src/fuel/fuel.ts";
import { createJob, type Job } from "../src/job/job.ts";
import type { Step } from "../src/job/step.ts";
import { checkStep } from "../src/job/step-schema.ts";
import type { FuelTable } from "../src/values/fuel-table.ts";
import { regionsOf, tables } from "./arbitraries.ts";

/** An invented build that suits pulse widths of some milliseconds. */
export const inventedBuild = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: { name: "old set", flowGramsPerSecond: 2.9, ratedPressureKpa: 300, deadTime: 0.4 },
  rail: { kind: "manifold-referenced", pressureKpa: 300 },
  battery: { volts: 13.5 },
  place: { altitudeM: 0, temperatureC: 20 },
});

/** Steps as data, of every kind that works on one table's cells, and of the kinds that carry tables over. */
export function stepsOn(table: FuelTable): fc.Arbitrary<Step> {
  const region = regionsOf(table);
  const settings: fc.Arbitrary<{ kind: string; table?: string; settings: object }> = fc.oneof(
    fc
      .record({ region, value: fc.double({ min: 1, max: 12, noNaN: true }) })
      .map((s) => ({ kind: "set-cells", settings: s })),
    fc
      .record({ region, factor: fc.double({ min: 0.8, max: 1.25, noNaN: true }) })
      .map((s) => ({ kind: "scale-cells", settings: s })),
    fc
      .record({ region, amount: fc.double({ min: -0.2, max: 0.4, noNaN: true }) })
      .map((s) => ({ kind: "offset-cells", settings: s })),
    fc
      .record({ region, max: fc.double({ min: 4, max: 20, noNaN: true }) })
      .map((s) => ({ kind: "limit-cells", settings: s })),
    region.map((r) => ({ kind: "lock-cells", settings: { region: r } })),
    fc.constant({ kind: "unlock-cells", settings: {} }),
    fc
      .record({ region, from: fc.constant(0.95), to: fc.double({ min: 0.8, max: 1.1, noNaN: true }) })
      .map((s) => ({ kind: "retarget-mixture", settings: s })),
    fc.double({ min: 2, max: 6, noNaN: true }).map((flow) => ({
      kind: "rescale-for-injectors",
      settings: {
        tables: [table.id],
        to: { name: "new set", flowGramsPerSecond: flow, ratedPressureKpa: 300, deadTime: 0.5 },
      },
    })),
  );
  return fc.tuple(settings, fc.boolean(), fc.uuid()).map(([step, on, id]) =>
    checkStep({
      id,
      ...(step.kind !== "rescale-for-injectors" && { table: table.id }),
      ...step,
      on,
      note: "",
      time: "2026-01-05T09:00:00.000Z",
    }),
  );
}

/** Whole jobs: one table of pulse widths and some steps on it. */
export const jobs = (mostSteps = 8): fc.Arbitrary<Job> =>
  tables({ min: 1.5, max: 12 })
    .chain((table) => fc.tuple(fc.constant(table), fc.array(stepsOn(table), { maxLength: mostSteps })))
    .map(([table, steps]) =>
      createJob({
        id: "invented",
        name: "invented",
        created: "2026-01-05T09:00:00.000Z",
        build: inventedBuild,
        tables: [table],
        steps: steps.filter((step, at) => steps.findIndex(({ id }) => id === step.id) === at),
      }),
    );
