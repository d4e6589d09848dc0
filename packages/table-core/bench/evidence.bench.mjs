// Fitting evidence: sums of a million samples, a whole fit with the delay given, and one that finds delay, lag and film.
// Peers: numpy's bincount, where python3 has it. Figures of R's mgcv (4.0 s for the whole fit) were measured elsewhere.
import { spawnSync } from "node:child_process";
import { createGrid } from "../dist/evidence/dynamics-pass.js";
import { sumScattered } from "../dist/evidence/scattered-sums.js";
import { createAxis, fitEvidence, fitScattered, simulateLog } from "../dist/index.js";

/** Breakpoints that lie closer at the low end, as those of real tables do. */
const uneven = (from, to, count) =>
  Array.from(
    { length: count },
    (_, at) => from + (to - from) * (0.6 * (at / (count - 1)) + 0.4 * (at / (count - 1)) ** 2),
  );
const axesOf = (side) => ({
  rpm: createAxis({ quantity: "rpm", breakpoints: uneven(800, 7400, side) }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: uneven(25, 100, side) }),
});

function samples(count) {
  let state = 7;
  const random = () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 4_294_967_296;
  const x = Float64Array.from({ length: count }, () => 800 + 6600 * random());
  const y = Float64Array.from({ length: count }, () => 25 + 75 * random());
  const k = x.map(
    (rpm, at) => 0.04 * Math.sin(rpm / 900) * (y[at] / 60) + 0.015 * (random() + random() + random() - 1.5) * 2,
  );
  return { x, y, k };
}

async function median(rounds, work) {
  const times = [];
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[rounds >> 1];
}

/** The shortest of some rounds: beside a peer that is measured so. */
function shortest(rounds, work) {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

/** Milliseconds that numpy takes for the same sums: cells by searchsorted, then a bincount for each product of weights. */
function numpySums(count, { rpm, load }) {
  const side = rpm.breakpoints.length;
  const script = `
import numpy as np, time
rng = np.random.default_rng(1); n, s = ${count}, ${side}
X = np.array(${JSON.stringify(rpm.breakpoints)}); Y = np.array(${JSON.stringify(load.breakpoints)})
x = rng.uniform(X[0], X[-1], n); y = rng.uniform(Y[0], Y[-1], n); k = rng.normal(size=n); best = 1e9
for _ in range(12):
    t = time.perf_counter()
    i = np.clip(np.searchsorted(X, x, side="right") - 1, 0, s - 2); j = np.clip(np.searchsorted(Y, y, side="right") - 1, 0, s - 2)
    f = (x - X[i]) / (X[i + 1] - X[i]); g = (y - Y[j]) / (Y[j + 1] - Y[j]); at = j * s + i
    w = [(1-f)*(1-g), f*(1-g), (1-f)*g, f*g]; o = [0, 1, s, s + 1]
    for a in range(4):
        np.bincount(at + o[a], w[a] * k, s * s)
        for b in range(a + 1):
            np.bincount(at + o[a], w[a] * w[b], s * s)
    best = min(best, time.perf_counter() - t)
print(best * 1000)`;
  const { status, stdout } = spawnSync("python3", ["-c", script], { encoding: "utf8" });
  return status === 0 ? Number(stdout) : null;
}

export async function run({ rounds = 9 } = {}) {
  const rows = [];
  const million = samples(1_000_000);
  const grid = createGrid(axesOf(32).rpm, axesOf(32).load);
  const ms = shortest(3 * rounds, () => sumScattered(grid, million));
  const numpy = numpySums(1_000_000, axesOf(32));
  rows.push({
    name: "normal equations, 1e6 samples, 32×32",
    ms,
    ...(numpy && { peer: "numpy bincount", peerMs: numpy, ratio: numpy / ms }),
    target: "6× numpy",
  });
  const axes = axesOf(16);
  const scattered = { ...axes, samples: { rpm: million.x, load: million.y, value: million.k } };
  rows.push({
    name: "table, strengths and deviations from 1e6 samples, 16×16",
    ms: await median(rounds, () => fitScattered(scattered)),
    targetMs: 400,
  });
  const logOf = (options) => {
    const { log } = simulateLog({ seed: 5, ...axes, ...options });
    const chunks = [...log.open()];
    return { ...log, open: () => chunks };
  };
  const long = logOf({ minutes: 333.4, hertz: 50 });
  const known = { constant: 0.06, flow: 0.25, lag: 0.12, film: null };
  rows.push({
    name: "whole fit of 1e6 rows of log, 16×16, delay and lag given",
    ms: await median(3, () => fitEvidence({ logs: [long], table: axes, known })),
    targetMs: 1000,
  });
  const hour = logOf({ minutes: 60, hertz: 20, film: { share: 0.2, time: 0.2 } });
  rows.push({
    name: "an hour at 20 Hz, 16×16, delay, lag and film found",
    ms: await median(5, () => fitEvidence({ logs: [hour], table: axes })),
    targetMs: 3000,
  });
  return rows;
}

if (import.meta.url === `file://${process.argv[1]}`) console.table(await run());
