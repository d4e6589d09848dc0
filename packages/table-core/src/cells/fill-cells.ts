import type { FuelTable } from "../values/fuel-table.ts";
import { editWeights, type Region } from "../values/region.ts";
import { requireOneOf } from "../values/require.ts";
import { editCells } from "./edit-cells.ts";
import { noRim } from "./fill-rim.ts";
import { stretchMembrane } from "./stretch-membrane.ts";

/** What {@link fillCells} takes. */
export interface FillCells {
  /** Need not be a rectangle: its further boxes count as well. */
  readonly region: Region;
  /** `both` (default): a membrane stretched from all of the rim; `rpm` or `load`: straight lines along that side alone. */
  readonly along?: "rpm" | "load" | "both";
}

/**
 * The table with the region's cells drawn in from the cells around it, whatever they held.
 *
 * Along one side, each run of cells is a straight line from the cell before it to the one after. Along both, the cells
 * hang as a membrane from the rim: each is the mean of its neighbours, weighted by how near they lie. Either way no cell
 * passes the lowest and the highest of its rim, and a plane is filled in as a plane. At an edge of the table, where there
 * is no rim on one side, the other side's is held. Locked cells stay and count as rim; feathered cells go part of the way.
 * For a fill that carries slopes on from the rim, smooth the region with a weight of 0.
 *
 * @example fillCells(table, { region: { rpm: [3000, 4500], load: [60, 80] } })
 * @throws FuelwrightError `fill-no-rim` naming a cell that no rim reaches, `bad-region`, `unknown-choice`
 */
export function fillCells(table: FuelTable, { region, along }: FillCells): FuelTable {
  const way = requireOneOf("fillCells: along", along ?? "both", ["rpm", "load", "both"]);
  const inside = editWeights(table, region).map((weight) => (weight > 0 ? 1 : 0));
  if (!inside.includes(1)) return table;
  const filled = way === "both" ? stretchMembrane(table, inside) : drawLines(table, inside, way);
  return editCells(table, region, "fillCells", (_, at) => filled[at]);
}

/** Each run of cells inside as a line between the cells at its ends, or level with the one end it has. */
function drawLines(table: FuelTable, inside: ArrayLike<number>, way: "rpm" | "load"): Float64Array {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const points = table[way].breakpoints;
  const [lines, lineStep, step] = way === "rpm" ? [rows, columns, 1] : [columns, 1, columns];
  const cells = table.cells.slice();
  for (let line = 0; line < lines; line++) {
    const at = (i: number) => line * lineStep + i * step;
    for (let from = 0; from < points.length; from++) {
      if (!inside[at(from)]) continue;
      let to = from;
      while (to < points.length && inside[at(to)]) to++;
      if (from === 0 && to === points.length)
        throw noRim(table, at(from), `in its ${way === "rpm" ? "row" : "column"}`);
      for (let i = from; i < to; i++) {
        const before = cells[at(from - 1)]!;
        const after = cells[at(to)]!;
        if (from === 0) cells[at(i)] = after;
        else if (to === points.length) cells[at(i)] = before;
        else {
          const share = (points[i]! - points[from - 1]!) / (points[to]! - points[from - 1]!);
          const value = before + share * (after - before);
          cells[at(i)] = Math.min(Math.max(value, Math.min(before, after)), Math.max(before, after));
        }
      }
      from = to;
    }
  }
  return cells;
}
