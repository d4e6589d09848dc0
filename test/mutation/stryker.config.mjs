const folder = process.env.FUELWRIGHT_MUTATED;

/** @type {import("@stryker-mutator/api/core").PartialStrykerOptions} */
export default {
  mutate: [`packages/table-core/src/${folder}/${process.env.FUELWRIGHT_MUTATED_FILES}`, "!**/*.test.ts"],
  plugins: ["./test/mutation/in-process-runner.mjs"],
  testRunner: "in-process",
  coverageAnalysis: "perTest",
  concurrency: 1,
  timeoutMS: 10_000,
  // Sentences and names of fields are text; which error is thrown is checked by its code.
  mutator: { excludedMutations: ["StringLiteral"] },
  // Nothing of the build is needed, and the compiler's own version has no interface that the runner knows.
  tsconfigFile: "no-tsconfig.json",
  checkers: [],
  ignorePatterns: ["dist", "packages/workbench", "examples", "coverage", "test/page", "test/browser"],
  tempDirName: "node_modules/.cache/mutation-sandbox",
  reporters: ["clear-text", "json", "progress-append-only"],
  clearTextReporter: { allowColor: false, reportTests: false, logTests: false, skipFull: true },
  jsonReporter: { fileName: process.env.FUELWRIGHT_MUTATION_REPORT },
  allowConsoleColors: false,
};
