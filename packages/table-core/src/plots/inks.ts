/** Colours by what they are for; any that SVG takes, so also `var(--ink)` where a page's style sheet is to decide. */
export interface Inks {
  /** Figures, titles, and the table as it is. */
  readonly ink: string;
  /** Axes' figures and notes. */
  readonly quiet: string;
  /** Lines of a grid. */
  readonly rule: string;
  /** Lines of an axis and frames. */
  readonly axis: string;
  /** What the picture stands on; also the inside of open marks. `none` is not for here: see `Picture.ground`. */
  readonly paper: string;
  /** The line of what it was; dashed besides. */
  readonly before: string;
  /** The line of what it is. */
  readonly after: string;
  /** A rise; filled or with a plus besides. */
  readonly more: string;
  /** A fall; open or with a minus besides. */
  readonly less: string;
  /** What must not be overlooked. */
  readonly warn: string;
  /** Hatching of ceilings. */
  readonly hatch: string;
}

/** Ink on paper. */
export const lightInks: Inks = Object.freeze({
  ink: "#25221c",
  quiet: "#6a6355",
  rule: "#d9d1c0",
  axis: "#958b77",
  paper: "#fffdf7",
  before: "#6a6355",
  after: "#25221c",
  more: "#b4592d",
  less: "#2b8577",
  warn: "#8a5a00",
  hatch: "#8a806c",
});

/** For dark screens. */
export const darkInks: Inks = Object.freeze({
  ink: "#ece5d6",
  quiet: "#a39a87",
  rule: "#38342c",
  axis: "#7d7464",
  paper: "#211f1a",
  before: "#a39a87",
  after: "#ece5d6",
  more: "#d9834f",
  less: "#58b3a3",
  warn: "#d8a748",
  hatch: "#847b6a",
});

/** For a printer that knows black alone; greys only where nothing is lost with them. */
export const printInks: Inks = Object.freeze({
  ink: "#000000",
  quiet: "#333333",
  rule: "#c8c8c8",
  axis: "#666666",
  paper: "#ffffff",
  before: "#000000",
  after: "#000000",
  more: "#000000",
  less: "#000000",
  warn: "#000000",
  hatch: "#555555",
});
