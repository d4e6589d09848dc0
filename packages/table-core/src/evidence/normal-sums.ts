import type { BandMatrix } from "../numeric/banded-cholesky.ts";
import type { NormalEquations } from "../numeric/restricted-likelihood.ts";
import type { ModelRow } from "./dynamics-pass.ts";

/**
 * The normal equations of a fit, as sums over readings: what was added apart can be added together.
 *
 * Unknowns are the cells (a symmetric band of `band` off-diagonals, lower half by rows: element (i, j) at
 * `i·band + j + band`) and a few `extras` that every reading may touch.
 */
export class NormalSums implements NormalEquations {
  readonly matrix: BandMatrix;
  readonly right: Float64Array;
  /** Extras by cells. */
  readonly cross: Float64Array;
  /** Extras by extras, both halves. */
  readonly corner: Float64Array;
  readonly extraRight: Float64Array;
  /** Σ weight·target². */
  square = 0;
  weight = 0;
  count = 0;
  /** Readings whose recent path spans more cells than the band holds. */
  wide = 0;

  constructor(
    readonly cells: number,
    readonly band: number,
    readonly extras: number,
  ) {
    this.matrix = { band, values: new Float64Array(cells * (band + 1)) };
    this.right = new Float64Array(cells);
    this.cross = new Float64Array(extras * cells);
    this.corner = new Float64Array(extras * extras);
    this.extraRight = new Float64Array(extras);
  }

  /** Adds one reading: target ≈ row·cells + extra·extras. Returns false if the row is too wide for the band. */
  add(row: ModelRow, target: number, weight: number, extra: Float64Array): boolean {
    const { band, right, cross, corner, extraRight, cells, extras } = this;
    const matrix = this.matrix.values;
    const { size } = row;
    if (band < cells - 1) {
      let low = cells;
      let high = 0;
      for (let k = 0; k < size; k++) {
        const cell = row.cells[k]!;
        if (cell < low) low = cell;
        if (cell > high) high = cell;
      }
      if (high - low > band) {
        this.wide++;
        return false;
      }
    }
    for (let a = 0; a < size; a++) {
      const cell = row.cells[a]!;
      const value = weight * row.values[a]!;
      right[cell]! += value * target;
      for (let b = 0; b <= a; b++) {
        const other = row.cells[b]!;
        const at = cell > other ? cell * band + other + band : other * band + cell + band;
        matrix[at]! += value * row.values[b]!;
      }
      for (let e = 0; e < extras; e++) cross[e * cells + cell]! += value * extra[e]!;
    }
    for (let e = 0; e < extras; e++) {
      const value = weight * extra[e]!;
      if (value === 0) continue;
      extraRight[e]! += value * target;
      for (let f = 0; f < extras; f++) corner[e * extras + f]! += value * extra[f]!;
    }
    this.square += weight * target * target;
    this.weight += weight;
    this.count++;
    return true;
  }

  /** The same as if only one reading in `factor` counted: for readings that hang together in time. */
  tempered(factor: number): NormalSums {
    const sums = new NormalSums(this.cells, this.band, this.extras);
    for (let at = 0; at < this.matrix.values.length; at++) sums.matrix.values[at] = this.matrix.values[at]! / factor;
    for (const key of ["right", "cross", "corner", "extraRight"] as const)
      for (let at = 0; at < this[key].length; at++) sums[key][at] = this[key][at]! / factor;
    sums.square = this.square / factor;
    sums.weight = this.weight / factor;
    sums.count = this.count / factor;
    sums.wide = this.wide;
    return sums;
  }

  /** Adds the sums of other readings. */
  merge(other: NormalSums): void {
    addTo(this.matrix.values, other.matrix.values);
    for (const key of ["right", "cross", "corner", "extraRight"] as const) addTo(this[key], other[key]);
    this.square += other.square;
    this.weight += other.weight;
    this.count += other.count;
    this.wide += other.wide;
  }
}

function addTo(sums: Float64Array, more: Float64Array): void {
  for (let at = 0; at < sums.length; at++) sums[at]! += more[at]!;
}
