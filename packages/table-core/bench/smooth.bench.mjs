// Smoothing of 64 × 64 and 256 × 256. Peer: scipy's sparse direct solver on the same matrix, where it is.
import { createAxis, createTable, findSmoothStrengths, smoothCells } from "../dist/index.js";
import { least, python, random, row } from "./measure.mjs";

/** A hill with noise, n × n on even axes; `blank` of its cells have weight 0. */
function hill(n, blank) {
  const next = random(5);
  const places = Array.from({ length: n }, (_, i) => i);
  const table = createTable({
    id: "t",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: places.map((i) => 500 + 30 * i) }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: places.map((i) => 20 + i) }),
    cells: Float64Array.from(
      { length: n * n },
      (_, at) => 8 + 4 * Math.sin(at / n / 12) + Math.cos((at % n) / 9) + next(),
    ),
  });
  return { table, weights: Float64Array.from({ length: n * n }, () => (next() < blank ? 0 : 1)) };
}

export function run({ rounds = 11 } = {}) {
  const rows = [];
  const even = hill(64, 0);
  rows.push({
    name: "smooth 64×64, equal weights",
    ms: least(rounds * 5, () => smoothCells(even.table, { strength: 10 })),
    targetMs: 1,
  });
  rows.push({
    name: "find strengths for it, 64×64, equal weights",
    ms: least(rounds, () => findSmoothStrengths(even.table)),
  });
  for (const [n, strengths] of [
    [64, [1, 10, 1e3]],
    [256, [10, 1e3, 1e5]],
  ]) {
    const { table, weights } = hill(n, 0.3);
    for (const strength of strengths) {
      const count = n === 64 ? 2 * rounds : 5;
      const ms = least(count, () => smoothCells(table, { strength, weights }));
      const peer = python(`
n = ${n}; rng = np.random.default_rng(1); w = (rng.random(n * n) > 0.3) * 1.0; y = rng.random(n * n)
a = (sp.diags(w) + ${strength} * penalty(n)).tocsc()
print(json.dumps(least(${n === 64 ? 9 : 2}, lambda: spl.spsolve(a, w * y))))`);
      const target = n === 64 ? "1×, one frame" : { 10: "4×", 1000: "1.5×", 100000: "10×" }[strength];
      rows.push(row(`smooth ${n}×${n}, 30 % of weights 0, strength ${strength}`, ms, "scipy spsolve", peer, target));
    }
  }
  return rows;
}

if (import.meta.url === `file://${process.argv[1]}`) console.table(run());
