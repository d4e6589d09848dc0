import { FuelwrightError } from "../values/errors.ts";

/**
 * A symmetric matrix by its lower band, row by row: element (i, j) with i − band ≤ j ≤ i stands at `i·band + j + band`.
 *
 * `values` holds size · (band + 1) numbers; those that would lie left of column 0 do not count.
 */
export interface BandMatrix {
  /** How many elements left of the diagonal are kept in each row. */
  readonly band: number;
  /** The elements of the band, row by row. */
  readonly values: Float64Array;
}

/** A factored matrix: A = L·Lᵀ. It stays right when the matrix is written to later. */
export interface BandFactor {
  /** Rows of the matrix. */
  readonly size: number;
  /** ln det A. */
  readonly logDeterminant: number;
  /** x of A·x = right; `out` may be `right` itself. O(size · band). */
  solve(right: ArrayLike<number>, out?: Float64Array): Float64Array;
  /** A⁻¹ inside the band (the rest of it is full, and never formed). About three times the cost of factoring. */
  inverse(): BandMatrix;
}

/** A pivot below this share of its diagonal is what rounding leaves of zero. */
const LEAST_PIVOT = 2 ** -48;

/**
 * The Cholesky factor of a symmetric positive definite band matrix. O(size · band²) time, O(size · band) memory.
 *
 * Number the unknowns so that the band is narrow: for a table, with its shorter side running fastest.
 *
 * @example factorBand({ band: 1, values: Float64Array.of(0, 2, -1, 2) }).solve([1, 1]) // [1, 1]
 * @throws FuelwrightError `not-definite` naming the row whose pivot is not above rounding
 * @see Golub & Van Loan, Matrix Computations (4th ed. 2013), sections 4.2 and 4.3
 */
export function factorBand({ band, values }: BandMatrix): BandFactor {
  const size = values.length / (band + 1);
  const strips = packStrips(size, band, values);
  factorStrips(strips, size);
  let logDeterminant = 0;
  for (let row = 0; row < size; row++) logDeterminant += 2 * Math.log(strips.tiles[diagonalAt(strips, row)]!);
  return {
    size,
    logDeterminant,
    solve(right, out = new Float64Array(size)) {
      const x = new Float64Array(strips.count * 4);
      x.set(right);
      solveLower(strips, x);
      solveUpper(strips, x);
      out.set(x.subarray(0, size));
      return out;
    },
    inverse: () => invertStrips(strips, size, band),
  };
}

/*
 * Inside, the band is kept in strips of four rows, cut into tiles of 4 × 4: with sixteen sums kept at a time, each number
 * read is used four times, and everything read lies in order. A tile holds its columns one after another. Strip I holds
 * tiles I − left … I; rows beyond the matrix are those of the identity.
 */
interface Strips {
  readonly count: number;
  readonly left: number;
  readonly tiles: Float64Array;
}

/** Where tile (strip, column 4·0) would stand; tile J is 16·J further on. */
const stripBase = ({ left }: Strips, strip: number): number => (strip * (left + 1) + left - strip) << 4;

const diagonalAt = (strips: Strips, row: number): number =>
  stripBase(strips, row >> 2) + ((row >> 2) << 4) + (row & 3) * 5;

function packStrips(size: number, band: number, values: Float64Array): Strips {
  const count = Math.ceil(size / 4);
  const left = Math.min(Math.ceil(band / 4), count - 1);
  const strips = { count, left, tiles: new Float64Array(count * (left + 1) * 16) };
  for (let row = 0; row < size; row++) {
    const to = stripBase(strips, row >> 2) + (row & 3);
    const from = row * band + band;
    for (let column = Math.max(0, row - band); column <= row; column++)
      strips.tiles[to + 4 * column] = values[from + column]!;
  }
  for (let row = size; row < 4 * count; row++) strips.tiles[diagonalAt(strips, row)] = 1;
  return strips;
}

