import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  cellRows,
  checkCeilings,
  createAxis,
  createJob,
  readTable,
  readTableText,
  replayJob,
  simulatedCsv,
  simulateLog,
  writeJob,
} from "@fuelwright/table-core";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { demoJob } from "../../packages/workbench/src/store/demo-job.ts";
import { buildCore, root } from "../examples/build-core.ts";

beforeAll(buildCore);

const program = join(root, "packages/table-core/bin/fuelwright.mjs");
const bench = mkdtempSync(join(tmpdir(), "fuelwright-cli-"));
const put = (name: string, text: string) => writeFileSync(join(bench, name), text);
/** As a user runs it: a program of its own. */
const spawn = (args: string[], input = "") => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], { input, encoding: "utf8" });
  return { status, stdout, stderr };
};
/** The same without starting Node each time. */
const run = async (args: string[], input = "") => {
  const { runCommand } = await import(join(root, "packages/table-core/bin/run-command.mjs"));
  const told = { stdout: "", stderr: "" };
  const status: 0 | 1 | 2 = await runCommand(args, {
    input: [new TextEncoder().encode(input)],
    output: { write: (text: string) => (told.stdout += text) },
    errors: { write: (text: string) => (told.stderr += text) },
  });
  return { status, ...told };
};
beforeAll(() => process.chdir(bench));

const demo = demoJob();
const first = "rpm\\kPa;1000;2000\n40;2,1;3,1\n100;5,1;6,1\n";
const envelope = { on: true, note: "", time: "2026-01-05T09:00:00.000Z", table: "main" };
const doubled = { ...envelope, id: "a", kind: "scale-cells", settings: { region: { load: [100, 100] }, factor: 2 } };
const forParts = {
  ...envelope,
  id: "b",
  kind: "retarget-mixture",
  settings: { from: 1, to: 0.9 },
};

put("demo.json", writeJob(demo));
put("first.csv", first);
put("steps.json", JSON.stringify([doubled]));
put("parts.json", JSON.stringify([doubled, forParts]));

describe("convert", () => {
  test("a figure, by the definitions of the units", async () => {
    // 1 psi = 6.894757293168361 kPa.
    expect(await run(["convert", "43.5", "psi", "kPa"])).toEqual({
      status: 0,
      stdout: "299.921942253 kPa\n",
      stderr: "",
    });
    expect((await run(["convert", "-40", "degF", "°C"])).stdout).toBe("-40 °C\n");
    // 300 cc/min of 0.745 g/cc.
    expect((await run(["convert", "300", "cc/min", "g/s", "--density", "0.745"])).stdout).toBe("3.725 g/s\n");
  });
  test("a line each from standard input, as JSON", () => {
    const { status, stdout } = spawn(["convert", "-", "bar", "kPa", "--json"], "1\r\n2,5\n\n");
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toEqual({ values: [100, 250], unit: "kPa" });
  });
  test("flow of mass from volume without a density is refused", () => {
    const { status, stdout, stderr } = spawn(["convert", "300", "cc/min", "g/s"]);
    expect({ status, stdout }).toEqual({ status: 1, stdout: "" });
    expect(stderr).toMatch(/^convertUnit: .*density.*\n$/);
  });
});

