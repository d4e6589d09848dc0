import { axisIndex, findBreakpoint } from "../lookup/axis-index.ts";
import { holdOn } from "../lookup/outside.ts";
import type { Axis } from "../values/axis.ts";
import type { Series } from "./series.ts";

/**
 * What lies between the cylinder and the number in the log.
 *
 * The gas leaves the cylinder, needs `flow` seconds at the reference flow to reach the sensor (longer when less flows: a
 * plug), is seen `constant` seconds later through a first-order `lag`; of the fuel, `filmShare` goes to the intake wall and
 * leaves it with the time constant `filmTime` (all in seconds).
 */
export interface Dynamics {
  readonly constant: number;
  readonly flow: number;
  readonly lag: number;
  readonly filmShare: number;
  readonly filmTime: number;
}

/** The order of {@link Dynamics} wherever they stand as a vector. */
export const dynamicsKeys = ["constant", "flow", "lag", "filmShare", "filmTime"] as const;

/** The unknowns: cells of a grid, numbered so that neighbours along the shorter side are next to each other. */
export interface Grid {
  readonly x: Axis;
  readonly y: Axis;
  readonly cells: number;
  /** Distance in the numbering between neighbours along x and along y. */
  readonly xStep: number;
  readonly yStep: number;
}

export function createGrid(x: Axis, y: Axis): Grid {
  const columns = x.breakpoints.length;
  const rows = y.breakpoints.length;
  const across = columns <= rows;
  return { x, y, cells: columns * rows, xStep: across ? 1 : rows, yStep: across ? columns : 1 };
}

/** The place of each cell, row-major [y][x], among the unknowns. */
export function gridOrder({ x, y, cells, xStep, yStep }: Grid): Int32Array {
  const order = new Int32Array(cells);
  let at = 0;
  for (let row = 0; row < y.breakpoints.length; row++)
    for (let column = 0; column < x.breakpoints.length; column++) order[at++] = column * xStep + row * yStep;
  return order;
}

/** Rows whose share of unfit or unknown gas is above this are still settling. */
const CLEAN = 3e-4;
/** Weights below this are dropped from a row. */
const FAINT = 3e-5;

/**
 * One row of the model: what the reading should be is `known` + Σ values·c, for cell corrections c.
 *
 * `slopes` are the derivatives with respect to the five {@link dynamicsKeys}.
 */
export class ModelRow {
  size = 0;
  readonly cells: Int32Array;
  readonly values: Float64Array;
  known = 0;
  model = 0;
  inverse = 0;
  readonly slopes = new Float64Array(5);
  private readonly slot: Int32Array;

  constructor(cells: number) {
    this.cells = new Int32Array(cells);
    this.values = new Float64Array(cells);
    this.slot = new Int32Array(cells).fill(-1);
  }

  clear(): void {
    for (let k = 0; k < this.size; k++) this.slot[this.cells[k]!] = -1;
    this.size = 0;
  }

  fade(factor: number): void {
    const { values, cells, slot } = this;
    let size = this.size;
    for (let k = 0; k < size; ) {
      const value = values[k]! * factor;
      if (value < FAINT) {
        size--;
        slot[cells[k]!] = -1;
        if (k < size) {
          cells[k] = cells[size]!;
          values[k] = values[size]!;
          slot[cells[k]!] = k;
        }
      } else values[k++] = value;
    }
    this.size = size;
  }

  add(cell: number, value: number): void {
    if (value === 0) return;
    const at = this.slot[cell]!;
    if (at >= 0) this.values[at]! += value;
    else {
      this.slot[cell] = this.size;
      this.cells[this.size] = cell;
      this.values[this.size++] = value;
    }
  }
}

/** The film's logarithm of injected over delivered, with its slopes, for each row of a series. */
interface FilmColumns {
  readonly bend: Float64Array;
  readonly byShare: Float64Array;
  readonly byTime: Float64Array;
}

/**
 * How much leaner the cylinder is than commanded because of the wall film: ln(injected/delivered), row by row.
 *
 * The film's outflow v follows the injected flow u with the time constant, exactly for flow that is linear between rows;
 * delivered = (1−X)·u + X·v.
 * @see Aquino, Transient A/F control characteristics of the 5 liter central fuel injection engine, SAE 810494 (1981)
 */
