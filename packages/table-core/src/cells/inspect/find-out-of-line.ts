import type { FuelTable } from "../../values/fuel-table.ts";
import { percentBase } from "../percent-change.ts";
import { type Finding, finding, median, sayPercent, sayPlace, type Way, waysOf } from "./finding.ts";

/** From a median absolute deviation to a standard deviation, for a normal distribution. */
const TO_DEVIATION = 1.4826;

/** However evenly a table runs, so many percent of scatter are usual. */
const LEAST_USUAL_PERCENT = 0.05;

/** With fewer lines side by side there is no telling what is usual at one breakpoint. */
const LEAST_LINES = 5;

/**
 * Cells that stand out of line with their neighbours.
 *
 * Along each axis a cell is compared with the straight line between its two neighbours (its second difference, in
 * percent), less what is usual at that breakpoint: the median over the other axis, where there are five or more lines.
 * How much is too much is counted in robust deviations of all these along that axis, 1.4826 times their median absolute
 * deviation (Hampel 1974). A cell is out of line if it is so along both axes and to the same side, or, on the rim, along
 * the one axis there is. It must also draw its neighbours' own differences to the other side, by as much as one cell
 * does: the edge of a plateau and a bend do not. Corners have no two neighbours, and are not judged.
 *
 * @param deviations - how many robust deviations are too many
 * @param leastPercent - smaller departures are left alone, however smooth the table is
 */
export function findOutOfLine(table: FuelTable, deviations: number, leastPercent: number): Finding[] {
  const axes = waysOf(table).map((way) => departures(table, way));
  const found: { at: number; times: number; percent: number }[] = [];
  for (let at = 0; at < table.cells.length; at++) {
    const judged = axes.filter(({ percent }) => !Number.isNaN(percent[at]!));
    if (judged.length === 0) continue;
    const percents = judged.map(({ percent }) => percent[at]!);
    const percent = percents.reduce((a, b) => (Math.abs(a) < Math.abs(b) ? a : b));
    const times = Math.min(...judged.map((axis) => Math.abs(axis.percent[at]!) / axis.usual));
    if (times <= deviations || Math.abs(percent) < leastPercent) continue;
    if (!percents.every((other) => Math.sign(other) === Math.sign(percent))) continue;
    if (judged.every((axis) => isSpike(axis, at))) found.push({ at, times, percent });
  }
  return found
    .sort((a, b) => b.times - a.times || a.at - b.at)
    .map(({ at, times, percent }) => {
      const reason =
        `${sayPlace(table, [at])} is ${sayPercent(percent)} ${percent > 0 ? "above" : "below"} what its neighbours ` +
        `suggest, ${times.toFixed(0)} times the usual scatter of this table.`;
      return finding(table, "out-of-line", [at], reason, { kind: "fill-cells", widen: false });
    });
}

interface Departures {
  readonly way: Way;
  /** How far each cell is off the line between its neighbours along this axis; NaN at the ends. */
  readonly percent: Float64Array;
  /** The robust deviation of these. */
  readonly usual: number;
}

function departures(table: FuelTable, way: Way): Departures {
  const { cells, quantity } = table;
  const { points, count, lines, stride, lineStride } = way;
  const percent = new Float64Array(cells.length).fill(Number.NaN);
  // Percents of next to nothing say nothing.
  const leastBase = 0.1 * median(Array.from(cells, (cell) => Math.abs(percentBase(quantity, cell))));
  const all: number[] = [];
  for (let i = 1; i < count - 1; i++) {
    const upper = shareOfUpper(points, i);
    const places = Array.from({ length: lines }, (_, line) => line * lineStride + i * stride);
    const off = places.map((at) => {
      const straight = cells[at - stride]! * (1 - upper) + cells[at + stride]! * upper;
      const base = Math.max(Math.abs(percentBase(quantity, straight)), leastBase);
      return base > 0 ? ((cells[at]! - straight) / base) * 100 : 0;
    });
    const usualHere = lines >= LEAST_LINES ? median(off) : 0;
    places.forEach((at, line) => {
      percent[at] = off[line]! - usualHere;
      all.push(percent[at]!);
    });
  }
  const middle = median(all);
  const robust = TO_DEVIATION * median(all.map((value) => Math.abs(value - middle)));
  return { way, percent, usual: Math.max(robust, LEAST_USUAL_PERCENT) };
}

/** How much the upper neighbour counts on the straight line through point i's neighbours. */
const shareOfUpper = (points: readonly number[], i: number) =>
  (points[i]! - points[i - 1]!) / (points[i + 1]! - points[i - 1]!);

/** Whether the neighbours' departures are what one cell alone draws them to, give or take half of that. */
function isSpike({ way, percent }: Departures, at: number): boolean {
  const { points, count, stride } = way;
  const i = Math.floor(at / stride) % count;
  const drawn = (neighbour: number, share: number) => {
    const ratio = -neighbour / percent[at]!;
    return ratio > 0.5 * share && ratio < 1.5 * share;
  };
  const below = i < 2 || drawn(percent[at - stride]!, shareOfUpper(points, i - 1));
  const above = i > count - 3 || drawn(percent[at + stride]!, 1 - shareOfUpper(points, i + 1));
  return below && above;
}
