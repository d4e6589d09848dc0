import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { cellRows, readTableText } from "@fuelwright/table-core";
import { beforeAll, expect, test } from "vitest";
import { buildCore } from "./build-core.ts";
import { exampleBench } from "./run-example.ts";

beforeAll(buildCore);

test("it does every table that can be read, and tells the one that can't", () => {
  const { folder, bench, run } = exampleBench("batch");
  const { status, lines, stderr } = run();
  expect({ status, stderr }).toEqual({ status: 1, stderr: "" });
  expect(lines).toEqual([
    "single.csv: 3 of 9 cells changed, up by at most 0.22 ms",
    'torn.csv: left out. readTableText: line 3, column 3 ("lots") must be a number; type digits there, as in 1.5',
    "twin.csv: 16 of 48 cells changed, up by at most 0.58 ms",
  ]);
  expect(readdirSync(join(bench, "results")).sort()).toEqual(["single.csv", "twin.csv"]);
  const read = (path: string) => cellRows(readTableText(readFileSync(path, "utf8"), { id: "t" }).table);
  const before = read(join(folder, "tables/single.csv"));
  const after = read(join(bench, "results/single.csv"));
  expect(after.slice(0, 2)).toEqual(before.slice(0, 2));
  // 6.2, 7.4 and 7 ms times 1.03, in hundredths.
  expect(after[2]).toEqual([6.39, 7.62, 7.21]);
});