export function filmBend(
  series: Pick<Series, "count" | "time" | "fuel" | "since">,
  share: number,
  time: number,
): FilmColumns {
  const { count, fuel, since } = series;
  const bend = new Float64Array(count);
  const byShare = new Float64Array(count);
  const byTime = new Float64Array(count);
  let v = 0;
  let slope = 0;
  let dtBefore = -1;
  let keep = 0;
  let before = 0;
  let now = 0;
  let dKeep = 0;
  let dBefore = 0;
  for (let i = 0; i < count; i++) {
    const u = fuel[i]!;
    if (since[i] === i) {
      v = u;
      slope = 0;
    } else {
      const dt = series.time[i]! - series.time[i - 1]!;
      if (dt !== dtBefore) {
        dtBefore = dt;
        const ratio = dt / time;
        keep = Math.exp(-ratio);
        const mean = -Math.expm1(-ratio) / ratio;
        now = 1 - mean;
        before = mean - keep;
        dKeep = (keep * ratio) / time;
        dBefore = (mean - keep) / time - dKeep;
      }
      const past = fuel[i - 1]!;
      slope = keep * slope + dKeep * v + dBefore * past - (dKeep + dBefore) * u;
      v = keep * v + before * past + now * u;
    }
    if (u > 0) {
      const ratio = Math.min(v / u, 30);
      const delivered = 1 - share + share * ratio;
      bend[i] = -Math.log(delivered);
      byShare[i] = (1 - ratio) / delivered;
      byTime[i] = (-share * (slope / u)) / delivered;
    }
  }
  return { bend, byShare, byTime };
}

/**
 * Goes through a series and calls `visit` for each usable reading, with `row` filled for it.
 *
 * @param cells - corrections in the grid's numbering, for `row.model` and the slopes; null: all zero
 * @returns the number of readings that were still settling
 */
export function eachReading(
  series: Series,
  dynamics: Dynamics,
  grid: Grid,
  cells: Float64Array | null,
  row: ModelRow,
  visit: (at: number) => void,
): number {
  const { count, lead, time, x, y, known, volume, measured, mask, unfit, since, inverse } = series;
  const { constant, flow, lag } = dynamics;
  const film = series.hasFuel ? filmBend(series, dynamics.filmShare, dynamics.filmTime) : null;
  const find = createFinder(grid);
  // The mixture in the cylinder at each row, for its slope in time.
  const mixture = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let value = known[i]! + (film ? film.bend[i]! : 0);
    if (cells) {
      find(x[i]!, y[i]!);
      value += find.weigh(cells);
    }
    mixture[i] = value;
  }
  row.clear();
  let settling = 0;
  let doubt = 1;
  let valid = false;
  let validBefore = false;
  let dtBefore = -1;
  let keep = 0;
  let before = 0;
  let now = 0;
  let dKeep = 0;
  let dBefore = 0;
  let rowThen = 0;
  let rowLeft = 0;
  let leftBefore = -1;
  // Filtered values and what fed them the row before.
  let knownNow = 0;
  let totalNow = 0;
  let inverseNow = 0;
  let lagSlope = 0;
  let constantSlope = 0;
  let flowSlope = 0;
  let shareSlope = 0;
  let timeSlope = 0;
  let knownFed = 0;
  let totalFed = 0;
  let inverseFed = 0;
  let constantFed = 0;
  let flowFed = 0;
  let shareFed = 0;
  let timeFed = 0;
  const fed = new Float64Array(4);
  const fedCells = new Int32Array(4);
  for (let i = 0; i < count; i++) {
    const begin = since[i]!;
    if (begin === i) {
      row.clear();
      doubt = 1;
      rowThen = i;
      rowLeft = i;
      leftBefore = -1;
      validBefore = false;
      knownNow = totalNow = inverseNow = lagSlope = constantSlope = flowSlope = shareSlope = timeSlope = 0;
    } else {
      const dt = time[i]! - time[i - 1]!;
      if (dt !== dtBefore) {
        dtBefore = dt;
        const ratio = dt / lag;
        keep = Math.exp(-ratio);
        const mean = -Math.expm1(-ratio) / ratio;
        now = 1 - mean;
        before = mean - keep;
        dKeep = (keep * ratio) / lag;
        dBefore = (mean - keep) / lag - dKeep;
      }
    }
    // When the gas now at the sensor left the cylinder.
    const then = time[i]! - constant;
    while (rowThen < i && time[rowThen + 1]! <= then) rowThen++;
    let part = 0;
    let speedThen = 0;
    valid = then >= time[begin]! && i > begin;
    if (valid) {
      const span = Math.min(rowThen, i - 1);
      speedThen = (volume[span + 1]! - volume[span]!) / (time[span + 1]! - time[span]!);
      const left = volume[span]! + speedThen * (then - time[span]!) - flow;
      while (rowLeft < i - 1 && volume[rowLeft + 1]! <= left) rowLeft++;
      valid = left >= volume[begin]!;
      part = (left - volume[rowLeft]!) / (volume[rowLeft + 1]! - volume[rowLeft]!);
    }
    if (valid) {
      const from = leftBefore < 0 ? rowLeft : leftBefore;
      leftBefore = rowLeft;
      valid = unfit[rowLeft + 2]! === unfit[from]!;
    }
    if (begin === i) {
      validBefore = false;
      continue;
    }
    row.fade(keep);
    doubt = keep * doubt + (validBefore ? 0 : before) + (valid ? 0 : now);
    lagSlope = keep * lagSlope + dKeep * totalNow;
    knownNow *= keep;
    totalNow *= keep;
    inverseNow *= keep;
    constantSlope *= keep;
    flowSlope *= keep;
    shareSlope *= keep;
    timeSlope *= keep;
    if (validBefore) {
      for (let k = 0; k < 4; k++) row.add(fedCells[k]!, before * fed[k]!);
      lagSlope += dBefore * totalFed;
      knownNow += before * knownFed;
      totalNow += before * totalFed;
      inverseNow += before * inverseFed;
      constantSlope += before * constantFed;
      flowSlope += before * flowFed;
      shareSlope += before * shareFed;
      timeSlope += before * timeFed;
    }
    if (valid) {
      const a = rowLeft;
      const b = rowLeft + 1;
      const dt = time[b]! - time[a]!;
      const speed = (volume[b]! - volume[a]!) / dt;
      find(x[a]! + part * (x[b]! - x[a]!), y[a]! + part * (y[b]! - y[a]!));
      fed.set(find.weights);
      fedCells.set(find.cells);
      knownFed = known[a]! + part * (known[b]! - known[a]!);
      if (film) knownFed += film.bend[a]! + part * (film.bend[b]! - film.bend[a]!);
      totalFed = cells ? knownFed + find.weigh(cells) : knownFed;
      inverseFed = inverse[a]! + part * (inverse[b]! - inverse[a]!);
      const slope = (mixture[b]! - mixture[a]!) / dt;
      constantFed = (-slope * speedThen) / speed;
      flowFed = -slope / speed;
      if (film) {
        shareFed = film.byShare[a]! + part * (film.byShare[b]! - film.byShare[a]!);
        timeFed = film.byTime[a]! + part * (film.byTime[b]! - film.byTime[a]!);
      }
      for (let k = 0; k < 4; k++) row.add(fedCells[k]!, now * fed[k]!);
      lagSlope -= (dKeep + dBefore) * totalFed;
      knownNow += now * knownFed;
      totalNow += now * totalFed;
      inverseNow += now * inverseFed;
      constantSlope += now * constantFed;
      flowSlope += now * flowFed;
      shareSlope += now * shareFed;
      timeSlope += now * timeFed;
    }
    validBefore = valid;
    if (i < lead || mask[i] !== 0 || Number.isNaN(measured[i])) continue;
    if (doubt > CLEAN) {
      settling++;
      continue;
    }
    row.known = knownNow;
    row.inverse = inverseNow;
    let model = 0;
    if (cells) for (let k = 0; k < row.size; k++) model += row.values[k]! * cells[row.cells[k]!]!;
    row.model = model;
    row.slopes[0] = constantSlope;
    row.slopes[1] = flowSlope;
    row.slopes[2] = lagSlope;
    row.slopes[3] = shareSlope;
    row.slopes[4] = timeSlope;
    visit(i);
  }
  return settling;
}

