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
      solveColumns(alongColumns, out, rows, columns);
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

/** Four rows at a time: in one alone each number would wait for the one before it. */
function solveRows(factor: FactorOfFive, z: Float64Array, rows: number, columns: number): void {
  const fours = rows - (rows % 4);
  for (let row = 0; row < fours; row += 4) solveFourRows(factor, z, row * columns, columns);
  for (let row = fours; row < rows; row++) solveRun(factor, z, row * columns, 1, columns);
}

function solveFourRows({ inverse, one, two }: FactorOfFive, z: Float64Array, from: number, columns: number): void {
  let a1 = 0;
  let b1 = 0;
  let c1 = 0;
  let d1 = 0;
  let a2 = 0;
  let b2 = 0;
  let c2 = 0;
  let d2 = 0;
  for (let i = 0, a = from; i < columns; i++, a++) {
    const b = a + columns;
    const c = b + columns;
    const d = c + columns;
    const near = one[i]!;
    const far = two[i]!;
    const nextA = z[a]! - near * a1 - far * a2;
    const nextB = z[b]! - near * b1 - far * b2;
    const nextC = z[c]! - near * c1 - far * c2;
    const nextD = z[d]! - near * d1 - far * d2;
    z[a] = nextA;
    z[b] = nextB;
    z[c] = nextC;
    z[d] = nextD;
    a2 = a1;
    b2 = b1;
    c2 = c1;
    d2 = d1;
    a1 = nextA;
    b1 = nextB;
    c1 = nextC;
    d1 = nextD;
  }
  a1 = b1 = c1 = d1 = a2 = b2 = c2 = d2 = 0;
  let near = 0;
  let far = 0;
  let farNext = 0;
  for (let i = columns - 1, a = from + columns - 1; i >= 0; i--, a--) {
    const b = a + columns;
    const c = b + columns;
    const d = c + columns;
    const scale = inverse[i]!;
    const nextA = z[a]! * scale - near * a1 - far * a2;
    const nextB = z[b]! * scale - near * b1 - far * b2;
    const nextC = z[c]! * scale - near * c1 - far * c2;
    const nextD = z[d]! * scale - near * d1 - far * d2;
    z[a] = nextA;
    z[b] = nextB;
    z[c] = nextC;
    z[d] = nextD;
    a2 = a1;
    b2 = b1;
    c2 = c1;
    d2 = d1;
    a1 = nextA;
    b1 = nextB;
    c1 = nextC;
    d1 = nextD;
    near = one[i]!;
    far = farNext;
    farNext = two[i]!;
  }
}

/** One row or column: numbers at from, from + step, … */
function solveRun(
  { inverse, one, two }: FactorOfFive,
  z: Float64Array,
  from: number,
  step: number,
  size: number,
): void {
  for (let i = 1, at = from + step; i < size; i++, at += step) {
    z[at]! -= one[i]! * z[at - step]!;
    if (i > 1) z[at]! -= two[i]! * z[at - 2 * step]!;
  }
  for (let i = size - 1, at = from + i * step; i >= 0; i--, at -= step) {
    z[at]! *= inverse[i]!;
    if (i + 1 < size) z[at]! -= one[i + 1]! * z[at + step]!;
    if (i + 2 < size) z[at]! -= two[i + 2]! * z[at + 2 * step]!;
  }
}

/** All columns side by side, row after row. */
function solveColumns({ inverse, one, two }: FactorOfFive, z: Float64Array, rows: number, columns: number): void {
  for (let i = 1; i < rows; i++) {
    const near = one[i]!;
    const far = two[i]!;
    const start = i * columns;
    if (i === 1) for (let at = start; at < start + columns; at++) z[at]! -= near * z[at - columns]!;
    else
      for (let at = start, before = at - columns, beyond = before - columns; before < start; at++, before++, beyond++)
        z[at]! -= near * z[before]! + far * z[beyond]!;
  }
  for (let i = rows - 1; i >= 0; i--) {
    const scale = inverse[i]!;
    const start = i * columns;
    if (i + 2 < rows) {
      const near = one[i + 1]!;
      const far = two[i + 2]!;
      for (let at = start; at < start + columns; at++)
        z[at] = z[at]! * scale - near * z[at + columns]! - far * z[at + 2 * columns]!;
    } else if (i + 1 < rows) {
      const near = one[i + 1]!;
      for (let at = start; at < start + columns; at++) z[at] = z[at]! * scale - near * z[at + columns]!;
    } else for (let at = start; at < start + columns; at++) z[at]! *= scale;
  }
}
