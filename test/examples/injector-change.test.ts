import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  cellRows,
  createBuild,
  createInjector,
  fuels,
  quantiseTable,
  readTableText,
  rescaleForInjectors,
} from "@fuelwright/table-core";
import { beforeAll, expect, test } from "vitest";
import { buildCore, root } from "./build-core.ts";

beforeAll(buildCore);

const folder = join(root, "examples/injector-change");
const bench = mkdtempSync(join(tmpdir(), "fuelwright-example-"));
const run = (...args: string[]) =>
  spawnSync(process.execPath, [join(folder, "run.mjs"), ...args], { cwd: bench, encoding: "utf8" });

/** The example's own figures; all invented. */
const set = { ratedPressureKpa: 300, testDensityKgPerL: 0.684 };
const from = createInjector({ ...set, name: "first set", flowGramsPerSecond: 2.1, deadTime: 0.9 });
const to = createInjector({ ...set, name: "larger set", flowGramsPerSecond: 2.8, deadTime: 1.1, smallestPulseMs: 2.4 });
const build = createBuild({
  engine: { displacementCc: 1085, cylinders: 2, revLimitRpm: 6800, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: from,
  rail: { kind: "fixed", pressureKpa: 300 },
  battery: { volts: 13.6 },
  place: { altitudeM: 4, temperatureC: 17 },
});

test("the example carries its table over as the library does, and as paper does", () => {
  const { status, stdout, stderr } = run();
  expect(stderr).toBe("");
  expect(status).toBe(0);

  const written = readTableText(readFileSync(join(bench, "pulse-widths-rescaled.csv"), "utf8"), { id: "main" }).table;
  const source = readTableText(readFileSync(join(folder, "pulse-widths.csv"), "utf8"), { id: "main" }).table;
  const { table, report } = rescaleForInjectors(source, { from, to, build });
  const { storage: _, ...stored } = quantiseTable(table, { storage: { min: 0, max: 25.5, step: 0.01 } });
  expect(written).toEqual(stored);

  // By hand, at 3000 rpm and 60 kPa: (9.70 − 0.90) ms open · 2.10/2.80 g/s + 1.10 ms = 6.60 + 1.10 = 7.70 ms.
  const row = written.load.breakpoints.indexOf(60);
  const column = written.rpm.breakpoints.indexOf(3000);
  expect(cellRows(source)[row]![column]).toBe(9.7);
  expect(cellRows(written)[row]![column]).toBe(7.7);

  expect(report.underSmallestPulse.map(({ rpm, load }) => [rpm, load])).toEqual([
    [1000, 15],
    [1500, 15],
  ]);
  expect(stdout.replaceAll(join(folder, "/"), "").split("\n")).toEqual([
    "Read pulse-widths.csv: Both cylinders, 6 rows of 8.",
    "  pulse-width in ms. The text says “pulse width (ms)”.",
    "From first set to larger set:",
    "  flow ratio 0.750, dead time 0.9 to 1.1 ms",
    "  fuel mass changes by 0.0 % at most",
    // At 1000 rpm and 15 kPa: 2.3375 ms against 2.55 · 0.75 = 1.9125 ms.
    "  the flow ratio alone would be off by up to 22.2 %",
    // 15.5 ms of 120000/6800 = 17.647 ms; afterwards (15.5 − 0.9) · 0.75 + 1.1 = 12.05 ms.
    "  duty at most 87.8 % before, 68.3 % now",
    "  always open before: no cell",
    "  always open now: no cell",
    "  above the planning ceiling now: no cell",
    "  under the smallest repeatable pulse now: 1000 rpm, 15 kPa (2.34 ms); 1500 rpm, 15 kPa (2.38 ms)",
    "Wrote pulse-widths-rescaled.csv, rounded to 0.01 ms (root mean square 0.0034 ms).",
    "A first guess: start cold, with a wideband sensor and an extinguisher at hand. Lean under load destroys engines.",
    "",
  ]);
});

test("it takes a file and a destination, and leaves the file as it was", () => {
  const own = join(bench, "own.csv");
  writeFileSync(own, "rpm\\kPa;1000;2000\n100;5,1;6,1\n40;2,1;3,1\n");
  const before = readFileSync(own, "utf8");
  expect(run("own.csv", "out.csv").status).toBe(0);
  expect(readFileSync(own, "utf8")).toBe(before);
  const { table } = readTableText(readFileSync(join(bench, "out.csv"), "utf8"), { id: "t" });
  // (2.1 − 0.9) · 0.75 + 1.1 = 2.0, (5.1 − 0.9) · 0.75 + 1.1 = 4.25.
  expect(cellRows(table)).toEqual([
    [2, 2.75],
    [4.25, 5],
  ]);
});

test("bad input ends with its sentence, and nothing is written", () => {
  const own = join(bench, "broken.csv");
  copyFileSync(join(folder, "pulse-widths.csv"), own);
  writeFileSync(own, readFileSync(own, "utf8").replace("9.7", "plenty"));
  const { status, stderr } = run("broken.csv", "never.csv");
  expect(status).toBe(1);
  expect(stderr).toBe('readTableText: line 7, column 5 ("plenty") must be a number; type digits there, as in 1.5\n');
  expect(() => readFileSync(join(bench, "never.csv"))).toThrow(/ENOENT/);
  expect(run("missing.csv")).toMatchObject({ status: 1, stderr: expect.stringMatching(/no such file/) });
});
