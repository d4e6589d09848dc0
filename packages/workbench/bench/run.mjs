/**
 * The grid against a general-purpose data grid, in one headless Chromium: from a change to the end of its frame.
 *
 *   node bench/run.mjs [repetitions in each of three rounds]
 *
 * Rounds of both grids alternate, so that a machine busy with something else spoils both alike.
 * FUELWRIGHT_BROWSER names another browser than /usr/bin/chromium.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

// The root of the workspace has the browser driver.
const fromRoot = createRequire(new URL("../../../package.json", import.meta.url));
const { chromium } = fromRoot("playwright");
const { build, preview } = await import(fromRoot.resolve("vite").replace(/index\.cjs$/, "dist/node/index.js"));

const times = Number(process.argv[2] ?? 40);
const bench = fileURLToPath(new URL(".", import.meta.url));
const core = fileURLToPath(new URL("../../table-core/src/", import.meta.url));
const outDir = await mkdtemp(join(tmpdir(), "fuelwright-bench-"));
const config = {
  root: bench,
  configFile: false,
  logLevel: "warn",
  base: "./",
  resolve: {
    alias: {
      "@fuelwright/table-core": `${core}index.ts`,
      "#expression-engine": `${core}cells/expression-engine.lazy.ts`,
    },
  },
  build: { outDir, target: "es2022", emptyOutDir: true, chunkSizeWarningLimit: 4000 },
};
await build(config);
const server = await preview({ ...config, preview: { port: 0, host: "127.0.0.1" } });
const browser = await chromium.launch({
  executablePath: process.env.FUELWRIGHT_BROWSER ?? "/usr/bin/chromium",
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
});

const screen = { width: 1280, height: 800 };
const wall = { width: 3700, height: 1500 };
const roomy = { density: "comfortable", cellWidth: 63, cellHeight: 27 };
const dense = { density: "compact", cellWidth: 56, cellHeight: 21 };
const cases = [
  { name: "32×32, 1280×800 screen", n: 32, viewport: screen, options: roomy },
  { name: "64×64, 1280×800 screen", n: 64, viewport: screen, options: roomy },
  { name: "64×64, all 4,096 cells in view", n: 64, viewport: wall, options: dense },
  { name: "256×256, 1280×800 screen", n: 256, viewport: screen, options: roomy },
];
const works = { one: "one cell", all: "all cells", selection: "selection", scroll: "scrolled", first: "first grid" };

const share = (durations, part) => {
  const sorted = [...durations].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
};
const ms = (durations) => `${share(durations, 0.5).toFixed(1)} (${share(durations, 0.95).toFixed(1)})`;

async function round(kind, { n, viewport, options }) {
  const page = await browser.newPage({ viewport });
  page.on("pageerror", (error) => console.error(String(error)));
  await page.goto(server.resolvedUrls.local[0]);
  await page.waitForFunction(() => globalThis.ready);
  const durations = await page.evaluate((all) => globalThis.runGrid(...all), [kind, n, options, times]);
  await page.close();
  return durations;
}

try {
  console.log(`Milliseconds from a change to the end of its frame, median (p95); Chromium ${browser.version()}`);
  for (const one of cases) {
    const all = { ours: {}, peer: {} };
    for (let at = 0; at < 3; at++)
      for (const kind of ["ours", "peer"])
        for (const [work, durations] of Object.entries(await round(kind, one)))
          (all[kind][work] ??= []).push(...durations);
    console.log(`\n${one.name}`);
    console.table(
      Object.fromEntries(
        Object.entries(works).map(([work, label]) => [
          label,
          {
            "fw-fuel-grid": ms(all.ours[work]),
            "ag-grid-community": ms(all.peer[work]),
            "times faster": Number((share(all.peer[work], 0.5) / share(all.ours[work], 0.5)).toFixed(1)),
          },
        ]),
      ),
    );
  }
} finally {
  await browser.close();
  await server.close();
  await rm(outDir, { recursive: true, force: true });
}
