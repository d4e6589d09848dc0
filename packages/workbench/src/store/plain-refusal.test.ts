import { FuelwrightError, fillCells, readJob, readTableText } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { demoJob } from "./demo-job.ts";
import { plainRefusal } from "./plain-refusal.ts";

const refusal = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof FuelwrightError) return plainRefusal(error.message);
    throw error;
  }
  throw new Error("nothing was refused");
};

test("what a person reads names no operation", () => {
  const [table] = demoJob().tables;
  expect(refusal(() => readJob("{}"))).toMatch(/^Format must be "fuelwright-job"/);
  expect(refusal(() => readTableText("no table", { id: "t" }))).not.toMatch(/[a-z][A-Z]\w*: /);
  expect(refusal(() => fillCells(table!, { region: {} }))).not.toMatch(/[a-z][A-Z]\w*: /);
});

test("places are kept, as they stand in a file", () => {
  expect(plainRefusal("job.tables[0]: createAxis: rpm breakpoints[1] must rise")).toBe(
    "job.tables[0]: rpm breakpoints[1] must rise",
  );
  expect(plainRefusal("ethanol: 30 % is more than the pump has")).toBe("Ethanol: 30 % is more than the pump has");
});
