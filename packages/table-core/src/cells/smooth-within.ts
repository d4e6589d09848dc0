import { applyPenalty } from "../numeric/grid-penalty.ts";
import { type PenalisedGrid, solveGrid } from "../numeric/penalised-grid.ts";

/** It settles in a few; only where rounding hides which cells press against their limit would it go on. */
const MOST_ROUNDS = 200;

/**
 * The smoothest cells of which none is further than `mostChange` from where it was.
 *
 * Cells that would pass their limit are held at it while the others are smoothed once more, to meet them; one that would
 * rather turn back is let go. That settles in a few rounds, at the best there is. Where cutting off at the limits would
 * make things worse the cells go straight on, only as far as the first of them comes to its limit: so each round is
 * better than the last, and none comes back.
 *
 * @see Bertsekas, Projected Newton methods for optimization problems with simple constraints, SIAM J. Control Optim. 20
 *   (1982) 221; Nocedal & Wright, Numerical Optimization (2nd ed. 2006), section 16.5
 */
export function smoothWithin(operation: string, grid: PenalisedGrid, mostChange: number): Float64Array {
  const { values, free } = grid;
  const low = values.map((value) => value - mostChange);
  const high = values.map((value) => value + mostChange);
  let z = values;
  let drive = driveOf(grid, z);
  let held = new Uint8Array(free.length);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const goal = solveGrid(operation, {
      ...grid,
      values: values.map((value, at) => (held[at] ? z[at]! : value)),
      free: free.map((one, at) => (held[at] ? 0 : one)),
    });
    const cut = goal.map((value, at) => Math.min(Math.max(value, low[at]!), high[at]!));
    const cutDrive = driveOf(grid, cut);
    const reached = cut.every((value, at) => value === goal[at]);
    if (reached || gain(z, drive, cut, cutDrive) > 0) {
      const pressing = held.map((_, at) =>
        (cut[at] === high[at] && cutDrive[at]! > 0) || (cut[at] === low[at] && cutDrive[at]! < 0) ? 1 : 0,
      );
      if (reached && pressing.every((one, at) => one === held[at])) return cut;
      [z, drive, held] = [cut, cutDrive, pressing];
    } else {
      const from = z;
      const shares = goal.map((value, at) => (cut[at]! - from[at]!) / (value - from[at]!));
      const share = goal.reduce((least, value, at) => (value === cut[at] ? least : Math.min(least, shares[at]!)), 1);
      const stops = held.map((_, at) => (goal[at] !== cut[at] && shares[at]! <= share ? 1 : 0));
      z = goal.map((value, at) => (stops[at] ? cut[at]! : from[at]! + share * (value - from[at]!)));
      drive = driveOf(grid, z);
      held = held.map((one, at) => one | stops[at]!);
    }
  }
  return z;
}

/** Half of how fast what smoothing makes least, Σ w·(z − values)² + roughness, falls as each cell rises. */
function driveOf({ x, y, values, weights, free }: PenalisedGrid, z: Float64Array): Float64Array {
  const drive = new Float64Array(z.length);
  applyPenalty({ x, y }, z, drive);
  for (let at = 0; at < z.length; at++) drive[at] = free[at] ? weights[at]! * (values[at]! - z[at]!) - drive[at]! : 0;
  return drive;
}

/** By how much it falls from z to next: as it is a square, the mean of the drives at both ends counts all the way. */
function gain(z: Float64Array, drive: Float64Array, next: Float64Array, nextDrive: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < z.length; at++) sum += (next[at]! - z[at]!) * (drive[at]! + nextDrive[at]!);
  return sum;
}
