import { availableParallelism } from "node:os";
import { playwright } from "@vitest/browser-playwright";
import { configDefaults, defineConfig } from "vitest/config";
import { browserArgs as args, executablePath } from "./test/page/chromium.ts";
import { scaleRuns } from "./test/tools/scale-runs.ts";

const here = (path: string) => new URL(path, import.meta.url).pathname;
const core = here("./packages/table-core/src/index.ts");
const engine = (kind: "eager" | "lazy") => here(`./packages/table-core/src/cells/expression-engine.${kind}.ts`);

export default defineConfig({
  test: {
    // The runner leaves one core free by itself, which on two cores means one file at a time.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
        plugins: process.env.FUELWRIGHT_RUNS ? [scaleRuns()] : [],
        resolve: { alias: { "#expression-engine": engine("eager") } },
        test: {
          name: "library",
          environment: "node",
          include: ["packages/table-core/src/**/*.test.ts"],
          // Its functions keep nothing between calls, so its many small files share what they import: half the time.
          isolate: false,
          testTimeout: 120_000,
          hookTimeout: 60_000,
        },
      },
      {
        plugins: process.env.FUELWRIGHT_RUNS ? [scaleRuns()] : [],
        resolve: { alias: { "@fuelwright/table-core": core, "#expression-engine": engine("eager") } },
        test: {
          name: "node",
          environment: "node",
          include: [
            "packages/workbench/src/{store,colour}/**/*.test.ts",
            "packages/workbench/src/leaves/handover/card/**/*.test.ts",
            "test/{reference,examples,docs,bundle,page,cli,schema,package,fuzz}/**/*.test.ts",
          ],
          testTimeout: 120_000,
          hookTimeout: 60_000,
        },
      },
      {
        resolve: { alias: { "@fuelwright/table-core": core, "#expression-engine": engine("lazy") } },
        test: {
          name: "browser",
          include: ["packages/workbench/src/{elements,leaves,workers}/**/*.test.ts", "test/browser/**/*.test.ts"],
          exclude: [...configDefaults.exclude, "packages/workbench/src/leaves/handover/card/**"],
          testTimeout: 120_000,
          hookTimeout: 60_000,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: { executablePath, args: [...args] } }),
            instances: [{ browser: "chromium", viewport: { width: 1280, height: 800 } }],
          },
        },
      },
    ],
  },
});
