import type { FuelTable } from "../values/fuel-table.ts";
import type { Region, RegionBox } from "../values/region.ts";

/**
 * The region that holds exactly the chosen cells of this table, or null if none is chosen.
 *
 * Neighbouring cells are joined to boxes: runs along rpm, then equal runs one above the other. Each box runs from its
 * first to its last breakpoint. On a one-row table the boxes leave out load. O(cells).
 *
 * @param chosen - whether the cell at this row-major place belongs
 * @example regionOfCells(table, (at) => table.cells[at]! > 18)
 */
export function regionOfCells(table: Pick<FuelTable, "rpm" | "load">, chosen: (at: number) => boolean): Region | null {
  const boxes = boxesOf(table.load.breakpoints.length, table.rpm.breakpoints.length, chosen);
  const toBox = ({ first, last, from, to }: CellBox): RegionBox => {
    const rpm = [table.rpm.breakpoints[from]!, table.rpm.breakpoints[to]!] as const;
    if (table.load.quantity === "single-row") return { rpm };
    return { rpm, load: [table.load.breakpoints[first]!, table.load.breakpoints[last]!] };
  };
  const [main, ...more] = boxes.map(toBox);
  if (!main) return null;
  return more.length > 0 ? { ...main, also: more } : main;
}

interface CellBox {
  readonly first: number;
  last: number;
  readonly from: number;
  readonly to: number;
}

function boxesOf(rows: number, columns: number, chosen: (at: number) => boolean): CellBox[] {
  const boxes: CellBox[] = [];
  let open: CellBox[] = [];
  for (let row = 0; row < rows; row++) {
    const next: CellBox[] = [];
    for (let column = 0; column < columns; column++) {
      if (!chosen(row * columns + column)) continue;
      const from = column;
      while (column + 1 < columns && chosen(row * columns + column + 1)) column++;
      const under = open.find((box) => box.from === from && box.to === column);
      const box = under ?? { first: row, last: row, from, to: column };
      box.last = row;
      if (!under) boxes.push(box);
      next.push(box);
    }
    open = next;
  }
  return boxes;
}
