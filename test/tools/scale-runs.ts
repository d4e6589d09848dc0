import type { Plugin } from "vitest/config";

const SCALED = new URL("./scaled-fast-check.ts", import.meta.url).pathname;

/** Lets every test file take fast-check with the numbers of runs that `FUELWRIGHT_RUNS` asks for: see the file it names. */
export const scaleRuns = (): Plugin => ({
  name: "scale-runs",
  enforce: "pre",
  resolveId: (source, importer) => (source === "fast-check" && importer !== SCALED ? SCALED : null),
});
