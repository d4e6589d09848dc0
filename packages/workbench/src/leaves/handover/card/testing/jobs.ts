import {
  createAxis,
  createJob,
  createTable,
  type EvidenceSummary,
  type FuelTable,
  type Job,
  replayJob,
  type Step,
} from "@fuelwright/table-core";
import { demoJob } from "../../../../store/demo-job.ts";
import { usualPreferences } from "../../../../store/preferences.ts";
import { CardContext, type CardSettings } from "../card-context.ts";

// Everything here is invented.

/** A job as the card sees it, on A4 with all its tables. */
export const contextOf = (job: Job, settings: Partial<Omit<CardSettings, "replay">> = {}): CardContext =>
  new CardContext({
    replay: replayJob(job),
    preferences: usualPreferences,
    paper: "a4",
    tables: "both",
    day: "1 May 2026",
    ...settings,
  });

const envelope = { on: true, note: "", time: "2026-05-01T08:00:00.000Z" } as const;

/** A step with what every step carries. */
export const step = (id: string, part: object): Step => ({ ...envelope, id, ...part }) as Step;

/** A table that no paper takes in one piece: pulse widths over 64 breakpoints of rpm and 40 of throttle. */
export function largeTable(): FuelTable {
  const rpm = createAxis({
    quantity: "rpm",
    unit: "rpm",
    breakpoints: Array.from({ length: 64 }, (_, at) => 800 + at * 110),
  });
  const load = createAxis({
    quantity: "throttle-position",
    unit: "%",
    breakpoints: Array.from({ length: 40 }, (_, at) => at * 2.5),
  });
  return createTable({
    id: "large",
    name: "Large table",
    quantity: "pulse-width",
    rpm,
    load,
    // Each cell has its own figure, so that a missing one is missed.
    cells: load.breakpoints.map((_, row) => rpm.breakpoints.map((_, column) => 2 + row * 0.21 + column * 0.003)),
  });
}

/** The demo's engine on that table, richer in one corner. */
export function largeJob(): Job {
  const { build } = demoJob();
  return createJob({
    id: "large",
    name: "Fine table, one corner richer",
    invented: true,
    build,
    tables: [largeTable()],
    steps: [
      step("corner", {
        kind: "scale-cells",
        table: "large",
        settings: { region: { rpm: [5000, 7730], load: [80, 97.5] }, factor: 1.04 },
        note: "lean on the long climb",
      }),
    ],
  });
}

/** Evidence on the axes of a table: `samples` and `factor` of each cell by its row and column. */
export function evidenceFor(
  { rpm, load, cells }: FuelTable,
  samples: (row: number, column: number) => number,
  factor: (row: number, column: number) => number,
): EvidenceSummary {
  const columns = rpm.breakpoints.length;
  const each = (of: (row: number, column: number) => number) =>
    Array.from(cells, (_, at) => of(Math.floor(at / columns), at % columns));
  const none = each(() => 0);
  const figure = { value: 0.2, deviation: 0.02 };
  return {
    version: 1,
    name: "ride one",
    logs: ["ride-1.csv"],
    simulated: false,
    rpm: { quantity: rpm.quantity, breakpoints: [...rpm.breakpoints] },
    load: { quantity: load.quantity, breakpoints: [...load.breakpoints] },
    factors: each(factor),
    deviations: each(() => 0.004),
    samples: each(samples),
    seconds: each(samples).map((count) => count / 20),
    residuals: none,
    spreads: none,
    delay: {
      sensors: [{ sensor: 1, constant: figure, flow: figure, lag: figure, total: { value: 0.31, deviation: 0.02 } }],
      film: null,
      reference: { rpm: 3000, manifoldKpa: 60 },
      found: true,
      profile: [],
    },
    noise: 0.021,
    inflation: 1,
    used: 4200,
    usedSeconds: 210,
    gates: [],
    deadTime: null,
    warmth: null,
    warnings: [{ code: "few-readings", text: "Only a short ride.", details: {} }],
  };
}

/** Two cylinders' tables, one corrected by a ride, extended, locked in a corner, and partly changed again. */
export function cylinderJob(): Job {
  const demo = demoJob();
  const one = demo.tables[0]!;
  const front = createTable({ ...one, id: "front", name: "Front", cylinder: 1 });
  const rear = createTable({ ...one, id: "rear", name: "Rear", cylinder: 2 });
  // Rows 3 to 5 from the third column on were ridden; the last of them leaves the cells within their doubt.
  const evidence = evidenceFor(
    front,
    (row, column) => (column < 3 || column > 10 ? 0 : row >= 3 && row <= 5 ? 120 : row === 6 ? 8 : 0),
    (row) => (row === 5 ? 1.001 : row >= 3 && row <= 4 ? 1.03 : 1),
  );
  return createJob({
    id: "cylinders",
    name: "Two tables & <one> ride",
    about: "cylinders apart",
    build: demo.build,
    tables: [front, rear, demo.tables[1]!],
    roles: { target: "target" },
    steps: [
      step("evidence", { kind: "apply-evidence", table: "front", settings: { evidence }, note: "first ride" }),
      step("after", {
        kind: "scale-cells",
        table: "front",
        settings: { region: { rpm: [1800, 1800], load: [40, 40] }, factor: 1.02 },
      }),
      step("off", { kind: "scale-cells", table: "front", on: false, settings: { factor: 1.5 }, note: "was too much" }),
      step("nowhere", { kind: "scale-cells", table: "gone", settings: { factor: 1.1 } }),
      step("lock", { kind: "lock-cells", table: "rear", settings: { region: { rpm: [900, 1200], load: [20, 26] } } }),
      step("curve", {
        kind: "shape-cells",
        table: "rear",
        settings: {
          region: { rpm: [5000, 6800], load: [90, 100] },
          along: "rpm",
          points: [
            [5000, 1],
            [6800, 1.06],
          ],
        },
        note: "the pipe, as it is said to work",
      }),
      step("wider", { kind: "extrapolate-cells", table: "rear", settings: { rpm: [7200] } }),
    ],
  });
}
