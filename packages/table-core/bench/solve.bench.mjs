// The banded solution for 1,024 unknowns, and the deviation of every cell of 64 × 64. Peer: scipy, where it is.
import { factorBand } from "../dist/index.js";
import { gridSide } from "../dist/numeric/grid-penalty.js";
import { bandNumbering, gridBand } from "../dist/numeric/penalised-grid.js";
import { least, python, random, row } from "./measure.mjs";

const STRENGTH = 10;

/** weights + strength · (second differences squared) on n × n, as a band. */
function bandOf(n) {
  const next = random(3);
  const side = gridSide(
    Array.from({ length: n }, (_, i) => i),
    STRENGTH,
  );
  const values = Float64Array.from({ length: n * n }, next);
  const grid = {
    x: side,
    y: side,
    values,
    weights: values.map(() => 0.2 + next()),
    free: new Uint8Array(n * n).fill(1),
  };
  return { matrix: gridBand(grid, bandNumbering(grid)), right: values };
}

export function run({ rounds = 15 } = {}) {
  const rows = [];
  const small = bandOf(32);
  const solve = least(rounds * 5, () => factorBand(small.matrix).solve(small.right));
  const peers = python(`
out = {}
rng = np.random.default_rng(1)
for n in (32, 64):
    a = (sp.diags(0.2 + rng.random(n * n)) + ${STRENGTH} * penalty(n)).tocsc(); y = rng.random(n * n)
    if n == 32:
        out["solve"] = least(9, lambda: spl.spsolve(a, y))
        c = a.tocoo(); low = c.row >= c.col; ab = np.zeros((2 * n + 1, n * n))
        ab[(c.row - c.col)[low], c.col[low]] = c.data[low]
        out["banded"] = least(9, lambda: sl.solveh_banded(ab, y, lower=True))
    else:
        def deviations():
            lu = spl.splu(a)
            return np.array([lu.solve(np.eye(1, n * n, k)[0])[k] for k in range(n * n)])
        out["dense"] = least(2, lambda: np.diag(np.linalg.inv(a.toarray())))
        out["lu"] = least(2, deviations)
print(json.dumps(out))`);
  rows.push(row("solve 32×32 cells, second differences", solve, "scipy spsolve", peers?.solve, "2×"));
  if (peers) rows.push(row("solve 32×32 cells, second differences", solve, "LAPACK banded", peers.banded, ""));
  const large = bandOf(64);
  const deviations = least(rounds, () => factorBand(large.matrix).inverse());
  rows.push(
    row(
      "deviation of every cell, 64×64",
      deviations,
      "scipy, best of dense and LU",
      peers && Math.min(peers.dense, peers.lu),
      "40×",
    ),
  );
  return rows;
}

if (import.meta.url === `file://${process.argv[1]}`) console.table(run());
