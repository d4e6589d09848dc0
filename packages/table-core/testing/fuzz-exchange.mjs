// Reads 100,000 broken texts (or as many as the first argument says) with the fuzz test of the exchange folder.
// Run in packages/table-core: node testing/fuzz-exchange.mjs 100000
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const runs = Number(process.argv[2] ?? 100_000);
if (!Number.isInteger(runs) || runs < 1) throw new Error(`give a whole number of runs, got ${process.argv[2]}`);
const root = fileURLToPath(new URL("../../..", import.meta.url));
const test = "packages/table-core/src/exchange/fuzz-exchange.test.ts";
const { status } = spawnSync("npx", ["vitest", "run", "--project", "node", "--testTimeout", "3600000", test], {
  cwd: root,
  stdio: "inherit",
  env: { ...process.env, FUELWRIGHT_FUZZ_RUNS: String(runs) },
});
process.exit(status ?? 1);
