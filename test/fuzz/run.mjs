// `pnpm fuzz [reader…]`: gives each reader 100,000 broken inputs, or as many as FUELWRIGHT_FUZZ_RUNS says, where `npm
// test` gives it 2,000. Takes minutes each. What fails is shown shrunk, with the seed that makes it again.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const core = "packages/table-core/src";
const readers = {
  table: `${core}/exchange/fuzz-exchange.test.ts`,
  job: `${core}/job/fuzz-job.test.ts`,
  scheme: "test/fuzz/scheme.test.ts",
  log: `${core}/evidence/fuzz-log.test.ts`,
  expression: `${core}/cells/fuzz-expression.test.ts`,
  command: "test/fuzz/command.test.ts",
};

const chosen = process.argv.slice(2);
const unknown = chosen.filter((name) => !Object.hasOwn(readers, name));
if (unknown.length) {
  console.error(`fuzz: no reader ${unknown.join(", ")}; choose from ${Object.keys(readers).join(", ")}`);
  process.exit(2);
}
const files = (chosen.length ? chosen : Object.keys(readers)).map((name) => readers[name]);
const { status } = spawnSync(
  "npx",
  ["vitest", "run", "--project", "library", "--project", "node", "--testTimeout", "7200000", ...files],
  {
    cwd: fileURLToPath(new URL("../..", import.meta.url)),
    stdio: "inherit",
    env: { FUELWRIGHT_FUZZ_RUNS: "100000", ...process.env },
  },
);
process.exit(status ?? 1);
