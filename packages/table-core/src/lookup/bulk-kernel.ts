import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { type AxisIndex, MOST_BUCKETS } from "./axis-index.ts";
import { type Coefficients, cellPolynomial, type Surface } from "./cell-polynomial.ts";

/*
 * The inner loops of bulk lookup. Their data stand in arrays that belong to this module and never move: the compiler then
 * knows their addresses and lengths, and arrays of one length share their bounds checks. That doubles the speed of the same
 * loop over arrays that are handed in; copying queries in and results out costs a tenth of what it gains. The large
 * arrays take memory only as far as they are used.
 */

/** How many points the loops take at a time. */
export const CHUNK = 4096;

const queryRpm = new Float64Array(CHUNK);
const queryLoad = new Float64Array(CHUNK);
const resultRpm = new Float64Array(CHUNK);
const resultLoad = new Float64Array(CHUNK);
const resultCorner = new Int32Array(CHUNK);

/**
 * Where a chunk's queries go in and its results come out: in `resultRpm` the values looked up, or the shares of the way to
 * the next column; in `resultLoad` those to the next row.
 *
 * Handed out in an object, because a variable that is itself exported would no longer count as constant in the loops.
 */
export const chunk = Object.freeze({ queryRpm, queryLoad, resultRpm, resultLoad, resultCorner });

const startRpm = new Int32Array(MOST_BUCKETS);
const startLoad = new Int32Array(MOST_BUCKETS);
const cutRpm = new Float64Array(MOST_BUCKETS);
const cutLoad = new Float64Array(MOST_BUCKETS);
const edgeRpm = new Float64Array(MOST_BREAKPOINTS);
const edgeLoad = new Float64Array(MOST_BREAKPOINTS);
const gapRpm = new Float64Array(MOST_BREAKPOINTS);
const gapLoad = new Float64Array(MOST_BREAKPOINTS);
const rowStart = new Int32Array(MOST_BREAKPOINTS);
const p0 = new Float64Array(MOST_BREAKPOINTS ** 2);
const p1 = new Float64Array(MOST_BREAKPOINTS ** 2);
const p2 = new Float64Array(MOST_BREAKPOINTS ** 2);
const p3 = new Float64Array(MOST_BREAKPOINTS ** 2);
const polynomials: Coefficients = [p0, p1, p2, p3];
/** Low, high and scale of rpm, then of load: read from an array, they stay plain numbers inside the loops. */
const bounds = new Float64Array(6);
/** The last cell of each axis. */
const lastCell = new Int32Array(2);

/** Makes a grid the one that `runLocate` works with. Both indexes must be direct. */
export function prepareGrid(rpm: AxisIndex, load: AxisIndex): void {
  const columns = rpm.edges.length;
  bounds.set([rpm.low, rpm.high, rpm.scale, load.low, load.high, load.scale]);
  lastCell.set([Math.max(columns - 2, 0), Math.max(load.edges.length - 2, 0)]);
  placeAxis(rpm, startRpm, cutRpm, edgeRpm, gapRpm);
  placeAxis(load, startLoad, cutLoad, edgeLoad, gapLoad);
  for (let row = 0; row < load.edges.length; row++) rowStart[row] = row * columns;
}

/** Makes a surface the one that `runLookup` works with. */
export function prepareSurface(surface: Surface): void {
  const columns = surface.rpm.edges.length;
  prepareGrid(surface.rpm, surface.load);
  for (let row = 0; row < surface.load.edges.length; row++)
    for (let column = 0; column < columns; column++)
      cellPolynomial(surface, column, row, polynomials, row * columns + column);
}

function placeAxis(
  index: AxisIndex,
  start: Int32Array,
  cut: Float64Array,
  edge: Float64Array,
  gap: Float64Array,
): void {
  start.set(index.start);
  cut.set(index.cut);
  edge.set(index.edges);
  for (let i = 0; i < index.edges.length; i++) gap[i] = (index.edges[i + 1] ?? Number.POSITIVE_INFINITY) - edge[i]!;
}

/**
 * Looks up the first `count` queries, held at the edges, into `resultRpm`.
 *
 * @returns the sum of the queries, which is not finite if any of them is not
 */
export function runLookup(count: number): number {
  const lowX = bounds[0]!;
  const highX = bounds[1]!;
  const scaleX = bounds[2]!;
  const lowY = bounds[3]!;
  const highY = bounds[4]!;
  const scaleY = bounds[5]!;
  let sum = 0;
  for (let k = 0; k < count; k = (k + 1) | 0) {
    const x = Math.min(Math.max(queryRpm[k]!, lowX), highX);
    const y = Math.min(Math.max(queryLoad[k]!, lowY), highY);
    sum += queryRpm[k]! + queryLoad[k]!;
    const bucketX = ((x - lowX) * scaleX) | 0;
    const bucketY = ((y - lowY) * scaleY) | 0;
    // Adding the comparison as a number leaves no branch to guess wrong.
    const column = (startRpm[bucketX]! + +(x >= cutRpm[bucketX]!)) | 0;
    const row = (startLoad[bucketY]! + +(y >= cutLoad[bucketY]!)) | 0;
    const t = x - edgeRpm[column]!;
    const s = y - edgeLoad[row]!;
    const cell = (column + rowStart[row]!) | 0;
    resultRpm[k] = p0[cell]! + t * p1[cell]! + s * (p2[cell]! + t * p3[cell]!);
  }
  return sum;
}

/**
 * Finds the corner cell and the shares of the first `count` queries, held at the edges, into `resultCorner`, `resultRpm`
 * and `resultLoad`.
 *
 * @returns as `runLookup`
 */
export function runLocate(count: number): number {
  const lowX = bounds[0]!;
  const highX = bounds[1]!;
  const scaleX = bounds[2]!;
  const lowY = bounds[3]!;
  const highY = bounds[4]!;
  const scaleY = bounds[5]!;
  const lastX = lastCell[0]!;
  const lastY = lastCell[1]!;
  let sum = 0;
  for (let k = 0; k < count; k = (k + 1) | 0) {
    const x = Math.min(Math.max(queryRpm[k]!, lowX), highX);
    const y = Math.min(Math.max(queryLoad[k]!, lowY), highY);
    sum += queryRpm[k]! + queryLoad[k]!;
    const bucketX = ((x - lowX) * scaleX) | 0;
    const bucketY = ((y - lowY) * scaleY) | 0;
    let column = (startRpm[bucketX]! + +(x >= cutRpm[bucketX]!)) | 0;
    let row = (startLoad[bucketY]! + +(y >= cutLoad[bucketY]!)) | 0;
    // The top breakpoint begins no cell: it is the far end of the last one.
    column = (column - +(column > lastX)) | 0;
    row = (row - +(row > lastY)) | 0;
    resultCorner[k] = (column + rowStart[row]!) | 0;
    // Quotients rather than products with the inverse: at the far end they are exactly 1.
    resultRpm[k] = (x - edgeRpm[column]!) / gapRpm[column]!;
    resultLoad[k] = (y - edgeLoad[row]!) / gapLoad[row]!;
  }
  return sum;
}
