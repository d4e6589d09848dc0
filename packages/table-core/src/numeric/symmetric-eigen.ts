import { FuelwrightError } from "../values/errors.ts";

/** A = Σ values[k]·v(k)·v(k)ᵀ, eigenvalues rising. */
export interface SymmetricEigen {
  readonly values: Float64Array;
  /** Unit eigenvectors, one after another. */
  readonly vectors: Float64Array;
}

/**
 * Eigenvalues and eigenvectors of a full symmetric matrix of modest size. O(size³): some 10 ms at 128.
 *
 * Reflections bring it to three diagonals, then QL steps with implicit shifts to one. Errors are of the order of rounding
 * times the largest eigenvalue.
 *
 * @param matrix - row-major, size × size; not written to
 * @throws FuelwrightError `no-eigenvalues` if the steps do not settle, which only numbers that are not finite bring about
 * @see Martin, Reinsch & Wilkinson, Numer. Math. 11 (1968) 181; Dubrulle, Martin & Wilkinson, Numer. Math. 12 (1968) 377
 */
export function symmetricEigen(matrix: Float64Array, size: number): SymmetricEigen {
  const { diagonal, beside, vectors } = tridiagonal(matrix.slice(), size);
  diagonalise(diagonal, beside, vectors);
  if (!diagonal.every(Number.isFinite)) throw notSettled(size);
  const order = Array.from(diagonal.keys()).sort((a, b) => diagonal[a]! - diagonal[b]!);
  const sorted = new Float64Array(size * size);
  order.forEach((from, to) => {
    sorted.set(vectors.subarray(from * size, (from + 1) * size), to * size);
  });
  return { values: Float64Array.from(order, (k) => diagonal[k]!), vectors: sorted };
}

/** T = H·A·Hᵀ with T tridiagonal; `vectors` holds the rows of H, so that its turned rows become eigenvectors. */
function tridiagonal(a: Float64Array, n: number) {
  const beside = new Float64Array(n);
  const reflections: Float64Array[] = [];
  const image = new Float64Array(n);
  for (let k = 0; k + 2 < n; k++) {
    // The reflection that clears column k below the element beside the diagonal.
    const v = new Float64Array(n);
    let square = 0;
    for (let i = k + 1; i < n; i++) square += (v[i] = a[i * n + k]!) ** 2;
    const length = v[k + 1]! > 0 ? -Math.sqrt(square) : Math.sqrt(square);
    reflections.push(v);
    beside[k] = length;
    v[k + 1]! -= length;
    const half = square - length * (v[k + 1]! + length);
    // Nothing to clear, or only what is too small to be squared.
    if (!(half > 1e-280)) {
      beside[k] = 0;
      v.fill(0);
      continue;
    }
    // Scaled so that the reflection is 1 − v·vᵀ.
    const scale = 1 / Math.sqrt(half);
    for (let i = k + 1; i < n; i++) v[i]! *= scale;
    let along = 0;
    for (let i = k + 1; i < n; i++) {
      let sum = 0;
      for (let j = k + 1; j < n; j++) sum += a[i * n + j]! * v[j]!;
      image[i] = sum;
      along += sum * v[i]!;
    }
    for (let i = k + 1; i < n; i++) image[i]! -= (along / 2) * v[i]!;
    for (let i = k + 1; i < n; i++) {
      const vi = v[i]!;
      const wi = image[i]!;
      for (let j = k + 1; j < n; j++) a[i * n + j]! -= vi * image[j]! + wi * v[j]!;
    }
  }
  if (n > 1) beside[n - 2] = a[(n - 1) * n + n - 2]!;
  const diagonal = Float64Array.from({ length: n }, (_, i) => a[i * n + i]!);
  const vectors = new Float64Array(n * n);
  for (let i = 0; i < n; i++) vectors[i * n + i] = 1;
  for (let k = reflections.length - 1; k >= 0; k--) {
    const v = reflections[k]!;
    // Rows up to k are still those of the identity, and so are the columns.
    for (let i = k + 1; i < n; i++) {
      let sum = 0;
      for (let j = k + 1; j < n; j++) sum += vectors[i * n + j]! * v[j]!;
      for (let j = k + 1; j < n; j++) vectors[i * n + j]! -= sum * v[j]!;
    }
  }
  return { diagonal, beside, vectors };
}

/** Rotates the tridiagonal matrix until what stands beside the diagonal is gone, and the rows of `vectors` with it. */
function diagonalise(d: Float64Array, e: Float64Array, vectors: Float64Array): void {
  const n = d.length;
  // Far below rounding of the whole, and clear of the smallest numbers, on which rotations are no rotations.
  let least = 1e-290;
  for (let k = 0; k < n; k++) least = Math.max(least, Number.EPSILON ** 2 * Math.max(Math.abs(d[k]!), Math.abs(e[k]!)));
  for (let l = 0; l < n; l++) {
    for (let step = 0; ; step++) {
      let m = l;
      while (m < n - 1 && Math.abs(e[m]!) > least + Number.EPSILON * (Math.abs(d[m]!) + Math.abs(d[m + 1]!))) m++;
      if (m === l) break;
      if (step === 60) throw notSettled(n);
      let g = (d[l + 1]! - d[l]!) / (2 * e[l]!);
      g = d[m]! - d[l]! + e[l]! / (g + (g < 0 ? -1 : 1) * Math.hypot(g, 1));
      let s = 1;
      let c = 1;
      let p = 0;
      let i = m - 1;
      for (; i >= l; i--) {
        const f = s * e[i]!;
        const b = c * e[i]!;
        const r = Math.hypot(f, g);
        e[i + 1] = r;
        if (r === 0) {
          d[i + 1]! -= p;
          e[m] = 0;
          break;
        }
        s = f / r;
        c = g / r;
        g = d[i + 1]! - p;
        const t = (d[i]! - g) * s + 2 * c * b;
        p = s * t;
        d[i + 1] = g + p;
        g = c * t - b;
        rotateRows(vectors, i * n, (i + 1) * n, n, c, s);
      }
      if (i >= l) continue;
      d[l]! -= p;
      e[l] = g;
      e[m] = 0;
    }
  }
}

function rotateRows(rows: Float64Array, low: number, high: number, length: number, c: number, s: number): void {
  for (let k = 0; k < length; k++) {
    const a = rows[low + k]!;
    const b = rows[high + k]!;
    rows[high + k] = s * a + c * b;
    rows[low + k] = c * a - s * b;
  }
}

const notSettled = (size: number) =>
  new FuelwrightError(
    "no-eigenvalues",
    `symmetricEigen: the matrix must be of finite numbers, got one of ${size} rows that does not settle; ` +
      "check the axis it comes from",
    { size },
  );
