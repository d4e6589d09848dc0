import { type CellNote, regionOfCells } from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import type { Asked } from "./asked.ts";

/** Goes to the Table leaf with these cells chosen, in the state they were found in. */
export function lookAtCells(desk: Desk, { table, when }: Asked, cells: readonly CellNote[]): void {
  const [first] = cells;
  if (!table || !first) return;
  const chosen = new Set(cells.map(({ at }) => at));
  desk.bench.closeDraft();
  desk.look({
    leaf: "table",
    table: table.id,
    region: regionOfCells(table, (at) => chosen.has(at)),
    cell: first.at,
    after: when === "before" ? "source" : null,
  });
  location.hash = "table";
}