describe("replay", () => {
  test("a job's table is the one that the library's replay gives", async () => {
    const { state } = replayJob(demo);
    for (const id of Object.keys(state.tables)) {
      const { status, stdout, stderr } = await run(["replay", "demo.json", "--table", id, "--json"]);
      expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
      expect(readTable(JSON.parse(stdout).table)).toEqual(state.tables[id]);
    }
  });
  test("steps over a table file, to a file, from standard input", async () => {
    const result = spawn(
      ["replay", "--steps", "-", "--table-file", "first.csv", "--out", "doubled.csv"],
      JSON.stringify([doubled]),
    );
    expect(result).toEqual({ status: 0, stdout: "", stderr: "" });
    const { table } = readTableText(readFileSync(join(bench, "doubled.csv"), "utf8"), { id: "main" });
    expect(cellRows(table)).toEqual([
      [2.1, 3.1],
      [10.2, 12.2],
    ]);
    expect(readdirSync(bench).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
  test("a step that needs parts nobody gave is passed over with its reason, or refused", async () => {
    const args = ["replay", "--steps", "parts.json", "--table-file", "first.csv"];
    const { status, stdout, stderr } = await run(args);
    expect(status).toBe(0);
    expect(stdout).toContain("100,10.2,12.2");
    expect(stderr).toMatch(/^step b \(retarget-mixture\) was passed over: .*needs the engine and its parts/);
    const strict = await run([...args, "--strict", "--out", "never.csv"]);
    expect(strict.status).toBe(1);
    expect(readdirSync(bench)).not.toContain("never.csv");
    const known = await run([...args, "--strict", "--json"].toSpliced(1, 0, "demo.json"));
    expect(known.status).toBe(1);
    expect(known.stderr).toContain("table");
  });
  test("with a job's parts the same step is carried out", async () => {
    const job = createJob({
      name: "invented",
      build: demo.build,
      tables: [readTableText(first, { id: "main" }).table],
    });
    put("own.json", writeJob(job));
    const { status, stdout, stderr } = await run(["replay", "own.json", "--steps", "parts.json", "--json"]);
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const { table, steps } = JSON.parse(stdout);
    expect(steps.map(({ id, status: became }: { id: string; status: string }) => [id, became])).toEqual([
      ["a", "applied"],
      ["b", "applied"],
    ]);
    // A tenth less lambda is more fuel, and so a longer pulse, in every cell.
    const before = [2.1, 3.1, 10.2, 12.2];
    expect(table.cells.flat().every((pulse: number, at: number) => pulse > before[at]!)).toBe(true);
  });
});

describe("ceilings", () => {
  test("what the library finds of the demo", async () => {
    const report = checkCeilings(demo);
    const { status, stdout } = await run(["ceilings", "-", "--json"], writeJob(demo));
    expect(status).toBe(0);
    const told = JSON.parse(stdout);
    expect(told.first).toBe(report.first!.part);
    expect(told.deliveredMg).toEqual([...report.deliveredMg]);
    expect(told.ceilings).toEqual(JSON.parse(JSON.stringify(report.ceilings)));
    const text = (await run(["ceilings", "demo.json"])).stdout;
    for (const { sentence } of report.parts) expect(text).toContain(sentence);
    expect(text).toContain(`first to give out: ${report.first!.part}\n`);
  });
});

describe("compare", () => {
  test("two files, in words and as JSON", async () => {
    put("second.csv", "rpm\\kPa;1000;2000\n40;2,1;3,1\n100;5,6;6\n");
    const { stdout, status } = await run(["compare", "first.csv", "second.csv"]);
    expect(status).toBe(0);
    expect(stdout.split("\n").slice(0, 3)).toEqual([
      "2 of 4 cells changed, by 0.1 ms in the mean",
      "rose most at 1000 rpm and 100 kPa: 5.1 to 5.6 ms",
      "fell most at 2000 rpm and 100 kPa: 6.1 to 6 ms",
    ]);
    const told = JSON.parse((await run(["compare", "first.csv", "second.csv", "--json"])).stdout);
    expect(told.absolute[1][0]).toBeCloseTo(0.5, 12);
    expect(told).toMatchObject({ sameBreakpoints: true, changed: 2, rpm: [1000, 2000], load: [40, 100] });
  });
  test("other breakpoints as surfaces; another quantity is refused", async () => {
    put("finer.csv", "rpm\\kPa;1000;1500;2000\n40;2,1;2,6;3,1\n100;5,1;5,6;6,1\n");
    const told = JSON.parse((await run(["compare", "first.csv", "finer.csv", "--json"])).stdout);
    expect(told).toMatchObject({ sameBreakpoints: false, rpm: [1000, 1500, 2000] });
    expect(Math.max(...told.absolute.flat().map(Math.abs))).toBeLessThan(1e-12);
    put("target.csv", "lambda\nrpm\\kPa;1000;2000\n40;1;1\n100;0,88;0,9\n");
    expect(await run(["compare", "first.csv", "target.csv"])).toMatchObject({
      status: 1,
      stdout: "",
      stderr: expect.stringMatching(/^compareTables: before holds pulse-width and after holds lambda/),
    });
    expect(await run(["compare", "-", "-"], first)).toMatchObject({ status: 2 });
  });
});

describe("fit", () => {
  test("a simulated log, which is said to be one, gives back the truth within its own deviations", async () => {
    const rpm = createAxis({ quantity: "rpm", breakpoints: [1500, 3000, 4500, 6000] });
    const load = createAxis({ quantity: "manifold-pressure", breakpoints: [40, 70, 100] });
    const made = simulateLog({ seed: 4, rpm, load, minutes: 8 });
    put("ride.csv", [...simulatedCsv(made)].join(""));
    const { status, stdout, stderr } = await run([
      "fit",
      "ride.csv",
      "--rpm",
      "1500,3000,4500,6000",
      "--map",
      "40,70,100",
      "--json",
    ]);
    expect(status).toBe(0);
    expect(stderr).toMatch(/sensor 1: delay .* s at .* rpm/);
    expect(stderr).toMatch(/warning: .*simulat/i);
    const { factors, deviations, simulated } = JSON.parse(stdout);
    expect(simulated).toBe(true);
    const off = [...made.truth.corrections].map(
      (truth, at) => Math.abs(Math.log(factors[at]) - truth) / deviations[at],
    );
    expect(off.every((deviation) => deviation < 4)).toBe(true);
    const { stdout: csv } = await run(
      ["fit", "-", "--rpm", "1500,3000,4500,6000", "--map", "40,70,100"],
      readFileSync(join(bench, "ride.csv"), "utf8"),
    );
    const { table } = readTableText(csv, { id: "f" });
    expect(table.quantity).toBe("factor");
    [...table.cells].forEach((cell, at) => void expect(cell).toBeCloseTo(factors[at], 4));
  });
  test("a file that is no log is refused", async () => {
    expect(await run(["fit", "first.csv"])).toMatchObject({
      status: 1,
      stdout: "",
      stderr: expect.stringMatching(/^readLog: /),
    });
    expect(await run(["fit", "gone.csv"])).toMatchObject({
      status: 1,
      stderr: 'fuelwright: "gone.csv" is not there; check the name\n',
    });
  });
});

describe("help, usage and bad input", () => {
  test.each(["replay", "ceilings", "compare", "convert", "fit"])(
    "%s --help names every option it takes",
    async (name) => {
      const { status, stdout, stderr } = await run([name, "--help"]);
      expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
      const module = await import(join(root, `packages/table-core/bin/commands/${name}.mjs`));
      for (const option of [...Object.keys(module[name].options), "json", "out"])
        expect(stdout).toContain(`--${option}`);
    },
  );
  test.each<[string[], string]>([
    [[], "no command was given"],
    [["melt"], '"melt" is none of'],
    [["compare", "first.csv"], "something is missing"],
    [["ceilings", "demo.json", "--fast"], "Unknown option '--fast'"],
    [["replay", "--steps", "steps.json"], "without a job"],
    [["convert", "1", "bar", "kPa", "--density", "heavy"], "--density must be a number"],
  ])("%j is wrong usage", async (args, says) => {
    const { status, stdout, stderr } = await run(args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(says);
    expect(stderr).toMatch(/; see fuelwright .*--help\n$/);
  });
  test("a job cut short, and one of the future, each end with their sentence", async () => {
    put("short.json", writeJob(demo).slice(0, 400));
    expect(await run(["ceilings", "short.json"])).toMatchObject({
      status: 1,
      stderr: expect.stringMatching(/^readJob: .*not whole JSON/),
    });
    put("future.json", writeJob(demo).replace('"version": 1', '"version": 9'));
    expect(await run(["replay", "future.json"])).toMatchObject({
      status: 1,
      stderr: expect.stringContaining("version 9"),
    });
  });
  test("control characters from a file never reach the terminal", async () => {
    const steps = [{ ...doubled, id: "x\u001b[2Jy", table: "elsewhere" }];
    put("loud.json", JSON.stringify(steps));
    const { stderr } = await run(["replay", "--steps", "loud.json", "--table-file", "first.csv"]);
    expect(stderr).toContain("was passed over");
    expect(stderr).not.toContain("\u001b");
  });
  test("a reader that closes the pipe early is no fault", async () => {
    const output = execFileSync(
      "sh",
      ["-c", `"${process.execPath}" "${program}" replay demo.json --json | head -c 10`],
      {
        cwd: bench,
        encoding: "utf8",
      },
    );
    expect(output).toHaveLength(10);
  });
});

test("whatever the arguments, the exit code says how it went, and a refusal is plain lines", async () => {
  const files = ["demo.json", "first.csv", "steps.json", "short.json", "gone", "-"];
  const words = [
    ...[
      "replay",
      "ceilings",
      "compare",
      "convert",
      "fit",
      ...files,
      "--json",
      "--table",
      "--steps",
      "--table-file",
      "--help",
    ],
    ...[
      "--strict",
      "--stored",
      "--rpm",
      "--map",
      "1,2",
      "main",
      "-5",
      "1e999",
      "kPa",
      "bar",
      "--",
      "",
      "--density",
      "__proto__",
    ],
  ];
  const seen = new Set<number>();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom("replay", "ceilings", "compare", "convert", "fit"),
      fc.array(fc.oneof({ weight: 8, arbitrary: fc.constantFrom(...words) }, fc.string({ maxLength: 8 })), {
        maxLength: 6,
      }),
      async (command, rest) => {
        const { status, stdout, stderr } = await run(
          [command, ...rest.filter((word) => !word.startsWith("--o"))],
          first,
        );
        seen.add(status);
        expect([0, 1, 2]).toContain(status);
        if (status === 0) return;
        expect(stdout).toBe("");
        expect(stderr).toMatch(/^([^\p{Cc}]+\n)+$/u);
      },
    ),
    { numRuns: 250 },
  );
  expect([...seen].sort()).toEqual([0, 1, 2]);
});
