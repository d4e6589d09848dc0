import { applyPenalty } from "../numeric/grid-penalty.ts";
import { type PenalisedGrid, solveGrid } from "../numeric/penalised-grid.ts";

/** Rounds in which cells are let go again; after that they only join those at their limit, so that it comes to an end. */
const FREE_ROUNDS = 10;
const MOST_ROUNDS = 25;

/**
 * The smoothest cells of which none is further than `mostChange` from where it was.
 *
 * Cells that would pass their limit are held at it while the others are smoothed once more, to meet them; one that would
 * rather turn back is let go. That settles in a few rounds, at the best there is. Should it go round in circles, the best
 * of what was seen is taken: never worse than smoothing freely and cutting off.
 *
 * @see Hintermüller, Ito & Kunisch, The primal-dual active set strategy, SIAM J. Optim. 13 (2002) 865
 */
export function smoothWithin(operation: string, grid: PenalisedGrid, mostChange: number): Float64Array {
  const { values, weights, free } = grid;
  const low = values.map((value) => value - mostChange);
  const high = values.map((value) => value + mostChange);
  /** −1 at the lower limit, 1 at the upper, 0 between. */
  const limit = new Int8Array(free.length);
  const pull = new Float64Array(free.length);
  let best = values;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const z = solveGrid(operation, {
      ...grid,
      values: values.map((value, at) => (limit[at] === 0 ? value : limit[at]! > 0 ? high[at]! : low[at]!)),
      free: free.map((one, at) => (one && limit[at] === 0 ? 1 : 0)),
    });
    const cut = z.map((value, at) => (free[at] ? Math.min(Math.max(value, low[at]!), high[at]!) : value));
    const cost = costOf(grid, cut);
    if (cost < least) {
      least = cost;
      best = cut;
    }
    applyPenalty(grid, z, pull);
    let changed = false;
    for (let at = 0; at < z.length; at++) {
      if (!free[at]) continue;
      let next = limit[at]!;
      if (next === 0) next = z[at]! > high[at]! ? 1 : z[at]! < low[at]! ? -1 : 0;
      // Which way a held cell would go if it were let.
      else if (round < FREE_ROUNDS && (weights[at]! * (values[at]! - z[at]!) - pull[at]!) * next < 0) next = 0;
      changed ||= next !== limit[at];
      limit[at] = next;
    }
    if (!changed) break;
  }
  return best;
}

/** What smoothing makes least: Σ w·(z − values)² + roughness. */
function costOf(grid: PenalisedGrid, z: Float64Array): number {
  const bends = new Float64Array(z.length);
  applyPenalty(grid, z, bends);
  let cost = 0;
  for (let at = 0; at < z.length; at++) {
    const move = grid.free[at] ? z[at]! - grid.values[at]! : 0;
    cost += grid.weights[at]! * move * move + z[at]! * bends[at]!;
  }
  return cost;
}
