import type { FuelTable } from "../../values/fuel-table.ts";
import { percentBase } from "../percent-change.ts";
import { type Finding, finding, sayPercent, sayPlace, shapeOf, touchingGroups } from "./finding.ts";

/**
 * Runs along load in which the cells go against the trend, by `percent` or more from the first to the last of the run.
 *
 * Runs side by side are one finding.
 *
 * @param trend - which way the cells should go as load rises
 * @param spikes - cells that stand out of line; a run that is only the way to or from one is told already
 */
export function findAgainstLoad(
  table: FuelTable,
  trend: "rising" | "falling",
  percent: number,
  spikes: ReadonlySet<number>,
): Finding[] {
  const shape = shapeOf(table);
  const sign = trend === "rising" ? 1 : -1;
  const against = (at: number) =>
    sign * (table.cells[at + shape.columns]! - table.cells[at]!) < 0 &&
    !spikes.has(at) &&
    !spikes.has(at + shape.columns);
  /** The whole run's change in percent, by cell. */
  const changes = new Map<number, number>();
  for (let column = 0; column < shape.columns; column++)
    for (let row = 0; row + 1 < shape.rows; row++) {
      const first = row;
      while (row + 1 < shape.rows && against(row * shape.columns + column)) row++;
      if (row === first) continue;
      const [a, b] = [first, row].map((r) => table.cells[r * shape.columns + column]!) as [number, number];
      const change = ((b - a) / Math.abs(percentBase(table.quantity, a))) * 100;
      if (Math.abs(change) < percent) continue;
      for (let r = first; r <= row; r++) changes.set(r * shape.columns + column, change);
    }
  return touchingGroups(shape, new Set(changes.keys())).map((cells) => {
    const most = Math.max(...cells.map((at) => Math.abs(changes.get(at)!)));
    const reason = `At ${sayPlace(table, cells)} the cells ${trend === "rising" ? "fall" : "rise"} by ${sayPercent(most)} while load rises.`;
    return finding(table, "against-load", cells, reason, { kind: "smooth-cells", widen: true });
  });
}