/** Finds the four cells around a point and their bilinear weights; edges are held. */
export function createFinder(grid: Grid) {
  const xIndex = axisIndex(grid.x);
  const yIndex = axisIndex(grid.y);
  const lastX = xIndex.edges.length - 2;
  const lastY = yIndex.edges.length - 2;
  const right = lastX < 0 ? 0 : grid.xStep;
  const up = lastY < 0 ? 0 : grid.yStep;
  const cells = new Int32Array(4);
  const weights = new Float64Array(4);
  const find = (x: number, y: number): void => {
    let at = 0;
    let u = 0;
    let v = 0;
    if (lastX >= 0) {
      const held = holdOn(xIndex, x);
      const column = Math.min(findBreakpoint(xIndex, held), lastX);
      const edge = xIndex.edges[column]!;
      u = (held - edge) / (xIndex.edges[column + 1]! - edge);
      at = column * right;
    }
    if (lastY >= 0) {
      const held = holdOn(yIndex, y);
      const row = Math.min(findBreakpoint(yIndex, held), lastY);
      const edge = yIndex.edges[row]!;
      v = (held - edge) / (yIndex.edges[row + 1]! - edge);
      at += row * up;
    }
    cells[0] = at;
    cells[1] = at + right;
    cells[2] = at + up;
    cells[3] = at + right + up;
    weights[0] = (1 - u) * (1 - v);
    weights[1] = u * (1 - v);
    weights[2] = (1 - u) * v;
    weights[3] = u * v;
  };
  const weigh = (values: Float64Array): number =>
    weights[0]! * values[cells[0]!]! +
    weights[1]! * values[cells[1]!]! +
    weights[2]! * values[cells[2]!]! +
    weights[3]! * values[cells[3]!]!;
  return Object.assign(find, { cells, weights, weigh });
}
