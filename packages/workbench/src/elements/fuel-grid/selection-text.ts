import { exactFigure } from "./cell-display.ts";
import type { GridLayout } from "./grid-layout.ts";
import { type BlockBounds, blockBounds, blocksOf, type GridSelection, isSelected } from "./grid-selection.ts";
import type { GridView } from "./grid-view.ts";

/**
 * The selection as tab-separated text in the order of the screen, shown unit, full precision.
 *
 * Of several blocks the rows and columns that they touch, with cells that belong to none left blank: so that each value
 * stays in line with its breakpoints.
 *
 * @param axes - adds a first line with the columns' breakpoints and a first cell in each line with the row's
 */
export function selectionText(
  { table, display, layout }: Pick<GridView, "table" | "display" | "layout">,
  selection: GridSelection,
  axes: boolean,
): string {
  const blocks = blocksOf(selection).map(blockBounds);
  const touched = (at: (b: BlockBounds) => boolean) => blocks.some(at);
  const whole = { row0: 0, row1: layout.rows, column0: 0, column1: layout.columns };
  const order = screenOrder(layout, whole);
  const rows = order.rows.filter((row) => touched((b) => row >= b.row0 && row < b.row1));
  const columns = order.columns.filter((column) => touched((b) => column >= b.column0 && column < b.column1));
  const lines = rows.map((row) => {
    const cells = columns.map((column) =>
      isSelected(blocks, row, column) ? exactFigure(display, table.cells[row * layout.columns + column]!) : "",
    );
    return axes ? [String(table.load.breakpoints[row]), ...cells] : cells;
  });
  if (axes) lines.unshift(["", ...columns.map((column) => String(table.rpm.breakpoints[column]))]);
  return lines.map((line) => line.join("\t")).join("\n");
}

/** The block's rows from the top of the screen and its columns from the left. */
export function screenOrder(layout: GridLayout, b: BlockBounds): { rows: number[]; columns: number[] } {
  const rows = Array.from({ length: b.row1 - b.row0 }, (_, at) => b.row0 + at);
  const columns = Array.from({ length: b.column1 - b.column0 }, (_, at) => b.column0 + at);
  if (!layout.flipLoad) rows.reverse();
  if (layout.flipRpm) columns.reverse();
  return { rows, columns };
}
