// What tests take from vitest, so that thousands of runs of a few tests need no runner: the tests are kept in a list,
// and `expect` is vitest's own.
import { ASYMMETRIC_MATCHERS_OBJECT, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from "@vitest/expect";
import * as chai from "chai";

for (const plugin of [JestExtend, JestChaiExpect, JestAsymmetricMatchers]) chai.use(plugin);

export const expect = Object.assign(
  (value, message) => chai.expect(value, message),
  chai.expect,
  globalThis[ASYMMETRIC_MATCHERS_OBJECT],
  {
    unreachable(message = "reached what should not be reached") {
      throw new Error(message);
    },
  },
);

/** The tests of the modules loaded last: `{ name, run }`. */
export const collected = [];
let path = [];

/** Forgets what was collected; also what a file left half done that failed while it was loaded. */
export function begin() {
  collected.length = 0;
  path = [];
}

const functionOf = (rest) => rest.find((part) => typeof part === "function");

/** `name` with %s, %d and the like, and $field, filled in. */
function fill(name, given) {
  const parts = [...given];
  return name
    .replace(/%[sdifjo]/g, () => String(parts.shift()))
    .replace(/\$(\w+)/g, (whole, field) => String(given[0]?.[field] ?? whole));
}

const each = (define) => (cases) => (name, work) => {
  for (const [at, entry] of cases.entries()) {
    const given = Array.isArray(entry) ? entry : [entry];
    define(`${fill(name, given)} [${at}]`, () => work(...given));
  }
};

export function test(name, ...rest) {
  collected.push({ name: [...path, name].join(" "), run: functionOf(rest) });
}
test.each = each(test);

export function describe(name, ...rest) {
  const outer = path;
  path = [...outer, name];
  functionOf(rest)();
  path = outer;
}
describe.each = each(describe);

/** Run once, before the first test that is run. */
export function beforeAll(work) {
  const begin = collected.length;
  const inner = path;
  let done;
  queueMicrotask(() => {
    for (const entry of collected.slice(begin)) {
      if (!entry.name.startsWith(inner.join(" "))) continue;
      const { run } = entry;
      entry.run = async () => {
        await (done ??= work());
        return run();
      };
    }
  });
}

/** Asked for by tests of what a module does when it is first loaded; such are no use here, see the runner. */
export const vi = { resetModules() {} };
