import type { LinearMap } from "./conjugate-gradients.ts";
import { penaltyDiagonals, type SmoothedGrid } from "./grid-penalty.ts";

/** Each shift settles the bends within about half this factor of it to either side. */
const REACH = 10;

/**
 * Nearly the inverse of weight·1 + roughness on a whole grid where every cell counts alike, in O(cells).
 *
 * The roughness is a sum of one part along the rows and one along the columns, and each alone is solved by a narrow band.
 * Turn by turn, with shifts spread evenly over the magnitudes that occur, they leave no more of any bend than
 * ((√10 − 1) / (√10 + 1))², a little over a quarter. The parts commute, so what comes out is symmetric and positive
 * definite: fit to lead conjugate gradients.
 *
 * @param weight - above zero
 * @see Peaceman & Rachford, J. SIAM 3 (1955) 28; Wachspress, The ADI Model Problem (2013), ch. 1
 */
export function alternatingDirections({ x, y }: SmoothedGrid, weight: number): LinearMap {
  const columns = x.points.length;
  const rows = y.points.length;
  const alongX = penaltyDiagonals(x);
  const alongY = penaltyDiagonals(y);
  const least = weight / 2;
  const most = least + Math.max(boundOf(alongX), boundOf(alongY));
  const count = Math.max(1, Math.ceil(Math.log(most / least) / Math.log(REACH)));
  const shifts = Array.from({ length: count }, (_, k) => most * (least / most) ** ((k + 0.5) / count));
  const turns = shifts.map((shift) => ({
    shift,
    x: factorFive(alongX, shift + least),
    y: factorFive(alongY, shift + least),
  }));
  const given = new Float64Array(rows * columns);
  return (right, out) => {
    // (shift − Y)·out for the shift at hand, which is what the turn before has left: nothing is multiplied out.
    given.fill(0);
    let before = 0;
    let first = true;
    for (const { shift, x: alongRows, y: alongColumns } of turns) {
      if (first) for (let at = 0; at < out.length; at++) out[at] = given[at] = right[at]!;
      else
        for (let at = 0; at < out.length; at++)
          out[at] = given[at] = right[at]! + (before + shift) * out[at]! - given[at]!;
      solveRows(alongRows, out, rows, columns);
      for (let at = 0; at < out.length; at++) out[at] = given[at] = right[at]! + 2 * shift * out[at]! - given[at]!;
      solveColumns(alongColumns, out, columns);
      before = shift;
      first = false;
    }
  };
}

/** No eigenvalue is above the largest sum of a row's magnitudes (Gershgorin). */
function boundOf([on, beside, beyond]: readonly Float64Array[]): number {
  const size = on!.length;
  const at = (band: Float64Array, i: number) => (i >= 0 && i < size ? Math.abs(band[i]!) : 0);
  let most = 0;
  for (let i = 0; i < size; i++)
    most = Math.max(most, at(on!, i) + at(beside!, i) + at(beside!, i - 1) + at(beyond!, i) + at(beyond!, i - 2));
  return most;
}

/** L·D·Lᵀ of a matrix of five diagonals: 1/D, and L beside and two beside its diagonal of ones. */
interface FactorOfFive {
  readonly inverse: Float64Array;
  readonly one: Float64Array;
  readonly two: Float64Array;
}

function factorFive([on, beside, beyond]: readonly Float64Array[], shift: number): FactorOfFive {
  const size = on!.length;
  const inverse = new Float64Array(size);
  const one = new Float64Array(size);
  const two = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let pivot = on![i]! + shift;
    if (i > 1) {
      two[i] = beyond![i - 2]! * inverse[i - 2]!;
      pivot -= two[i]! * beyond![i - 2]!;
    }
    if (i > 0) {
      const across = beside![i - 1]! - (i > 1 ? beyond![i - 2]! * one[i - 1]! : 0);
      one[i] = across * inverse[i - 1]!;
      pivot -= one[i]! * across;
    }
    // Below the shift only rounding brings it.
    inverse[i] = 1 / Math.max(pivot, shift);
  }
  return { inverse, one, two };
}

/** Rows that are solved side by side: in one alone each number would wait for the one before it. */
const SIDE_BY_SIDE = 8;

function solveRows(factor: FactorOfFive, z: Float64Array, rows: number, columns: number): void {
  for (let row = 0; row < rows; row += SIDE_BY_SIDE)
    solveRuns(factor, z, { from: row * columns, step: 1, count: Math.min(SIDE_BY_SIDE, rows - row), apart: columns });
}

const solveColumns = (factor: FactorOfFive, z: Float64Array, columns: number): void =>
  solveRuns(factor, z, { from: 0, step: columns, count: columns, apart: 1 });

/** Runs of numbers at from, from + step, …, and as many beside the first as `count` says, each `apart` from the one before. */
interface Runs {
  readonly from: number;
  readonly step: number;
  readonly count: number;
  readonly apart: number;
}

/** Solves all runs at once, in place: down L, by D, and up Lᵀ. */
function solveRuns({ inverse, one, two }: FactorOfFive, z: Float64Array, { from, step, count, apart }: Runs): void {
  const size = inverse.length;
  const across = count * apart;
  for (let i = 1; i < size; i++) {
    const near = one[i]!;
    const far = two[i]!;
    const first = from + i * step;
    // Of two numbers before this one the second may be missing; its factor is 0 then.
    const beyond = i > 1 ? 2 * step : step;
    for (let at = first; at < first + across; at += apart) z[at]! -= near * z[at - step]! + far * z[at - beyond]!;
  }
  let near = 0;
  let far = 0;
  let farther = 0;
  for (let i = size - 1; i >= 0; i--) {
    const scale = inverse[i]!;
    const first = from + i * step;
    const after = i + 1 < size ? step : 0;
    const beyond = i + 2 < size ? 2 * step : 0;
    for (let at = first; at < first + across; at += apart)
      z[at] = z[at]! * scale - near * z[at + after]! - far * z[at + beyond]!;
    near = one[i]!;
    far = farther;
    farther = two[i]!;
  }
}
