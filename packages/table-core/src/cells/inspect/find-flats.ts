import type { FuelTable } from "../../values/fuel-table.ts";
import { type Finding, finding, sayPlace, sayValue, shapeOf, touchingGroups } from "./finding.ts";

/**
 * Patches of `least` or more touching cells that all hold the same value, unless the whole table does.
 *
 * Such a patch was often never filled in, or stands at a limit.
 */
export function findFlats(table: FuelTable, least: number): Finding[] {
  const shape = shapeOf(table);
  const all = new Set(table.cells.keys());
  return touchingGroups(shape, all, (a, b) => table.cells[a] === table.cells[b])
    .filter((cells) => cells.length >= least && cells.length < table.cells.length)
    .map((cells) => {
      const value = table.cells[cells[0]!]!;
      const limit = value === table.storage?.max ? "most" : value === table.storage?.min ? "least" : null;
      const why = limit
        ? `the ${limit} that the controller stores`
        : "perhaps they were never filled in, or were cut off";
      const reason = `${cells.length} neighbouring cells all hold ${sayValue(table, value)} (${sayPlace(table, cells)}); ${why}.`;
      return finding(table, "flat", cells, reason, remedyFor(cells, shape));
    });
}

/** A patch with cells all round it is filled from them; one that reaches the edge has none there. */
function remedyFor(cells: readonly number[], { rows, columns }: { rows: number; columns: number }) {
  const inside = cells.every((at) => {
    const [row, column] = [Math.floor(at / columns), at % columns];
    return row > 0 && row < rows - 1 && column > 0 && column < columns - 1;
  });
  return inside ? ({ kind: "fill-cells", widen: false } as const) : ({ kind: "smooth-cells", widen: true } as const);
}
