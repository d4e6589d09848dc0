import type { FuelTable, Range, Region, RegionBox } from "@fuelwright/table-core";

/** A cell by its place in the table: `row` counts rising load, `column` rising rpm, both from 0. */
export interface CellPosition {
  readonly row: number;
  readonly column: number;
}

/** A block of cells between two corners, both included. */
export interface CellBlock {
  readonly anchor: CellPosition;
  readonly focus: CellPosition;
}

/** What is chosen: the block that the keyboard moves (its `focus` has the focus) and further ones beside it. */
export interface GridSelection extends CellBlock {
  readonly also?: readonly CellBlock[];
}

/** A block as half-open ranges of rows and columns. */
export interface BlockBounds {
  readonly row0: number;
  readonly row1: number;
  readonly column0: number;
  readonly column1: number;
}

type Axes = Pick<FuelTable, "rpm" | "load">;

export const oneCell = (at: CellPosition): GridSelection => ({ anchor: at, focus: at });

export function blockBounds({ anchor, focus }: CellBlock): BlockBounds {
  return {
    row0: Math.min(anchor.row, focus.row),
    row1: Math.max(anchor.row, focus.row) + 1,
    column0: Math.min(anchor.column, focus.column),
    column1: Math.max(anchor.column, focus.column) + 1,
  };
}

/** Every block of the selection, the moved one first. */
export const blocksOf = (selection: GridSelection): readonly CellBlock[] => [selection, ...(selection.also ?? [])];

export function isSelected(bounds: readonly BlockBounds[], row: number, column: number): boolean {
  return bounds.some((b) => row >= b.row0 && row < b.row1 && column >= b.column0 && column < b.column1);
}

/** How many different cells are chosen. */
export function selectedCount(selection: GridSelection): number {
  const bounds = blocksOf(selection).map(blockBounds);
  if (bounds.length === 1) return sizeOf(bounds[0]!);
  const cells = new Set<number>();
  for (const b of bounds)
    for (let row = b.row0; row < b.row1; row++)
      for (let column = b.column0; column < b.column1; column++) cells.add(row * 65_536 + column);
  return cells.size;
}

const sizeOf = (b: BlockBounds) => (b.row1 - b.row0) * (b.column1 - b.column0);

/**
 * The selection in rpm and load. A side that spans its whole axis is left out, so that "this row" stays the whole row
 * after a rebin; the whole table is `{}`.
 */
export function regionOfSelection(axes: Axes, selection: GridSelection): Region {
  const boxes = blocksOf(selection).map((block) => boxOf(axes, blockBounds(block)));
  if (boxes.some((box) => !box.rpm && !box.load)) return {};
  const [first, ...also] = boxes;
  return also.length > 0 ? { ...first, also } : first!;
}

function boxOf({ rpm, load }: Axes, b: BlockBounds): RegionBox {
  const allColumns = b.column0 === 0 && b.column1 === rpm.breakpoints.length;
  const allRows = b.row0 === 0 && b.row1 === load.breakpoints.length;
  return {
    ...(!allColumns && { rpm: [rpm.breakpoints[b.column0]!, rpm.breakpoints[b.column1 - 1]!] as Range }),
    ...(!allRows && { load: [load.breakpoints[b.row0]!, load.breakpoints[b.row1 - 1]!] as Range }),
  };
}

/** The selection that covers the breakpoints inside a region's boxes; null if it holds none. */
export function selectionOfRegion(axes: Axes, region: Region): GridSelection | null {
  const bare = !region.rpm && !region.load && (region.also?.length ?? 0) > 0;
  const boxes: RegionBox[] = [...(bare ? [] : [region]), ...(region.also ?? [])];
  const blocks = boxes.map((box) => blockOf(axes, box)).filter((block) => block !== null);
  const [first, ...also] = blocks;
  if (!first) return null;
  return also.length > 0 ? { ...first, also } : first;
}

function blockOf({ rpm, load }: Axes, box: RegionBox): CellBlock | null {
  const columns = inside(rpm.breakpoints, box.rpm);
  const rows = inside(load.breakpoints, load.quantity === "single-row" ? undefined : box.load);
  if (!columns || !rows) return null;
  return { anchor: { row: rows[0], column: columns[0] }, focus: { row: rows[1], column: columns[1] } };
}

/** First and last index within the range. */
function inside(breakpoints: readonly number[], range: Range | undefined): [number, number] | null {
  if (!range) return [0, breakpoints.length - 1];
  const first = breakpoints.findIndex((value) => value >= range[0]);
  let last = breakpoints.length - 1;
  while (last >= 0 && breakpoints[last]! > range[1]) last--;
  return first >= 0 && last >= first ? [first, last] : null;
}

/** The selection moved into a table of this size, as when another table is shown. */
export function clampSelection({ rpm, load }: Axes, selection: GridSelection): GridSelection {
  const lastRow = load.breakpoints.length - 1;
  const lastColumn = rpm.breakpoints.length - 1;
  const fits = (at: CellPosition) => at.row <= lastRow && at.column <= lastColumn;
  if (blocksOf(selection).every((block) => fits(block.anchor) && fits(block.focus))) return selection;
  const clamp = (at: CellPosition) => ({ row: Math.min(at.row, lastRow), column: Math.min(at.column, lastColumn) });
  return { anchor: clamp(selection.anchor), focus: clamp(selection.focus) };
}
