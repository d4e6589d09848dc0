// `pnpm mutate [folder…]`: breaks the code of a folder of table-core in small ways, one at a time, and counts how many
// of them the tests of that folder notice. Takes minutes to hours, so it is no part of `npm test`. A part of a folder is
// said by its files: `pnpm mutate "cells/{blend-tables,mix}.ts"`.
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const known = ["values", "lookup", "numeric", "fuel", "job", "cells"];
const folders = process.argv.slice(2);
const unknown = folders.filter((folder) => !known.includes(folder.split("/")[0]));
if (unknown.length) {
  console.error(`mutate: no folder ${unknown.join(", ")}; choose from ${known.join(", ")}`);
  process.exit(2);
}

/** The solvers' loops are slow once they are ready to be broken, so only one file of them is made ready at a time. */
const parts = (folders.length ? folders : known).flatMap((part) =>
  part === "numeric"
    ? readdirSync(join(root, "packages/table-core/src/numeric"))
        .filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"))
        .map((name) => `numeric/${name}`)
    : [part],
);

const noticed = new Set(["Killed", "Timeout"]);
const missed = new Set(["Survived", "NoCoverage"]);
const totals = {};
let failed = 0;
for (const part of parts) {
  const [folder, ...files] = part.split("/");
  const report = `node_modules/.cache/mutation/${part.replaceAll(/[^\w.-]+/g, "-")}.json`;
  const { status } = spawnSync("npx", ["stryker", "run", "test/mutation/stryker.config.mjs"], {
    cwd: root,
    stdio: "inherit",
    // What some dozen cases do not notice is rarely noticed by all of them, and the solvers' loops are long.
    env: {
      FUELWRIGHT_RUNS: folder === "numeric" ? "0.02" : "0.05",
      FUELWRIGHT_FUZZ_RUNS: "300",
      ...process.env,
      FUELWRIGHT_MUTATED: folder,
      FUELWRIGHT_MUTATED_FILES: files.join("/") || "**/*.ts",
      FUELWRIGHT_MUTATION_REPORT: report,
    },
  });
  if (status !== 0) {
    failed++;
    continue;
  }
  totals[folder] ??= { faults: 0, noticed: 0 };
  for (const file of Object.values(JSON.parse(readFileSync(join(root, report), "utf8")).files))
    for (const mutant of file.mutants) {
      if (noticed.has(mutant.status)) totals[folder].noticed++;
      if (noticed.has(mutant.status) || missed.has(mutant.status)) totals[folder].faults++;
    }
}
for (const [folder, count] of Object.entries(totals))
  console.log(`${folder}: ${count.noticed} of ${count.faults}, ${((100 * count.noticed) / count.faults).toFixed(1)} %`);
process.exit(failed ? 1 : 0);
