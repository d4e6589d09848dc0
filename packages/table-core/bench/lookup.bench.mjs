// Bulk lookup of a million points on 16 × 16. Peers: d3-scale with ndarray-linear-interpolate, and scipy where it is.
import { scaleLinear } from "d3-scale";
import ndarray from "ndarray";
import interpolate from "ndarray-linear-interpolate";
import { createAxis, createTable, locateMany, lookupMany } from "../dist/index.js";
import { least, python, random, row, unevenly } from "./measure.mjs";

const COUNT = 1_000_000;

export function run({ rounds = 40, side = 16 } = {}) {
  const next = random(7);
  const rpmAt = unevenly(600, 8000, side, next);
  const loadAt = unevenly(18, 210, side, next);
  const table = createTable({
    id: "t",
    name: "invented",
    quantity: "pulse-width",
    rpm: createAxis({ quantity: "rpm", breakpoints: rpmAt }),
    load: createAxis({ quantity: "manifold-pressure", breakpoints: loadAt }),
    cells: Float64Array.from({ length: side * side }, () => 20 * next()),
  });
  const points = {
    random: {
      rpm: Float64Array.from({ length: COUNT }, () => 600 + 7400 * next()),
      load: Float64Array.from({ length: COUNT }, () => 18 + 192 * next()),
    },
    "log order": inLogOrder(next),
  };
  const rows = [];
  for (const [order, { rpm, load }] of Object.entries(points)) {
    const out = new Float64Array(COUNT);
    const ms = least(rounds, () => lookupMany(table, { rpm, load, out }));
    const pair = npmPair(table, rpm, load);
    out.forEach((value, k) => {
      if (Math.abs(value - pair.values[k]) > 1e-9) throw new Error(`lookup: the two do not agree at point ${k}`);
    });
    const name = `look up 1e6 points, ${side}×${side}, ${order}`;
    rows.push(row(name, ms, "d3-scale + ndarray-linear-interpolate", pair.ms, order === "random" ? "12×" : ""));
    const scipy = scipyLookup(rpmAt, loadAt, order === "random");
    if (scipy) rows.push(row(name, ms, "scipy RegularGridInterpolator", scipy, order === "random" ? "12×" : "6×"));
  }
  const { rpm, load } = points.random;
  const out = { corner: new Int32Array(COUNT), rpmShare: new Float64Array(COUNT), loadShare: new Float64Array(COUNT) };
  rows.push({
    name: `find cell and shares of 1e6 points, ${side}×${side}`,
    ms: least(rounds, () => locateMany(table, { rpm, load, out })),
  });
  return rows;
}

/** A ride: each point a little way from the one before. */
function inLogOrder(next) {
  const rpm = new Float64Array(COUNT);
  const load = new Float64Array(COUNT);
  let x = 3000;
  let y = 80;
  for (let k = 0; k < COUNT; k++) {
    x = Math.min(Math.max(x + 40 * (next() - 0.5), 600), 8000);
    y = Math.min(Math.max(y + 2 * (next() - 0.5), 18), 210);
    rpm[k] = x;
    load[k] = y;
  }
  return { rpm, load };
}

function npmPair(table, rpm, load) {
  const index = (breakpoints) => scaleLinear().domain(breakpoints).range(Array.from(breakpoints.keys())).clamp(true);
  const column = index(table.rpm.breakpoints);
  const line = index(table.load.breakpoints);
  const cells = ndarray(table.cells, [table.load.breakpoints.length, table.rpm.breakpoints.length]);
  const values = new Float64Array(rpm.length);
  const work = () => {
    for (let k = 0; k < values.length; k++) values[k] = interpolate.d2(cells, line(load[k]), column(rpm[k]));
  };
  const ms = least(8, work);
  // Beyond the last cell the peer gives 0: those few points are read from the edge itself.
  const [top, side] = [table.load.breakpoints.at(-1), table.rpm.breakpoints.at(-1)];
  for (let k = 0; k < values.length; k++)
    if (load[k] === top || rpm[k] === side) values[k] = lookupMany(table, { rpm: [rpm[k]], load: [load[k]] })[0];
  return { values, ms };
}

const scipyLookup = (rpm, load, shuffled) =>
  python(`
rng = np.random.default_rng(1); n = ${COUNT}
x = np.array(${JSON.stringify(rpm)}); y = np.array(${JSON.stringify(load)})
f = si.RegularGridInterpolator((y, x), rng.random((len(y), len(x))), bounds_error=False, fill_value=None)
if ${shuffled ? "True" : "False"}:
    q = np.column_stack([rng.uniform(y[0], y[-1], n), rng.uniform(x[0], x[-1], n)])
else:
    walk = lambda a: np.clip(a.mean() + np.cumsum(rng.uniform(-.005, .005, n)) * (a[-1] - a[0]), a[0], a[-1])
    q = np.column_stack([walk(y), walk(x)])
print(json.dumps(least(9, lambda: f(q))))`);

if (import.meta.url === `file://${process.argv[1]}`) console.table(run());
