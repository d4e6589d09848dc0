import type { CellPosition } from "./grid-selection.ts";

/** Half-open ranges of columns and rows of the screen. */
export interface ScreenWindow {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** A cell's place on the screen: `x` from the left, `y` from the top, both from 0. */
export interface ScreenCell {
  readonly x: number;
  readonly y: number;
}

/** How the table lies on the screen, in cells and px: rpm to the right and load upward unless flipped. */
export class GridLayout {
  constructor(
    readonly columns: number,
    readonly rows: number,
    readonly flipRpm: boolean,
    readonly flipLoad: boolean,
    readonly cellWidth: number,
    readonly cellHeight: number,
  ) {}

  get width(): number {
    return this.columns * this.cellWidth;
  }

  get height(): number {
    return this.rows * this.cellHeight;
  }

  /** The table's column at a column of the screen, and the other way round. */
  column(x: number): number {
    return this.flipRpm ? this.columns - 1 - x : x;
  }

  /** The table's row at a row of the screen, and the other way round. */
  row(y: number): number {
    return this.flipLoad ? y : this.rows - 1 - y;
  }

  screen({ row, column }: CellPosition): ScreenCell {
    return { x: this.column(column), y: this.row(row) };
  }

  position({ x, y }: ScreenCell): CellPosition {
    return { row: this.row(y), column: this.column(x) };
  }

  /** Row-major index of a cell in the table. */
  at(x: number, y: number): number {
    return this.row(y) * this.columns + this.column(x);
  }

  /** The cell nearest to a point in px from the top left of the cells. */
  nearest(left: number, top: number): ScreenCell {
    const clamp = (value: number, count: number) => Math.max(0, Math.min(count - 1, Math.floor(value)));
    return { x: clamp(left / this.cellWidth, this.columns), y: clamp(top / this.cellHeight, this.rows) };
  }

  /** Whether the same cells lie in the same order; sizes may differ. */
  sameOrder(other: GridLayout): boolean {
    return (
      this.columns === other.columns &&
      this.rows === other.rows &&
      this.flipRpm === other.flipRpm &&
      this.flipLoad === other.flipLoad
    );
  }
}

/** Windows start and end on multiples of this, so that scrolling by a cell redraws nothing. */
export const CHUNK = 8;

/** The cells to draw for a part in view (px from the top left of the cells), with some to spare around it. */
export function windowFor(
  layout: GridLayout,
  part: { left: number; top: number; width: number; height: number },
): ScreenWindow {
  const range = (from: number, size: number, cell: number, count: number): [number, number] => {
    const first = Math.floor((from / cell - 1) / CHUNK) * CHUNK;
    const last = Math.ceil(((from + size) / cell + 1) / CHUNK) * CHUNK;
    return [Math.max(0, Math.min(first, count)), Math.max(0, Math.min(last, count))];
  };
  const [x0, x1] = range(part.left, part.width, layout.cellWidth, layout.columns);
  const [y0, y1] = range(part.top, part.height, layout.cellHeight, layout.rows);
  return { x0, x1, y0, y1 };
}

export const sameWindow = (a: ScreenWindow, b: ScreenWindow): boolean =>
  a.x0 === b.x0 && a.x1 === b.x1 && a.y0 === b.y0 && a.y1 === b.y1;
