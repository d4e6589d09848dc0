/** What a mark says of a cell; each kind has a shape of its own, so that none hangs on colour. */
export type MarkKind = "ceiling" | "estimate" | "locked" | "evidence";

/**
 * Something to be known about one cell.
 *
 * `ceiling` is drawn as a hatch, `estimate` as a dotted underline, `locked` as a corner tick, `evidence` as a dot.
 */
export interface CellMark {
  /** The cell, row-major [load][rpm]. */
  readonly at: number;
  readonly kind: MarkKind;
  /** Said in the cell's accessible name and in its tip: "above the planning ceiling, 91 % duty". */
  readonly words: string;
}

/** The marks of each marked cell. */
export function marksByCell(marks: readonly CellMark[]): ReadonlyMap<number, readonly CellMark[]> {
  const byCell = new Map<number, CellMark[]>();
  for (const mark of marks) {
    const there = byCell.get(mark.at);
    if (there) there.push(mark);
    else byCell.set(mark.at, [mark]);
  }
  return byCell;
}

/** Whether two lists say the same. */
export function sameMarks(a: readonly CellMark[], b: readonly CellMark[]): boolean {
  if (a === b) return true;
  const same = (x: CellMark, y: CellMark) => x.at === y.at && x.kind === y.kind && x.words === y.words;
  return a.length === b.length && a.every((mark, at) => same(mark, b[at]!));
}
