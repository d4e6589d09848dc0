// `pnpm mutate [folder…]`: breaks the code of a folder of table-core in small ways, one at a time, and counts how many
// of them the tests of that folder notice. Takes minutes to hours, so it is no part of `npm test`. A part of a folder is
// said by its files: `pnpm mutate "cells/{blend-tables,mix}.ts"`.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const known = ["values", "lookup", "numeric", "fuel", "job", "cells"];
const folders = process.argv.slice(2);
const unknown = folders.filter((folder) => !known.includes(folder.split("/")[0]));
if (unknown.length) {
  console.error(`mutate: no folder ${unknown.join(", ")}; choose from ${known.join(", ")}`);
  process.exit(2);
}

let failed = 0;
for (const part of folders.length ? folders : known) {
  const [folder, ...files] = part.split("/");
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
    },
  });
  if (status !== 0) failed++;
}
process.exit(failed ? 1 : 0);