/** Overwrites the strips with L. */
function factorStrips(strips: Strips, size: number): void {
  const { count, left, tiles } = strips;
  const least = new Float64Array(4);
  for (let strip = 0; strip < count; strip++) {
    const base = stripBase(strips, strip);
    const first = Math.max(0, strip - left);
    for (let k = 0; k < 4; k++) least[k] = LEAST_PIVOT * tiles[base + (strip << 4) + 5 * k]!;
    for (let other = first; other <= strip; other++) {
      const otherBase = stripBase(strips, other);
      const tile = base + (other << 4);
      multiplySubtract(tiles, tile, base + (first << 4), tile, tiles, otherBase + (first << 4));
      if (other < strip) divideByDiagonal(tiles, tile, otherBase + (other << 4));
      else factorDiagonal(tiles, tile, least, 4 * strip, size);
    }
  }
}

/**
 * tile −= X·Yᵀ, where the columns of X stand in `xs` (as does the tile) from `x` to `xEnd`, and those of Y in `ys` from `y`,
 * four numbers each.
 *
 * The sums stand in variables of their own because only those are kept in registers.
 */
function multiplySubtract(xs: Float64Array, tile: number, x: number, xEnd: number, ys: Float64Array, y: number): void {
  let c00 = xs[tile]!;
  let c10 = xs[tile + 1]!;
  let c20 = xs[tile + 2]!;
  let c30 = xs[tile + 3]!;
  let c01 = xs[tile + 4]!;
  let c11 = xs[tile + 5]!;
  let c21 = xs[tile + 6]!;
  let c31 = xs[tile + 7]!;
  let c02 = xs[tile + 8]!;
  let c12 = xs[tile + 9]!;
  let c22 = xs[tile + 10]!;
  let c32 = xs[tile + 11]!;
  let c03 = xs[tile + 12]!;
  let c13 = xs[tile + 13]!;
  let c23 = xs[tile + 14]!;
  let c33 = xs[tile + 15]!;
  for (let p = x, q = y; p < xEnd; p += 4, q += 4) {
    const x0 = xs[p]!;
    const x1 = xs[p + 1]!;
    const x2 = xs[p + 2]!;
    const x3 = xs[p + 3]!;
    const y0 = ys[q]!;
    const y1 = ys[q + 1]!;
    const y2 = ys[q + 2]!;
    const y3 = ys[q + 3]!;
    c00 -= x0 * y0;
    c10 -= x1 * y0;
    c20 -= x2 * y0;
    c30 -= x3 * y0;
    c01 -= x0 * y1;
    c11 -= x1 * y1;
    c21 -= x2 * y1;
    c31 -= x3 * y1;
    c02 -= x0 * y2;
    c12 -= x1 * y2;
    c22 -= x2 * y2;
    c32 -= x3 * y2;
    c03 -= x0 * y3;
    c13 -= x1 * y3;
    c23 -= x2 * y3;
    c33 -= x3 * y3;
  }
  xs[tile] = c00;
  xs[tile + 1] = c10;
  xs[tile + 2] = c20;
  xs[tile + 3] = c30;
  xs[tile + 4] = c01;
  xs[tile + 5] = c11;
  xs[tile + 6] = c21;
  xs[tile + 7] = c31;
  xs[tile + 8] = c02;
  xs[tile + 9] = c12;
  xs[tile + 10] = c22;
  xs[tile + 11] = c32;
  xs[tile + 12] = c03;
  xs[tile + 13] = c13;
  xs[tile + 14] = c23;
  xs[tile + 15] = c33;
}

/** tile ← tile · L⁻ᵀ, L the lower tile at `diagonal`. */
function divideByDiagonal(tiles: Float64Array, tile: number, diagonal: number): void {
  const l10 = tiles[diagonal + 1]!;
  const l20 = tiles[diagonal + 2]!;
  const l30 = tiles[diagonal + 3]!;
  const l21 = tiles[diagonal + 6]!;
  const l31 = tiles[diagonal + 7]!;
  const l32 = tiles[diagonal + 11]!;
  for (let at = tile; at < tile + 4; at++) {
    const c0 = tiles[at]! / tiles[diagonal]!;
    const c1 = (tiles[at + 4]! - c0 * l10) / tiles[diagonal + 5]!;
    const c2 = (tiles[at + 8]! - c0 * l20 - c1 * l21) / tiles[diagonal + 10]!;
    const c3 = (tiles[at + 12]! - c0 * l30 - c1 * l31 - c2 * l32) / tiles[diagonal + 15]!;
    tiles[at] = c0;
    tiles[at + 4] = c1;
    tiles[at + 8] = c2;
    tiles[at + 12] = c3;
  }
}

