import { dividedDifferences, unitMeanSpacing } from "./divided-differences.ts";

/** One side of a grid and how strongly bends along it are held down. */
export interface GridSide {
  /** The breakpoints at a mean spacing of 1. */
  readonly points: Float64Array;
  /** Their second divided differences, three weights for each run of three points. */
  readonly differences: Float64Array;
  readonly strength: number;
}

/** Row-major cells [y][x]; the roughness is Σ strength·(second difference)² along x and along y. */
export interface SmoothedGrid {
  readonly x: GridSide;
  readonly y: GridSide;
}

/** The side of a grid on an axis, at a mean spacing of 1. */
export function gridSide(breakpoints: readonly number[], strength: number): GridSide {
  const points = unitMeanSpacing(breakpoints);
  return { points, differences: dividedDifferences(points, 2), strength };
}

/** The part of a side from one point to before another, its differences as they are in the whole. */
export function cutSide({ points, differences, strength }: GridSide, from: number, to: number): GridSide {
  return {
    points: points.subarray(from, to),
    differences: differences.subarray(3 * from, 3 * Math.max(to - 2, from)),
    strength,
  };
}

/**
 * Half the gradient of the roughness: out = Σ strength·Dᵀ·(D·z).
 *
 * The differences are taken before they are spread again, so that a plane gives what rounding makes of zero times them
 * once, not squared. O(cells).
 */
export function applyPenalty({ x, y }: SmoothedGrid, z: Float64Array, out: Float64Array): void {
  const columns = x.points.length;
  const rows = y.points.length;
  out.fill(0);
  if (x.strength > 0 && columns > 2)
    for (let row = 0; row < rows; row++) {
      let at = row * columns;
      // What the bends before this one still have to give, so that each cell is written once.
      let atNext = 0;
      let afterNext = 0;
      for (let k = 0; k < x.differences.length; k += 3, at++) {
        const a = x.differences[k]!;
        const b = x.differences[k + 1]!;
        const c = x.differences[k + 2]!;
        const bend = x.strength * (a * z[at]! + b * z[at + 1]! + c * z[at + 2]!);
        out[at] = atNext + a * bend;
        atNext = afterNext + b * bend;
        afterNext = c * bend;
      }
      out[at] = atNext;
      out[at + 1] = afterNext;
    }
  if (y.strength > 0)
    for (let i = 0, k = 0; i + 2 < rows; i++, k += 3) {
      const a = y.differences[k]!;
      const b = y.differences[k + 1]!;
      const c = y.differences[k + 2]!;
      for (let low = i * columns; low < (i + 1) * columns; low++) {
        const middle = low + columns;
        const high = middle + columns;
        const bend = y.strength * (a * z[low]! + b * z[middle]! + c * z[high]!);
        out[low]! += a * bend;
        out[middle]! += b * bend;
        out[high]! += c * bend;
      }
    }
}

/** The diagonals of strength·Dᵀ·D along one side: on it, one beside it and two beside it. */
export function penaltyDiagonals({ points, differences, strength }: GridSide): readonly Float64Array[] {
  const bands = [0, 1, 2].map(() => new Float64Array(points.length));
  for (let k = 0, i = 0; k < differences.length; k += 3, i++)
    for (let a = 0; a < 3; a++)
      for (let b = a; b < 3; b++) bands[b - a]![i + a]! += strength * differences[k + a]! * differences[k + b]!;
  return bands;
}
