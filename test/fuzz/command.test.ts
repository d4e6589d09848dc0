import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { simulatedCsv, simulateLog, writeJob, writeTableText } from "@fuelwright/table-core";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { fuzzRuns } from "../../packages/table-core/testing/answer.ts";
import { brokenData, brokenText } from "../../packages/table-core/testing/broken-json.ts";
import { brokenTexts } from "../../packages/table-core/testing/broken-texts.ts";
import { everyStep, everyStepJob } from "../../packages/table-core/testing/every-step.ts";
import { buildCore, root } from "../examples/build-core.ts";

let runCommand: (args: string[], streams: object) => Promise<number>;
const bench = mkdtempSync(join(tmpdir(), "fuelwright-fuzz-"));
const home = process.cwd();
const tableCsv = writeTableText(everyStepJob.tables[0]!).text;
const stepsJson = JSON.stringify(everyStep.slice(0, 4));

beforeAll(async () => {
  buildCore();
  ({ runCommand } = await import(join(root, "packages/table-core/bin/run-command.mjs")));
  // Relative names among the arguments end here.
  process.chdir(bench);
  writeFileSync("job.json", writeJob({ ...everyStepJob, steps: everyStep.slice(0, 4) }));
  writeFileSync("table.csv", tableCsv);
  writeFileSync("steps.json", stepsJson);
});
afterAll(() => {
  process.chdir(home);
  rmSync(bench, { recursive: true, force: true });
});

const jobTexts = fc.oneof(
  brokenText(fc.constant(writeJob({ ...everyStepJob, steps: everyStep.slice(0, 4) }))),
  brokenData(fc.constant(JSON.parse(writeJob({ ...everyStepJob, steps: everyStep.slice(0, 4) })))).map((data) =>
    JSON.stringify(data),
  ),
);
const { rpm, load } = everyStepJob.tables[0]!;
const rideCsv = [...simulatedCsv(simulateLog({ seed: 3, rpm, load, minutes: 0.05, hertz: 10 }))].join("");

const input = fc.oneof(
  { weight: 2, arbitrary: fc.constant(tableCsv) },
  { weight: 3, arbitrary: jobTexts },
  { weight: 2, arbitrary: brokenText(fc.constant(stepsJson)) },
  { weight: 3, arbitrary: brokenTexts() },
  { weight: 1, arbitrary: brokenText(fc.constant(rideCsv), ["", ",", "\n", '"', "9", "1e999", "\u0000"]) },
  fc.string({ unit: "binary", maxLength: 60 }),
);
const words = [
  ...[
    "job.json",
    "table.csv",
    "steps.json",
    "gone",
    "-",
    "-",
    "-",
    "--json",
    "--table",
    "t",
    "target",
    "--steps",
    "--",
  ],
  ...["--table-file", "--strict", "--stored", "--rpm", "--map", "1,2", "1000,2000", "-5", "1e999", "kPa", "bar", "psi"],
  ...[
    "--density",
    "0.7",
    "__proto__",
    "constructor",
    "",
    " ",
    "--quantity",
    "lambda",
    "--load",
    "--hertz",
    "10",
    "--job",
  ],
];
const commandLine: fc.Arbitrary<string[]> = fc.oneof(
  fc.constantFrom<string[]>(
    ["replay", "-"],
    ["replay", "-", "--json"],
    ["replay", "job.json", "--steps", "-", "--json"],
    ["replay", "--steps", "steps.json", "--table-file", "-"],
    ["ceilings", "-", "--json"],
    ["compare", "table.csv", "-", "--json"],
    ["compare", "-", "table.csv"],
    ["convert", "-", "psi", "kPa", "--json"],
    ["fit", "-", "--table-file", "table.csv", "--json"],
  ),
  fc
    .tuple(
      fc.constantFrom("replay", "ceilings", "compare", "convert", "fit", "--help", "melt", "__proto__", "toString", ""),
      fc.array(fc.oneof({ weight: 8, arbitrary: fc.constantFrom(...words) }, fc.string({ maxLength: 8 })), {
        maxLength: 6,
      }),
    )
    // A result is written to standard output alone.
    .map(([command, rest]) => [command, ...rest.filter((word) => !word.startsWith("--o"))]),
);

test("whatever the arguments and the input, it ends with a result or with plain lines that say why not", async () => {
  const seen = [0, 0, 0];
  await fc.assert(
    fc.asyncProperty(commandLine, input, async (args, text) => {
      let stdout = "";
      let stderr = "";
      const status = await runCommand(args, {
        input: [new TextEncoder().encode(text)],
        output: { write: (part: string) => (stdout += part) },
        errors: { write: (part: string) => (stderr += part) },
      });
      seen[status]!++;
      expect(stderr).toMatch(/^([^\p{Cc}\n]+\n)*$/u);
      if (status === 0) {
        // Unless a name in the input says so itself.
        for (const slip of ["NaN", "undefined", "[object"])
          if (!`${text}${args.join()}`.includes(slip)) expect(stdout).not.toContain(slip);
        if (args.includes("--json") && !args.includes("--help")) expect(JSON.parse(stdout)).toBeTypeOf("object");
      } else {
        expect([1, 2]).toContain(status);
        expect(stdout).toBe("");
        expect(stderr).toContain(";");
      }
    }),
    { numRuns: fuzzRuns },
  );
  // Each way to end must happen.
  for (const times of seen) expect(times).toBeGreaterThan(5);
});
