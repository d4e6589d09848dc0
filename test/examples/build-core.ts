import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));

/** Brings the library's dist up to date, which is what examples and readers import. Does nothing when it is. */
export function buildCore(): void {
  const typescript = createRequire(import.meta.url).resolve("typescript/package.json");
  const compiler = join(dirname(typescript), "bin/tsc");
  const { status, stdout } = spawnSync(process.execPath, [compiler, "-b", "packages/table-core"], {
    cwd: root,
    encoding: "utf8",
  });
  if (status !== 0) throw new Error(`The library does not build:\n${stdout}`);
}