/** Factors the diagonal tile, from which all columns left of it have been subtracted. */
function factorDiagonal(tiles: Float64Array, tile: number, least: Float64Array, firstRow: number, size: number): void {
  for (let c = 0; c < 4; c++) {
    const column = tile + 4 * c;
    let pivot = tiles[column + c]!;
    for (let k = 0; k < c; k++) pivot -= tiles[tile + 4 * k + c]! ** 2;
    if (!(pivot > least[c]!)) throw notDefinite(firstRow + c, pivot, size);
    const root = Math.sqrt(pivot);
    tiles.fill(0, column, column + c);
    tiles[column + c] = root;
    for (let r = c + 1; r < 4; r++) {
      let value = tiles[column + r]!;
      for (let k = 0; k < c; k++) value -= tiles[tile + 4 * k + r]! * tiles[tile + 4 * k + c]!;
      tiles[column + r] = value / root;
    }
  }
}

function notDefinite(row: number, pivot: number, size: number): FuelwrightError {
  return new FuelwrightError(
    "not-definite",
    `factorBand: the matrix must be positive definite, got ${pivot} left of the diagonal in row ${row} of ${size}; ` +
      "what it solves for is not determined by what is given",
    { row, pivot, size },
  );
}

/** x ← L⁻¹·x. */
function solveLower(strips: Strips, x: Float64Array): void {
  const { count, left, tiles } = strips;
  for (let strip = 0; strip < count; strip++) {
    const row = 4 * strip;
    const base = stripBase(strips, strip);
    let x0 = x[row]!;
    let x1 = x[row + 1]!;
    let x2 = x[row + 2]!;
    let x3 = x[row + 3]!;
    let at = base + (Math.max(0, strip - left) << 4);
    for (let column = 4 * Math.max(0, strip - left); column < row; column++, at += 4) {
      const known = x[column]!;
      x0 -= tiles[at]! * known;
      x1 -= tiles[at + 1]! * known;
      x2 -= tiles[at + 2]! * known;
      x3 -= tiles[at + 3]! * known;
    }
    x0 /= tiles[at]!;
    x1 = (x1 - tiles[at + 1]! * x0) / tiles[at + 5]!;
    x2 = (x2 - tiles[at + 2]! * x0 - tiles[at + 6]! * x1) / tiles[at + 10]!;
    x3 = (x3 - tiles[at + 3]! * x0 - tiles[at + 7]! * x1 - tiles[at + 11]! * x2) / tiles[at + 15]!;
    x[row] = x0;
    x[row + 1] = x1;
    x[row + 2] = x2;
    x[row + 3] = x3;
  }
}

/** x ← L⁻ᵀ·x. */
function solveUpper(strips: Strips, x: Float64Array): void {
  const { count, left, tiles } = strips;
  for (let strip = count - 1; strip >= 0; strip--) {
    const row = 4 * strip;
    const base = stripBase(strips, strip);
    const at = base + (strip << 4);
    const x3 = x[row + 3]! / tiles[at + 15]!;
    const x2 = (x[row + 2]! - tiles[at + 11]! * x3) / tiles[at + 10]!;
    const x1 = (x[row + 1]! - tiles[at + 7]! * x3 - tiles[at + 6]! * x2) / tiles[at + 5]!;
    const x0 = (x[row]! - tiles[at + 3]! * x3 - tiles[at + 2]! * x2 - tiles[at + 1]! * x1) / tiles[at]!;
    x[row] = x0;
    x[row + 1] = x1;
    x[row + 2] = x2;
    x[row + 3] = x3;
    let from = base + (Math.max(0, strip - left) << 4);
    for (let column = 4 * Math.max(0, strip - left); column < row; column++, from += 4)
      x[column]! -= tiles[from]! * x0 + tiles[from + 1]! * x1 + tiles[from + 2]! * x2 + tiles[from + 3]! * x3;
  }
}

