import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { cellRows, readTableText } from "@fuelwright/table-core";
import { beforeAll, expect, test } from "vitest";
import { buildCore } from "./build-core.ts";
import { exampleBench } from "./run-example.ts";

beforeAll(buildCore);

const { folder, bench, run } = exampleBench("retarget-and-smooth");

test("it makes the table richer where it says so, and takes the bump out", () => {
  const { status, lines, stderr } = run();
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  const read = (path: string) => readTableText(readFileSync(path, "utf8"), { id: "t" }).table;
  const before = read(join(folder, "pulse-widths.csv"));
  const table = read(join(bench, "pulse-widths-smooth.csv"));
  const was = cellRows(before);
  const is = cellRows(table);
  // By hand, at 6800 rpm and 100 kPa: (15.5 − 0.9) · 0.90/0.87 + 0.9 = 16.0034 ms, stored as 16.00.
  expect(is[5]![7]).toBe(16);
  // At 60 kPa the feather has come to nothing: outside the smoothed part the row is as it was.
  expect([0, 1, 5, 6, 7].map((at) => is[3]![at])).toEqual([0, 1, 5, 6, 7].map((at) => was[3]![at]));
  expect(is.slice(0, 2)).toEqual(was.slice(0, 2));
  // The bump of 10.4 goes towards the 9.7 of the table that it was made from.
  expect(is[3]![3]).toBeLessThan(10.1);
  expect(is[3]![3]).toBeGreaterThan(9.6);
  // 0.90/0.87 is 3.45 % more fuel; duty is the greatest pulse of 120000/6800 = 17.647 ms: 16.0034/17.647.
  expect(lines).toContain("Lambda 0.9 to 0.87 from 80 kPa: fuel up by at most 3.4 %.");
  expect(lines).toContain("  duty at most 90.7 %");
  expect(lines).toContain("  leaner at high load: no cell");
  const [, rough, smooth] = /roughness (\S+) to (\S+)/.exec(lines.join("\n"))!;
  expect(Number(smooth)).toBeLessThan(Number(rough));
});

test("a table of something else is refused with its sentence", () => {
  writeFileSync(join(bench, "torn.csv"), "rpm\\kPa,1000,3000\n40,2.9,lots\n100,8.1,9.2\n");
  const { status, stderr } = run("torn.csv");
  expect(status).toBe(1);
  expect(stderr).toBe('readTableText: line 2, column 3 ("lots") must be a number; type digits there, as in 1.5\n');
});
