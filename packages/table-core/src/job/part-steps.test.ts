import { expect, test } from "vitest";
import { inventedBuild } from "../../testing/jobs.ts";
import { createAxis } from "../values/axis.ts";
import { cellRows, createTable } from "../values/fuel-table.ts";
import { applyStep } from "./apply-step.ts";
import { createJob } from "./job.ts";
import { sourceState } from "./replay-job.ts";
import type { Step } from "./step.ts";
import { checkStep } from "./step-schema.ts";

const rpm = createAxis({ quantity: "rpm", breakpoints: [2000, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 100] });
const cells = [
  [3, 3.2],
  [8, 8.4],
];
const pulses = createTable({ id: "t", name: "invented", quantity: "pulse-width", rpm, load, cells });
const masses = createTable({ id: "m", name: "invented", quantity: "fuel-mass", rpm, load, cells });
const target = createTable({ id: "target", name: "invented", quantity: "lambda", rpm, load, cells: [[1, 1], [0.9, 0.9]] }); // biome-ignore format: rows
const state = sourceState(createJob({ name: "invented", build: inventedBuild, tables: [pulses, masses, target] }));
const step = (kind: string, settings: object, table?: string): Step =>
  checkStep({ id: "s", kind, ...(table && { table }), settings, on: true, note: "", time: "" });

test("displacement scales fuel masses exactly, and the build with them", () => {
  const after = applyStep(state, step("change-displacement", { tables: ["m"], toCc: 1085 * 1.1 })).state;
  expect(after.build.engine.displacementCc).toBeCloseTo(1193.5, 9);
  expect(after.tables.m!.cells[2]).toBeCloseTo(8.8, 12);
  expect(after.tables.t).toBe(pulses);
});

test("another fuel takes its place in the build, and fuel follows the stoichiometric ratios", () => {
  const to = {
    name: "invented blend",
    stoichiometricRatio: inventedBuild.fuel.stoichiometricRatio / 1.25,
    densityKgPerL: 0.745,
  };
  const after = applyStep(state, step("change-fuel", { tables: ["m"], to })).state;
  expect(after.build.fuel.name).toBe("invented blend");
  expect(after.tables.m!.cells[0]).toBeCloseTo(3.75, 12);
});

test("a pulse table told as efficiency, and back, is the same table", () => {
  const told = applyStep(
    state,
    step("convert-fuel-table", { to: "volumetric-efficiency", target: "target" }, "t"),
  ).state;
  const id = "t-volumetric-efficiency";
  expect(told.tables[id]!.quantity).toBe("volumetric-efficiency");
  expect(told.tables.t).toBe(pulses);
  const back = applyStep(told, step("convert-fuel-table", { to: "pulse-width", target: "target" }, id)).state;
  expect(cellRows(back.tables[`${id}-pulse-width`]!).flat()).toEqual(
    cells.flat().map((cell) => expect.closeTo(cell, 9)),
  );
});

test("an intake without its parts described is refused, and the state stays", () => {
  expect(() => applyStep(state, step("change-intake", { tables: ["t"], to: {} }))).toThrow();
  expect(state.tables.t).toBe(pulses);
});

test("a bad figure of a part is named by its place in the step", () => {
  const to = { throttleBody: { diameterMm: 500 } };
  expect(() => applyStep(state, step("change-intake", { tables: ["t"], to }))).toThrow("throttleBody.diameterMm");
});
