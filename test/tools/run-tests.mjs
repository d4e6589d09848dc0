// `npm test`: installs what it needs, checks, builds, and runs every test. Its last line is `N passed, N failed`.
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { browserPath, install, pnpm, root, run } from "./prepare.mjs";

install();
process.env.FUELWRIGHT_BROWSER = browserPath();

let passed = 0;
let failed = 0;
const count = (ok) => (ok ? passed++ : failed++);

count(pnpm("exec", "biome", "ci", "."));
count(pnpm("exec", "tsc", "-b"));
const built = pnpm("build");
count(built);
// The tests that drive the page take the one just built.
if (built) process.env.FUELWRIGHT_PAGE = join(root, "packages/workbench/dist");

const report = join(mkdtempSync(join(tmpdir(), "fuelwright-")), "report.json");
const ok = run("npx", [
  ...["vitest", "run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
  ...process.argv.slice(2),
]);
try {
  const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, "utf8"));
  passed += numPassedTests;
  // A file that could not even be loaded has no tests to count, and is a failure all the same.
  failed +=
    numFailedTests + testResults.filter((file) => file.status === "failed" && !file.assertionResults.length).length;
  if (numPassedTests + numFailedTests === 0 || (!ok && failed === 0)) failed++;
} catch {
  failed++;
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
