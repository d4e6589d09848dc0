import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "vite";
import { beforeAll, describe, expect, test } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const gzipped = (text: string | Buffer) => gzipSync(text, { level: 9 }).length / 1024;
const folder = () => mkdtempSync(join(tmpdir(), "fuelwright-size-"));
const quiet = { logLevel: "silent" } as const;

/** Budgets in KB of 1,024 bytes, as the page is served: minified and gzipped. */
describe("sizes of the workbench", () => {
  let page: string;
  let oneFile: string;

  beforeAll(async () => {
    // As it is published; under a test runner the libraries would come with their warnings.
    process.env.NODE_ENV = "production";
    page = folder();
    oneFile = folder();
    const workbench = {
      ...quiet,
      root: join(root, "packages/workbench"),
      configFile: join(root, "packages/workbench/vite.config.ts"),
    };
    await build({ ...workbench, build: { outDir: page } });
    await build({ ...workbench, mode: "one-file", build: { outDir: oneFile } });
  }, 120_000);

  /** What the browser fetches for the first page: the scripts and preloads that the page names. */
  test("the first page takes at most 120 KB", () => {
    const html = readFileSync(join(page, "index.html"), "utf8");
    const named = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+)"/g)].map(([, path]) => path!);
    expect(named.length).toBeGreaterThan(0);
    const size = named.reduce((sum, path) => sum + gzipped(readFileSync(join(page, path))), gzipped(html));
    expect(size).toBeLessThanOrEqual(120);
  });

  test("the parser of expressions is fetched apart, and takes at most 60 KB", () => {
    const parser = readdirSync(join(page, "assets")).filter((name) => name.startsWith("mathjs-engine"));
    expect(parser).toHaveLength(1);
    expect(gzipped(readFileSync(join(page, "assets", parser[0]!)))).toBeLessThanOrEqual(60);
    expect(readFileSync(join(page, "index.html"), "utf8")).not.toContain("mathjs-engine");
  });

  test("the workbench in one file takes at most 700 KB and names nothing outside itself", () => {
    expect(readdirSync(oneFile)).toEqual(["fuelwright.html"]);
    const html = readFileSync(join(oneFile, "fuelwright.html"), "utf8");
    expect(Buffer.byteLength(html) / 1024).toBeLessThanOrEqual(700);
    expect(html.replace(/<script type="module">[\s\S]*<\/script>/, "")).not.toMatch(/\b(src|href)="(?!data:)/);
  });
});

test("lookup and edits alone take at most 25 KB of another program", async () => {
  const out = folder();
  const entry = join(out, "entry.js");
  writeFileSync(
    entry,
    `export { createAxis, createTable, lookup, lookupMany, setCells, scaleCells, offsetCells, limitCells, compareTables } from "${root}packages/table-core/src/index.ts";`,
  );
  await build({
    ...quiet,
    root: out,
    configFile: false,
    resolve: { alias: { "#expression-engine": join(root, "packages/table-core/src/cells/expression-engine.lazy.ts") } },
    build: { outDir: join(out, "dist"), lib: { entry, formats: ["es"], fileName: () => "lib.js" }, minify: true },
  });
  const built = readFileSync(join(out, "dist", "lib.js"));
  expect(gzipped(built)).toBeLessThanOrEqual(25);
  expect(built.length).toBeGreaterThan(2000);
}, 60_000);
