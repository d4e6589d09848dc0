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
  /** Delay that is always there, s. */
  readonly constant: number;
  /** Delay at the reference flow that grows as the flow falls, s. */
  readonly flow: number;
  /** The sensor's time constant, s. */
  readonly lag: number;
  /** 0..1 of the fuel. */
  readonly filmShare: number;
  /** Time constant of the film, s. */
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

  /** Σ values·c. */
  weigh(c: Float64Array): number {
    let sum = 0;
    for (let k = 0; k < this.size; k++) sum += this.values[k]! * c[this.cells[k]!]!;
    return sum;
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

/** The exact step of a first-order lag over `dt` seconds, for an input that is linear in between. */
class LagStep {
  /** What is left of the old value, and the shares of the input at the beginning and at the end. */
  keep = 0;
  before = 0;
  now = 0;
  /** Slopes of `keep` and `before` by the time constant; that of `now` makes their sum 0. */
  keepSlope = 0;
  beforeSlope = 0;
  private dt = -1;

  set(dt: number, time: number): void {
    if (dt === this.dt) return;
    this.dt = dt;
    const ratio = dt / time;
    const mean = -Math.expm1(-ratio) / ratio;
    this.keep = Math.exp(-ratio);
    this.now = 1 - mean;
    this.before = mean - this.keep;
    this.keepSlope = (this.keep * ratio) / time;
    this.beforeSlope = (mean - this.keep) / time - this.keepSlope;
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
  const step = new LagStep();
  let v = 0;
  let slope = 0;
  for (let i = 0; i < count; i++) {
    const u = fuel[i]!;
    if (since[i] === i) {
      v = u;
      slope = 0;
    } else {
      step.set(series.time[i]! - series.time[i - 1]!, time);
      const past = fuel[i - 1]!;
      slope =
        step.keep * slope + step.keepSlope * v + step.beforeSlope * past - (step.keepSlope + step.beforeSlope) * u;
      v = step.keep * v + step.before * past + step.now * u;
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

/** Finds the rows between which the gas that the sensor sees now left the cylinder. Rows must be asked for in order. */
class Departure {
  /** The row before, and the share of the way to the next. */
  row = 0;
  part = 0;
  /** Flow when the gas reached the sensor over flow when it left: how far the departure moves with the constant delay. */
  stretch = 1;
  /** Flow when it left. */
  speed = 1;
  private seen = 0;
  private last = -1;

  constructor(
    private readonly series: Series,
    private readonly constant: number,
    private readonly flow: number,
  ) {}

  restart(at: number): void {
    this.seen = at;
    this.row = at;
    this.last = -1;
  }

  /** Whether the gas seen at row `at` is known: it left after the stretch began, and the engine was fit. */
  find(at: number): boolean {
    const { time, volume, since, unfit } = this.series;
    const begin = since[at]!;
    const then = time[at]! - this.constant;
    while (this.seen < at - 1 && time[this.seen + 1]! <= then) this.seen++;
    if (then < time[begin]!) return false;
    const { seen } = this;
    const speedSeen = (volume[seen + 1]! - volume[seen]!) / (time[seen + 1]! - time[seen]!);
    const left = volume[seen]! + speedSeen * (then - time[seen]!) - this.flow;
    if (left < volume[begin]!) return false;
    let { row } = this;
    while (row < at - 1 && volume[row + 1]! <= left) row++;
    const step = volume[row + 1]! - volume[row]!;
    this.row = row;
    this.part = (left - volume[row]!) / step;
    this.speed = step / (time[row + 1]! - time[row]!);
    this.stretch = speedSeen / this.speed;
    const from = this.last < 0 ? row : this.last;
    this.last = row;
    return unfit[row + 2] === unfit[from];
  }
}

/** Places of what passes through the lag beside the cells' weights. */
const KNOWN = 0;
const TOTAL = 1;
const INVERSE = 2;
const SLOPES = 3;
const PASSING = 7;

/**
 * Goes through a series and calls `visit` for each usable reading, with `row` filled for it.
 *
 * @param cells - corrections in the grid's numbering, for `row.model` and the slopes; null: all zero, and no slopes
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
  const { count, lead, time, x, y, known, measured, mask, since, inverse } = series;
  const film = series.hasFuel ? filmBend(series, dynamics.filmShare, dynamics.filmTime) : null;
  const find = createFinder(grid);
  const mixture = cells ? mixtureInCylinder(series, film, find, cells) : null;
  const departure = new Departure(series, dynamics.constant, dynamics.flow);
  const lag = new LagStep();
  const passing = mixture ? PASSING : SLOPES;
  const seen = new Float64Array(PASSING);
  let fed = new Float64Array(PASSING);
  let fedBefore = new Float64Array(PASSING);
  let weights = new Float64Array(4);
  let weightsBefore = new Float64Array(4);
  const places = new Int32Array(4);
  let validBefore = false;
  let doubt = 1;
  let lagSlope = 0;
  let settling = 0;
  for (let i = 0; i < count; i++) {
    if (since[i] === i) {
      row.clear();
      departure.restart(i);
      seen.fill(0);
      doubt = 1;
      lagSlope = 0;
      validBefore = false;
      continue;
    }
    lag.set(time[i]! - time[i - 1]!, dynamics.lag);
    const { keep, before, now } = lag;
    const valid = departure.find(i);
    row.fade(keep);
    lagSlope = keep * lagSlope + lag.keepSlope * seen[TOTAL]!;
    doubt = keep * doubt + (validBefore ? 0 : before) + (valid ? 0 : now);
    if (valid) {
      const { row: a, part, speed } = departure;
      const b = a + 1;
      const between = (values: Float64Array) => values[a]! + part * (values[b]! - values[a]!);
      find(between(x), between(y));
      weights.set(find.weights);
      fed[KNOWN] = between(known) + (film ? between(film.bend) : 0);
      fed[TOTAL] = fed[KNOWN]! + (cells ? find.weigh(cells) : 0);
      fed[INVERSE] = between(inverse);
      if (mixture) {
        const slope = (mixture[b]! - mixture[a]!) / (time[b]! - time[a]!);
        fed[SLOPES] = -slope * departure.stretch;
        fed[SLOPES + 1] = -slope / speed;
        fed[SLOPES + 2] = film ? between(film.byShare) : 0;
        fed[SLOPES + 3] = film ? between(film.byTime) : 0;
      }
    } else {
      fed.fill(0);
      weights.fill(0);
    }
    if (!validBefore) fedBefore.fill(0);
    lagSlope += lag.beforeSlope * fedBefore[TOTAL]! - (lag.keepSlope + lag.beforeSlope) * fed[TOTAL]!;
    for (let k = 0; k < passing; k++) seen[k] = keep * seen[k]! + before * fedBefore[k]! + now * fed[k]!;
    if (valid && validBefore && places[0] === find.cells[0])
      for (let k = 0; k < 4; k++) row.add(places[k]!, before * weightsBefore[k]! + now * weights[k]!);
    else {
      if (validBefore) for (let k = 0; k < 4; k++) row.add(places[k]!, before * weightsBefore[k]!);
      if (valid) for (let k = 0; k < 4; k++) row.add(find.cells[k]!, now * weights[k]!);
    }
    if (valid) places.set(find.cells);
    [fed, fedBefore] = [fedBefore, fed];
    [weights, weightsBefore] = [weightsBefore, weights];
    validBefore = valid;
    if (i < lead || mask[i] !== 0 || Number.isNaN(measured[i])) continue;
    if (doubt > CLEAN) {
      settling++;
      continue;
    }
    row.known = seen[KNOWN]!;
    row.inverse = seen[INVERSE]!;
    row.model = cells ? row.weigh(cells) : 0;
    row.slopes[0] = seen[SLOPES]!;
    row.slopes[1] = seen[SLOPES + 1]!;
    row.slopes[2] = lagSlope;
    row.slopes[3] = seen[SLOPES + 2]!;
    row.slopes[4] = seen[SLOPES + 3]!;
    visit(i);
  }
  return settling;
}

/** The logarithm of the cylinder's mixture at each row, for its slope in time. */
function mixtureInCylinder(
  { count, x, y, known }: Series,
  film: FilmColumns | null,
  find: ReturnType<typeof createFinder>,
  cells: Float64Array,
): Float64Array {
  const mixture = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    find(x[i]!, y[i]!);
    mixture[i] = known[i]! + (film ? film.bend[i]! : 0) + find.weigh(cells);
  }
  return mixture;
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
