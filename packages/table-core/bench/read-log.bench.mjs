// Reading a log of a million rows of ten columns. Peers, each only where it is installed: papaparse, d3-dsv and pandas.
// With a size in MB as argument it reads a file of that size and shows that memory stays flat.
import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { createReadStream, createWriteStream, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readLog } from "../dist/index.js";

const headings = "Time (s),RPM,MAP (kPa),TPS (%),Lambda,Target lambda,PW (ms),CLT (°C),Battery (V),STFT (%)";

async function writeLog(path, wantedBytes) {
  const file = createWriteStream(path);
  let state = 3;
  const random = () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 4_294_967_296;
  file.write(`${headings}\n`);
  let rows = 0;
  let bytes = 0;
  let text = "";
  while (bytes < wantedBytes) {
    const map = 30 + 70 * random();
    text += `${(rows++ / 50).toFixed(2)},${(900 + 6000 * random()).toFixed(0)},${map.toFixed(2)},${(map * 0.7).toFixed(2)},${(0.95 + 0.1 * random()).toFixed(5)},0.9500,${(map * 0.09).toFixed(4)},85.25,${(13.8 + random() / 10).toFixed(3)},${(4 * random() - 2).toFixed(3)}\n`;
    if (text.length > 1 << 20) {
      bytes += text.length;
      if (!file.write(text)) await once(file, "drain");
      text = "";
    }
  }
  file.end(text);
  await once(file, "finish");
  return rows;
}

async function ours(path) {
  const log = await readLog(() => createReadStream(path, { highWaterMark: 1 << 18 }));
  let rows = 0;
  let most = 0;
  for await (const chunk of log.open()) {
    rows += chunk.count;
    if ((rows & 0xffff) < chunk.count) most = Math.max(most, process.memoryUsage().rss);
  }
  return { rows, most };
}

const peers = {
  papaparse: async (path) => {
    const { default: papa } = await import("papaparse");
    return () => papa.parse(readFileSync(path, "utf8"), { dynamicTyping: true, header: true }).data.length;
  },
  "d3-dsv": async (path) => {
    const { csvParse, autoType } = await import("d3-dsv");
    return () => csvParse(readFileSync(path, "utf8"), autoType).length;
  },
};

async function best(rounds, work) {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    await work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

export async function run({ rounds = 5 } = {}) {
  const folder = mkdtempSync(join(tmpdir(), "fuelwright-bench-"));
  const path = join(folder, "log.csv");
  try {
    const rows = await writeLog(path, 63e6);
    const ms = await best(rounds, () => ours(path));
    const table = [
      {
        name: `read a log, ${rows} rows × 10 columns, ${(statSync(path).size / 1e6).toFixed(0)} MB`,
        ms,
        target: "8× papaparse, 1.8× pandas",
      },
    ];
    for (const [name, open] of Object.entries(peers)) {
      const work = await open(path).catch(() => null);
      if (!work) continue;
      const peerMs = await best(2, work);
      table.push({ name, ms: peerMs, ratio: peerMs / ms });
    }
    const script = `import pandas,time\nbest=9e9\nfor _ in range(3):\n  t=time.perf_counter(); pandas.read_csv(${JSON.stringify(path)}); best=min(best,time.perf_counter()-t)\nprint(best*1000)`;
    const { status, stdout } = spawnSync("python3", ["-c", script], { encoding: "utf8" });
    if (status === 0) table.push({ name: "pandas", ms: Number(stdout), ratio: Number(stdout) / ms });
    return table;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function memory(megabytes) {
  const folder = mkdtempSync(join(tmpdir(), "fuelwright-bench-"));
  const path = join(folder, "log.csv");
  try {
    await writeLog(path, megabytes * 1e6);
    const start = performance.now();
    const { rows, most } = await ours(path);
    console.log(
      `${rows} rows of ${megabytes} MB in ${((performance.now() - start) / 1000).toFixed(1)} s, at most ${(most / 1e6).toFixed(0)} MB of memory`,
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (import.meta.url === `file://${process.argv[1]}`) {
  const megabytes = Number(process.argv[2]);
  if (megabytes > 0) await memory(megabytes);
  else console.table(await run());
}