/**
 * The elements of (L·Lᵀ)⁻¹ inside the band, from the last column of tiles to the first.
 *
 * With W(K) = L(K, J)·L(J, J)⁻¹ for the tiles below a diagonal tile, Z(I, J) = −Σ Z(I, K)·W(K) over K > J, and
 * Z(J, J) = L(J, J)⁻ᵀ·L(J, J)⁻¹ − Σ Z(K, J)ᵀ·W(K): only tiles that are known already, all inside the band. They are
 * kept on both sides of the diagonal, so that a row of tiles lies in order.
 *
 * @see Takahashi, Fagan & Chin, Formation of a sparse bus impedance matrix (1973); Erisman & Tinney, CACM 18 (1975) 177
 */
function invertStrips(strips: Strips, size: number, band: number): BandMatrix {
  const { count, left, tiles } = strips;
  const values = new Float64Array(size * (band + 1));
  /** The strips from the one at work to the last that it reaches, each from `left` tiles before its diagonal to `left` after. */
  const z = new Float64Array((left + 1) * (2 * left + 1) * 16);
  const place = (row: number, column: number) => ((row % (left + 1)) * (2 * left + 1) + left + column - row) << 4;
  /** Rows of W(J+1), W(J+2), … one after another. */
  const w = new Float64Array(16 * (left + 1));
  const corner = new Float64Array(16);
  const handOut = (strip: number) => {
    for (let row = 4 * strip; row < Math.min(4 * strip + 4, size); row++) {
      const from = place(strip, 0) + (row & 3);
      const to = row * band + band;
      for (let column = Math.max(0, row - band); column <= row; column++) values[to + column] = z[from + 4 * column]!;
    }
  };
  for (let strip = count - 1; strip >= 0; strip--) {
    invertLowerTile(tiles, stripBase(strips, strip) + (strip << 4), corner);
    const last = Math.min(strip + left, count - 1);
    for (let below = strip + 1; below <= last; below++)
      multiplyTiles(tiles, stripBase(strips, below) + (strip << 4), corner, w, (below - strip - 1) << 4);
    for (let row = last; row > strip; row--) {
      const tile = place(row, strip);
      z.fill(0, tile, tile + 16);
      multiplySubtract(z, tile, tile + 16, place(row, last + 1), w, 0);
      turnTile(z, tile, place(strip, row));
    }
    const diagonal = place(strip, strip);
    z.fill(0, diagonal, diagonal + 16);
    multiplySubtract(z, diagonal, diagonal + 16, place(strip, last + 1), w, 0);
    for (let r = 0; r < 4; r++)
      for (let c = 0; c <= r; c++) {
        let value = z[diagonal + 4 * c + r]!;
        for (let k = r; k < 4; k++) value += corner[4 * r + k]! * corner[4 * c + k]!;
        z[diagonal + 4 * c + r] = value;
        z[diagonal + 4 * r + c] = value;
      }
    // The strip that the next one no longer reaches is complete, and its place will be taken.
    if (strip + left < count) handOut(strip + left);
  }
  for (let strip = 0; strip < Math.min(left, count); strip++) handOut(strip);
  return { band, values };
}

/** Inverse of a lower tile. */
function invertLowerTile(tiles: Float64Array, tile: number, out: Float64Array): void {
  out.fill(0);
  for (let c = 0; c < 4; c++) {
    out[5 * c] = 1 / tiles[tile + 5 * c]!;
    for (let r = c + 1; r < 4; r++) {
      let value = 0;
      for (let k = c; k < r; k++) value -= tiles[tile + 4 * k + r]! * out[4 * c + k]!;
      out[4 * c + r] = value / tiles[tile + 5 * r]!;
    }
  }
}

/** Rows of the product of a tile with a lower tile. */
function multiplyTiles(tiles: Float64Array, tile: number, lower: Float64Array, out: Float64Array, at: number): void {
  for (let r = 0; r < 4; r++)
    for (let c = 0; c < 4; c++) {
      let value = 0;
      for (let k = c; k < 4; k++) value += tiles[tile + 4 * k + r]! * lower[4 * c + k]!;
      out[at + 4 * r + c] = value;
    }
}

function turnTile(tiles: Float64Array, tile: number, to: number): void {
  for (let r = 0; r < 4; r++) for (let c = 0; c < 4; c++) tiles[to + 4 * r + c] = tiles[tile + 4 * c + r]!;
}
