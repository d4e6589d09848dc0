// Lets Node load the TypeScript of table-core and its tests as they are, with the stand-ins that mutation testing needs.
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { transformWithOxc } from "vite";

const here = (path) => new URL(path, import.meta.url).href;
const SCALED = here("../tools/scaled-fast-check.ts");
const standIns = {
  vitest: here("./test-stand-in.mjs"),
  "fast-check": SCALED,
};
const bare = (url) => url.split("?")[0];
/** In the same source tree as whoever asks: the code made ready to be broken stands elsewhere than these hooks. */
const engineFor = (parent) => bare(parent).replace(/\/src\/.*$/, "/src/cells/expression-engine.eager.ts");
const standInFor = (specifier, parent) => {
  if (bare(parent) === SCALED) return undefined;
  return specifier === "#expression-engine" ? engineFor(parent) : standIns[specifier];
};
const scripts = new Map();

/** A module asked for by one that carries `?round=…` carries it too, so that a new round loads everything anew. */
export async function resolve(specifier, context, next) {
  const parent = context.parentURL ?? "";
  const standIn = standInFor(specifier, parent);
  const found = standIn ? { url: standIn, shortCircuit: true } : await next(specifier, context);
  const round = parent.match(/\?round=\d+$/)?.[0];
  const ours = found.url.endsWith(".ts") && !found.url.includes("/node_modules/.pnpm/");
  return ours && round ? { ...found, url: found.url + round } : found;
}

export async function load(url, context, next) {
  const file = bare(url);
  if (!file.endsWith(".ts")) return next(url, context);
  if (!scripts.has(file)) {
    const path = fileURLToPath(file);
    const { code } = await transformWithOxc(await readFile(path, "utf8"), path, { sourcemap: false });
    scripts.set(file, code);
  }
  return { format: "module", source: scripts.get(file), shortCircuit: true };
}
