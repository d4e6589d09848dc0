import { spawnSync } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "./build-core.ts";

/** Runs an example as its reader would, in an empty folder. */
export function exampleBench(name: string) {
  const folder = join(root, "examples", name);
  const bench = mkdtempSync(join(tmpdir(), "fuelwright-example-"));
  const run = (...args: string[]) => {
    const program = [join(folder, "run.mjs"), ...args];
    const { status, stdout, stderr } = spawnSync(process.execPath, program, { cwd: bench, encoding: "utf8" });
    return { status, lines: stdout.trimEnd().split("\n"), stderr };
  };
  return { folder, bench, run };
}
