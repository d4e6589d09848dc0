import { margins, type Paper, papers } from "./paper.ts";

/** Sizes in mm as the card is set: an em of a figure, an em of what stands under it, the blank in a cell. */
const set = { figure: 2.65, small: 2.19, blank: 2.1 } as const;

/** Widths of letters in ems where they are not a digit's, in the widest of the fonts that the card may be set in. */
const ems: Readonly<Record<string, number>> = {
  ".": 0.32,
  ",": 0.32,
  " ": 0.32,
  "−": 0.84,
  "+": 0.84,
  "~": 0.84,
  "!": 0.4,
};
const DIGIT = 0.65;

const widthOf = (text: string) => [...text].reduce((sum, letter) => sum + (ems[letter] ?? DIGIT), 0);

/** How wide a table's columns want to be, by the longest that stands in any of them. */
export interface ColumnTexts {
  readonly paper: Paper;
  readonly columns: number;
  /** Figures and heads. */
  readonly figures: readonly string[];
  /** What stands under figures. */
  readonly small: readonly string[];
  /** What stands at the head of rows. */
  readonly heads: readonly string[];
}

const widest = (texts: readonly string[]) => texts.reduce((most, text) => Math.max(most, widthOf(text)), 0);

/** How wide a cell is set, in mm: room for whatever stands in any of them. */
export const cellWidth = ({ figures, small }: Pick<ColumnTexts, "figures" | "small">): number =>
  Math.max(widest(figures) * set.figure, widest(small) * set.small) + set.blank;

/**
 * How a table's columns are broken into blocks that fit the paper: as few as possible, and as even as possible.
 *
 * @returns the columns from…to (exclusive) of each block
 * @example columnBlocks({ paper: "a4", columns: 40, figures: ["12.34"], small: [], heads: ["100"] }) // [[0, 14], [14, 27], [27, 40]]
 */
export function columnBlocks({ paper, columns, figures, small, heads }: ColumnTexts) {
  const free = papers[paper].widthMm - 2 * margins.side - widest(heads) * set.figure - set.blank;
  const most = Math.max(1, Math.floor(free / cellWidth({ figures, small })));
  const count = Math.ceil(columns / most);
  return Array.from(
    { length: count },
    (_, at) => [Math.round((at * columns) / count), Math.round(((at + 1) * columns) / count)] as const,
  );
}
