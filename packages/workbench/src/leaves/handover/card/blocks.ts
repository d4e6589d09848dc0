import type { Picture } from "@fuelwright/table-core";

/** How a sentence is meant: `warns` stands out on any printer, `quiet` is said small. */
export type Tone = "plain" | "quiet" | "warns";

export interface Sentence {
  readonly text: string;
  readonly tone: Tone;
}

export interface Paragraph extends Sentence {
  readonly kind: "paragraph";
}

/** A heading inside a section. */
export interface Heading {
  readonly kind: "heading";
  readonly text: string;
}

/** A point of a list, with the sentences that belong to it. */
export interface Point {
  readonly text: string;
  readonly more?: readonly Sentence[];
}

export interface Points {
  readonly kind: "points";
  /** Numbered, with this number first; left out: a plain list. */
  readonly from?: number;
  readonly points: readonly Point[];
}

/** A small table in words: one row a thing, its name first. */
export interface Facts {
  readonly kind: "facts";
  readonly label: string;
  /** Of all columns, the first included; left out: no line of heads. */
  readonly heads?: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** One cell as it is printed: its figure, and under it what is to be known of it in signs. */
export interface PrintedCell {
  readonly text: string;
  /** "+3.2"; left out: as before. */
  readonly change?: string;
  /** Signs of `marks.ts`. */
  readonly signs?: string;
}

/** A table over rpm and load, broken into blocks of columns that fit the paper, each with both axes. */
export interface Grid {
  readonly kind: "grid";
  /** What is printed over every block and again on every page: "Both cylinders, after, ms". */
  readonly label: string;
  /** What the axes are: "kPa \ rpm". */
  readonly corner: string;
  readonly heads: readonly string[];
  readonly rows: readonly { readonly head: string; readonly cells: readonly PrintedCell[] }[];
  /** Columns from…to (exclusive) of each block. */
  readonly blocks: readonly (readonly [from: number, to: number])[];
  /** How wide a cell is printed, in mm. */
  readonly cellMm: number;
  /** Stays on one page with what comes next, where there is room for both. */
  readonly keepWithNext?: boolean;
  /** What a column runs along, to say which columns a block holds: "rpm". */
  readonly along: string;
}

/** A picture; what it shows is said under it, in the words of its description. */
export interface CardPicture {
  readonly kind: "picture";
  /** To ask for it in other inks. */
  readonly id: string;
  readonly name: string;
  readonly picture: Picture;
  /** Said in the place of the description, where the card has told the same already. */
  readonly words?: string;
}

/** Lines to write on by hand. */
export interface Lines {
  readonly kind: "lines";
  readonly labels: readonly string[];
}

/** A box to tick by hand before each point. */
export interface Checks {
  readonly kind: "checks";
  readonly points: readonly string[];
}

export type Block = Paragraph | Heading | Points | Facts | Grid | CardPicture | Lines | Checks;

export interface Section {
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** Begins a page of its own. */
  readonly ownPage?: boolean;
}

/** The card: what is handed over, as plain data in the order in which it is read. */
export interface Card {
  readonly title: string;
  /** Said on every page. */
  readonly running: string;
  /** Under the title. */
  readonly lead: readonly Sentence[];
  readonly sections: readonly Section[];
}

export const paragraph = (text: string, tone: Tone = "plain"): Paragraph => ({ kind: "paragraph", text, tone });
export const heading = (text: string): Heading => ({ kind: "heading", text });
export const points = (list: readonly Point[], from?: number): Points => ({
  kind: "points",
  points: list,
  ...(from !== undefined && { from }),
});
