// A test runner for Stryker that runs the tests of one folder in its own process: what a mutant costs is then the time
// of the tests that reach it, instead of the start of a worker.
import { readdirSync } from "node:fs";
import { register } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { commonTokens, declareFactoryPlugin, PluginKind, tokens } from "@stryker-mutator/api/plugin";
import { determineHitLimitReached, toMutantRunResult } from "@stryker-mutator/api/test-runner";

register("./module-hooks.mjs", import.meta.url);

/** A test that takes longer once the code is ready to be broken is left out: each mutant would cost as much. */
const SLOW_MS = 6000;

const folder = () => `packages/table-core/src/${process.env.FUELWRIGHT_MUTATED}`;

class InProcessRunner {
  #log;
  /** What the mutated code looks at: which mutant is active, which test is run. */
  #state = (globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ??= {});
  #round = 0;
  #tests = new Map();
  /** Whether the modules were loaded under a mutant, and are to be loaded anew before they are used without it. */
  #spoilt = false;

  constructor(log) {
    this.#log = log;
  }

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    await this.#load();
  }

  /**
   * Runs everything twice: a test that holds only the first time would count as noticing every mutant. A test that code
   * made ready for mutants slows down too far is left out as well.
   */
  async dryRun() {
    const results = await this.#run([...this.#tests.keys()], { bail: false, covering: true });
    // The second time belongs to no test, and must not be taken for code that runs while modules are loaded.
    const mutantCoverage = structuredClone(this.#state.mutantCoverage);
    const quick = results.filter(({ timeSpentMs, id }) => {
      if (timeSpentMs > SLOW_MS) this.#log.warn(`left out, for it takes ${Math.round(timeSpentMs)} ms here: ${id}`);
      return timeSpentMs <= SLOW_MS;
    });
    const again = await this.#run(
      quick.map(({ id }) => id),
      { bail: false },
    );
    const repeatable = quick.filter(({ status, id }, at) => {
      const holds = status !== "success" || again[at].status === "success";
      if (!holds) this.#log.warn(`left out, for it does not hold a second time: ${id}: ${again[at].failureMessage}`);
      return holds;
    });
    return { status: "complete", tests: repeatable.map(asTestResult), mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation, disableBail }) {
    const state = this.#state;
    Object.assign(state, { hitCount: 0, hitLimit, activeMutant: undefined });
    const isStatic = mutantActivation === "static";
    try {
      if (!isStatic && this.#spoilt) await this.#load();
      if (isStatic) {
        state.activeMutant = activeMutant.id;
        try {
          await this.#load();
        } catch (error) {
          return {
            status: "killed",
            killedBy: [[...this.#tests.keys()][0]],
            failureMessage: String(error),
            nrOfTests: 1,
          };
        }
      }
      state.activeMutant = activeMutant.id;
      const results = await this.#run(testFilter ?? [...this.#tests.keys()], { bail: !disableBail });
      const timeout = determineHitLimitReached(state.hitCount, hitLimit);
      return toMutantRunResult(timeout ?? { status: "complete", tests: results.map(asTestResult) });
    } finally {
      state.activeMutant = undefined;
      this.#spoilt = isStatic;
    }
  }

  /** Loads the tests and all they stand on, anew. */
  async #load() {
    const round = `?round=${++this.#round}`;
    const { begin, collected } = await import("./test-stand-in.mjs");
    const tests = new Map();
    for (const name of readdirSync(folder(), { recursive: true }).sort()) {
      if (!name.endsWith(".test.ts")) continue;
      begin();
      await import(pathToFileURL(join(folder(), name)).href + round);
      for (const test of collected) tests.set(`${name}#${test.name}`, test.run);
    }
    if (tests.size === 0) throw new Error(`no test stands in ${folder()}`);
    // In the order of the last round, which is from quick to slow after the dry run.
    const known = [...this.#tests.keys()].filter((id) => tests.has(id));
    this.#tests = new Map([...known, ...tests.keys()].map((id) => [id, tests.get(id)]));
  }

  async #run(ids, { bail, covering = false }) {
    const wanted = new Set(ids);
    const results = [];
    for (const [id, run] of this.#tests) {
      if (!wanted.has(id)) continue;
      if (covering) this.#state.currentTestId = id;
      const start = performance.now();
      let failureMessage;
      try {
        await run();
      } catch (error) {
        failureMessage = String(error?.message ?? error).slice(0, 500);
      }
      this.#state.currentTestId = undefined;
      const timeSpentMs = performance.now() - start;
      results.push({ id, timeSpentMs, failureMessage, status: failureMessage === undefined ? "success" : "failed" });
      if (bail && failureMessage !== undefined) break;
    }
    if (covering) {
      const quickFirst = results.toSorted((a, b) => a.timeSpentMs - b.timeSpentMs);
      this.#tests = new Map(quickFirst.map(({ id }) => [id, this.#tests.get(id)]));
      results.sort((a, b) => a.timeSpentMs - b.timeSpentMs);
    }
    return results;
  }
}

const asTestResult = ({ id, status, timeSpentMs, failureMessage }) =>
  status === "success"
    ? { id, name: id, timeSpentMs, status: 0 }
    : { id, name: id, timeSpentMs, status: 1, failureMessage };

const createRunner = (log) => new InProcessRunner(log);
createRunner.inject = tokens(commonTokens.logger);

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, "in-process", createRunner)];
