/**
 * Every benchmark of this folder, in one table of ratios.
 *
 *   node bench/run.mjs [part of a file's name …]
 *
 * Each `*.bench.mjs` exports `run()`, which gives rows: `name`, `ms`, and of `p95`, `peer`, `peerMs`, `ratio`, `target`
 * and `targetMs` what it has. Works on `dist`, so build first. Figures of one run compare; those of two need not.
 */
import { existsSync, readdirSync } from "node:fs";

if (!existsSync(new URL("../dist/index.js", import.meta.url))) {
  console.error("bench: there is no dist; build it first (pnpm --filter @fuelwright/table-core build)");
  process.exit(1);
}

const wanted = process.argv.slice(2);
const files = readdirSync(new URL(".", import.meta.url))
  .filter((file) => file.endsWith(".bench.mjs"))
  .filter((file) => wanted.length === 0 || wanted.some((part) => file.includes(part)))
  .sort();
const table = [];
let failed = false;
for (const file of files) {
  const work = file.replace(/\.bench\.mjs$/, "");
  console.error(`${work} …`);
  try {
    const { run } = await import(`./${file}`);
    for (const row of await run()) table.push({ work, ...row });
  } catch (error) {
    failed = true;
    console.error(`${work} failed:`, error);
  }
}

const figure = (value) =>
  typeof value === "number" ? value.toFixed(value < 10 ? 2 : value < 100 ? 1 : 0) : (value ?? "");
const lines = table.map((row) => [
  row.work,
  row.name,
  figure(row.ms),
  figure(row.p95),
  row.peer ?? "",
  figure(row.peerMs),
  typeof (row.ratio ?? row.times) === "number" ? `${figure(row.ratio ?? row.times)}×` : "",
  row.target ?? (row.targetMs === undefined ? "" : `≤ ${row.targetMs} ms`),
]);
const head = ["file", "work", "ms", "p95", "peer", "its ms", "ratio", "target"];
const widths = head.map((word, k) => Math.max(word.length, ...lines.map((line) => line[k].length)));
const right = new Set([2, 3, 5, 6]);
for (const line of [head, ...lines])
  console.log(
    line
      .map((cell, k) => (right.has(k) ? cell.padStart(widths[k]) : cell.padEnd(widths[k])))
      .join("  ")
      .trimEnd(),
  );
process.exit(failed ? 1 : 0);
