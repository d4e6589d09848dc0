import type { FuelTable } from "../../values/fuel-table.ts";
import { percentBase } from "../percent-change.ts";
import { type Finding, finding, median, sayPercent, sayPlace, type Way, waysOf } from "./finding.ts";

/**
 * Jumps between neighbouring cells: the difference in percent of their mean, where that is more than `percent` and more
 * than `times` the median of all neighbours along the same axis. So a table that rises steeply everywhere has none.
 *
 * Jumps between the same two breakpoints that lie side by side are one finding.
 *
 * @param spikes - cells that stand out of line, whose jumps are told already
 */
export function findSteps(table: FuelTable, percent: number, times: number, spikes: ReadonlySet<number>): Finding[] {
  return waysOf(table).flatMap((way) => {
    const placeOf = (line: number, i: number) => line * way.lineStride + i * way.stride;
    const jump = (line: number, i: number) => jumpPercent(table, placeOf(line, i), placeOf(line, i + 1));
    const all: number[] = [];
    for (let i = 0; i + 1 < way.count; i++)
      for (let line = 0; line < way.lines; line++) all.push(Math.abs(jump(line, i)));
    const limit = Math.max(percent, times * median(all));
    const isJump = (line: number, i: number) =>
      Math.abs(jump(line, i)) > limit && !spikes.has(placeOf(line, i)) && !spikes.has(placeOf(line, i + 1));
    const findings: Finding[] = [];
    for (let i = 0; i + 1 < way.count; i++)
      for (let line = 0; line < way.lines; line++) {
        const cells: number[] = [];
        let greatest = 0;
        for (; line < way.lines && isJump(line, i); line++) {
          cells.push(placeOf(line, i), placeOf(line, i + 1));
          if (Math.abs(jump(line, i)) > Math.abs(greatest)) greatest = jump(line, i);
        }
        if (cells.length > 0) findings.push(stepFinding(table, cells, greatest, way, i));
      }
    return findings;
  });
}

function jumpPercent(table: FuelTable, from: number, to: number): number {
  const [a, b] = [table.cells[from]!, table.cells[to]!];
  const mean = (Math.abs(percentBase(table.quantity, a)) + Math.abs(percentBase(table.quantity, b))) / 2;
  return a === b ? 0 : ((b - a) / mean) * 100;
}

function stepFinding(table: FuelTable, cells: readonly number[], greatest: number, way: Way, i: number): Finding {
  const reason =
    `From ${way.points[i]} to ${way.points[i + 1]} ${way.unit} the cells ${greatest > 0 ? "rise" : "fall"} ` +
    `by ${cells.length > 2 ? "up to " : ""}${sayPercent(greatest)} at once (${sayPlace(table, cells)}).`;
  return finding(table, "step", cells, reason, { kind: "smooth-cells", widen: true });
}
