import { expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { createAxis } from "../values/axis.ts";
import { createTable } from "../values/fuel-table.ts";
import { checkCeilings } from "./check-job-ceilings.ts";
import { createJob } from "./job.ts";
import { checkStep } from "./step-schema.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [2000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const cells = [
  [4, 4],
  [12, 12],
];
const table = createTable({ id: "t", name: "invented", quantity: "pulse-width", rpm, load, cells });
const target = createTable({ ...table, id: "target", quantity: "lambda", unit: "lambda", cells: [[1, 1], [0.9, 0.9]] }); // biome-ignore format: rows
const job = createJob({
  name: "invented",
  build: inventedBuild,
  tables: [target, table],
  roles: { target: "target" },
  steps: [
    checkStep({ id: "a", kind: "scale-cells", table: "t", settings: { factor: 2 }, on: true, note: "", time: "" }),
  ],
});

test("a job is checked as it stands after its steps, with its own target", () => {
  const report = checkCeilings(job);
  // On paper: 12 ms · 2 = 24 ms at 6000 rpm, where a cycle takes 20 ms: 23.6 ms of flow asked, 20 given.
  expect(report.ceilings.find(({ kind }) => kind === "static")!.cells.map(({ rpm: r, load: l }) => [r, l])).toEqual([
    [6000, 100],
  ]);
  expect(report.deliveredLambda![3]).toBeCloseTo((0.9 * 23.6) / 20, 12);
  expect(checkCeilings(job, { table: "t" })).toEqual(report);
});

test("without a job it takes a build and a table", () => {
  expect(checkCeilings({ build: inventedBuild, table }).ceilings).toEqual([]);
  expect(checkCeilings({ build: inventedBuild, table, target }).deliveredLambda![0]).toBeCloseTo(1, 12);
});

test("a job without such a table is refused by name", () => {
  expect(() => checkCeilings(job, { table: "none" })).toThrow('"none"');
  expect(() => checkCeilings(createJob({ ...job, tables: [target] }))).toThrow("meters fuel");
});

test("the factory's pulses, factors and targets are passed over for the table that is looked at", () => {
  const base = createTable({ ...table, id: "base" });
  const factor = createTable({ id: "factor", name: "invented", quantity: "factor", rpm, load, cells });
  const trims = createTable({ id: "trims", name: "invented", quantity: "trim", rpm, load, cells });
  const inLine = createJob({ ...job, tables: [target, factor, base, trims], roles: { basePulse: "base" }, steps: [] });
  expect(checkCeilings(inLine)).toEqual(checkCeilings({ build: inventedBuild, table: trims, basePulse: base }));
  expect(checkCeilings(inLine, { table: "base" })).toEqual(
    checkCeilings({ build: inventedBuild, table: base, basePulse: base }),
  );
  const lost = createJob({ ...inLine, roles: { basePulse: "gone" } });
  expect(() => checkCeilings(lost)).toThrow('"gone"');
});
