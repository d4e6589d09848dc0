import { FuelwrightError } from "../values/errors.ts";
import { cellPlace, type FuelTable } from "../values/fuel-table.ts";

/** The lowest and highest cell of a rim. */
export interface Rim {
  low: number;
  high: number;
}

/** For each cell inside, the rim of all that hang together with it. @throws FuelwrightError `fill-no-rim` */
export function requireRim(table: FuelTable, inside: ArrayLike<number>): readonly (Rim | undefined)[] {
  const columns = table.rpm.breakpoints.length;
  const groups = new Array<Rim | undefined>(table.cells.length);
  for (let first = 0; first < table.cells.length; first++) {
    if (!inside[first] || groups[first]) continue;
    const group: Rim = { low: Number.POSITIVE_INFINITY, high: Number.NEGATIVE_INFINITY };
    groups[first] = group;
    const waiting = [first];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      const column = at % columns;
      for (const other of [column > 0 ? at - 1 : -1, column + 1 < columns ? at + 1 : -1, at - columns, at + columns]) {
        if (other < 0 || other >= table.cells.length) continue;
        if (!inside[other]) {
          group.low = Math.min(group.low, table.cells[other]!);
          group.high = Math.max(group.high, table.cells[other]!);
        } else if (!groups[other]) {
          groups[other] = group;
          waiting.push(other);
        }
      }
    }
    if (group.low > group.high) throw noRim(table, first, "beside those it hangs together with");
  }
  return groups;
}

/** The error for a cell that has nothing to be filled in from. */
export function noRim(table: FuelTable, at: number, where: string): FuelwrightError {
  return new FuelwrightError(
    "fill-no-rim",
    `fillCells: the cell at ${cellPlace(table, at)} needs a cell outside the region ${where}, got none; ` +
      "choose a smaller region, or fill along the other side",
    { at },
  );
}
