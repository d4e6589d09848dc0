import { readFileSync } from "node:fs";
import { createAxis, createTable, fitScattered, lookup } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import smoothers from "./ethanol-crossval.json";
import tables from "./ethanol-table.json";

/*
 * 88 runs of an engine on ethanol, an open data set (`ethanol` in R's lattice; Brinkman, SAE 810345, 1981): nitrogen oxides
 * over compression ratio C and equivalence ratio E. The folds are given beside the data.
 */
const [headings, ...lines] = readFileSync(new URL("./ethanol.csv", import.meta.url), "utf8")
  .trim()
  .split("\n");
const columns = headings!.split(",");
const runs = lines.map((line) => Object.fromEntries(line.split(",").map((cell, at) => [columns[at]!, Number(cell)])));
const of = (name: string, rows = runs) => rows.map((run) => run[name]!);

// The library's axes have the trade's names; what they run along here does not matter to the arithmetic.
const axes = (c: number[], e: number[]) => ({
  rpm: createAxis({ quantity: "rpm", breakpoints: c }),
  load: createAxis({ quantity: "air-charge", breakpoints: e }),
});

/** Predictions of each run by a table fitted to the other nine folds, in run order. */
function crossValidate(c: number[], e: number[], strengths?: { rpm: number; load: number; zero: number }): number[] {
  const held = axes(c, e);
  const predictions = new Array<number>(runs.length);
  for (let fold = 1; fold <= 10; fold++) {
    const train = runs.filter((run) => run.fold !== fold);
    const samples = { rpm: of("C", train), load: of("E", train), value: of("NOx", train) };
    const { cells } = fitScattered({ ...held, samples, ...(strengths && { strengths }) });
    const table = createTable({ id: "nox", name: "NOx", quantity: "factor", ...held, cells });
    runs.forEach((run, at) => {
      if (run.fold === fold) predictions[at] = lookup(table, { rpm: run.C!, load: run.E! });
    });
  }
  return predictions;
}

const rootMeanSquare = (predictions: number[]) =>
  Math.sqrt(predictions.reduce((sum, value, at) => sum + (value - runs[at]!.NOx!) ** 2, 0) / runs.length);

describe("a table fitted to engine data", () => {
  test.each(tables.cases)("has the cross-validated error and cells of a sparse solver: $name", (reference) => {
    const strengths = { rpm: reference.lambdaX, load: reference.lambdaY, zero: reference.ridge };
    const predictions = crossValidate(reference.cAxis, reference.eAxis, strengths);
    expect(Math.abs(rootMeanSquare(predictions) / reference.cvRmse - 1)).toBeLessThanOrEqual(1e-6);
    predictions.forEach((value, at) => {
      expect(Math.abs(value - reference.predictions[at]!)).toBeLessThanOrEqual(1e-6);
    });
    const samples = { rpm: of("C"), load: of("E"), value: of("NOx") };
    const whole = fitScattered({ ...axes(reference.cAxis, reference.eAxis), samples, strengths });
    reference.tableFromAllRuns.flat().forEach((value, at) => {
      expect(Math.abs(whole.cells[at]! - value)).toBeLessThanOrEqual(1e-6);
    });
    expect(Math.abs(whole.effectiveDimension / reference.effectiveDimension - 1)).toBeLessThanOrEqual(1e-6);
  });

  test("with strengths it finds itself predicts within 10 % of the better of R's smoothers (loess, mgcv)", () => {
    const best = Math.min(...smoothers.cases.map(({ cvRmse }) => cvRmse));
    const { cAxis, eAxis } = tables.cases[0]!;
    const error = rootMeanSquare(crossValidate(cAxis, eAxis));
    expect(error).toBeLessThanOrEqual(1.1 * best);
  });
});
