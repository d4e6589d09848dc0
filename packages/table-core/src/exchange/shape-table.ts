import { MOST_BREAKPOINTS } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { type Block, type Cell, cellText, type Layout } from "./find-block.ts";
import { type Label, readCorner, readLabel } from "./read-label.ts";
import { isRpmLike, type Orientation } from "./recognise-axes.ts";
import { chosen, type Recognised, recognised } from "./recognised.ts";
import { type Rows, requireRectangle, roughValue, runsOneWay, withCorner } from "./rectangle.ts";

/** The numbers of a block sorted into breakpoints and cells, and every label with the side it stands at. */
export interface TableShape {
  readonly layout: Recognised<Layout>;
  /** Breakpoints of the columns; in a one-row table the only ones, wherever they stand. */
  readonly across: readonly Cell[];
  /** Breakpoints of the rows; none in a one-row table. */
  readonly down: readonly Cell[];
  /** Rows of cells as they stand; in a one-row table one. */
  readonly rows: readonly (readonly Cell[])[];
  /** Whether a one-row table stands upright, its breakpoints in the first column. */
  readonly upright: boolean;
  readonly corner: string;
  readonly cornerLabels: readonly Label[];
  readonly acrossLabels: readonly Label[];
  readonly downLabels: readonly Label[];
  readonly cellLabels: readonly Label[];
}

const layouts: readonly Layout[] = ["two-axes", "one-row"];

/**
 * Where the breakpoints of a block stand.
 *
 * A corner that is blank or holds words, or is missing because the first line is one field shorter: two axes. Two lines
 * of numbers, or two columns: one row. A number in the corner is passed over where its line and its column both run one
 * way, and it is 0 or one of them holds engine speeds.
 *
 * @throws FuelwrightError `axis-too-short`, `axis-too-long`, `ragged-rows`, `no-axes`, naming the place
 */
export function shapeTable(
  where: string,
  block: Block,
  hints: { readonly layout?: Layout; readonly orientation?: Orientation } = {},
): TableShape {
  const hint = hints.layout;
  const rows = withCorner(block.rows);
  requireRectangle(where, rows);
  const height = rows.length;
  const width = rows[0]!.length;
  const corner = rows[0]![0]!;
  const open = corner.number === null;
  const isRow = !open && (height === 2 || width === 2);
  const layout = hint
    ? chosen(hint, layouts)
    : recognised<Layout>(
        isRow ? "one-row" : "two-axes",
        open || isRow,
        open
          ? "The first line and the first column hold breakpoints; their corner holds none."
          : isRow
            ? `The text holds ${height === 2 ? "two rows" : "two columns"} of numbers: breakpoints and cells.`
            : "The first line and the first column each run one way, so the number in their corner is passed over.",
        layouts,
      );
  return layout.value === "one-row"
    ? shapeRow(where, block, rows, layout, hints.orientation === "rpm-down")
    : shapeTwoAxes(where, block, rows, layout, hint !== undefined);
}

function shapeTwoAxes(
  where: string,
  block: Block,
  rows: Rows,
  layout: Recognised<Layout>,
  isChosen: boolean,
): TableShape {
  const corner = rows[0]![0]!;
  const across = rows[0]!.slice(1);
  const down = rows.slice(1).map((row) => row[0]!);
  if (corner.number !== null && !isChosen && !areBreakpoints(corner, across, down))
    throw new FuelwrightError(
      "no-axes",
      `${where}: the first line and the first column must be breakpoints that rise or fall, got ${cellText(corner)} in ` +
        "their corner and beside it no numbers of that kind; copy the table with its rpm and load",
      { line: corner.line, column: corner.column },
    );
  requireLength(where, "columns", across);
  requireLength(where, "rows", down);
  const cornerText = corner.number === null ? corner.text : "";
  const cornerLabels = readCorner(cornerText);
  const units = block.labelRows.flatMap((row) => row.slice(1).filter((text) => text !== undefined));
  const labels = [...new Set(units)].map(readLabel);
  return {
    layout,
    across,
    down,
    rows: rows.slice(1).map((row) => row.slice(1)),
    upright: false,
    corner: cornerText,
    cornerLabels,
    acrossLabels: [...labels.filter((label) => !isCellLabel(label)), ...unitsBehind(across)],
    downLabels: [
      ...block.labelRows.flatMap((row) => (row[0] === undefined ? [] : [readLabel(row[0])])),
      ...block.labelColumn.filter((text) => text !== "").map(readLabel),
      ...unitsBehind(down),
    ],
    cellLabels: [
      ...cornerLabels.filter(isCellLabel),
      ...labels.filter(isCellLabel),
      ...unitsBehind(rows.slice(1).flatMap((row) => row.slice(1))),
    ],
  };
}

/** Whether numbers beside a corner that holds one itself are breakpoints: in order, and with more to it than chance. */
function areBreakpoints(corner: Cell, across: readonly Cell[], down: readonly Cell[]): boolean {
  if (!runsOneWay(across) || !runsOneWay(down)) return false;
  return roughValue(corner) === 0 || isRpmLike(across.map(roughValue)) || isRpmLike(down.map(roughValue));
}

function shapeRow(
  where: string,
  block: Block,
  rows: Rows,
  layout: Recognised<Layout>,
  isChosenUpright: boolean,
): TableShape {
  // Two rows of two lie, unless names stand over both columns.
  const isNamed = block.labelRows.some((row) => row[0] !== undefined && row[1] !== undefined);
  const upright = rows.length !== 2 || (rows[0]!.length === 2 && (isChosenUpright || isNamed));
  if (upright && rows[0]!.length !== 2)
    throw new FuelwrightError(
      "not-one-row",
      `${where}: a one-row table must be two rows or two columns, got ${rows.length} rows and ${rows[0]!.length} columns; ` +
        "read it as a table with two axes",
      { rows: rows.length, columns: rows[0]!.length },
    );
  const across = upright ? rows.map((row) => row[0]!) : rows[0]!;
  const cells = upright ? rows.map((row) => row[1]!) : rows[1]!;
  requireLength(where, upright ? "rows" : "columns", across);
  // Words over the columns of an upright table, or beside the rows of one that lies.
  const texts = (at: number) =>
    (upright ? block.labelRows.map((row) => row[at]) : [block.labelColumn[at]]).filter((text) => text !== undefined);
  const axisTexts = texts(0);
  return {
    layout,
    across,
    down: [],
    rows: [cells],
    upright,
    corner: axisTexts.join(" "),
    cornerLabels: [],
    acrossLabels: [...axisTexts.map(readLabel), ...unitsBehind(across)],
    downLabels: [],
    cellLabels: [...texts(1).map(readLabel), ...unitsBehind(cells)],
  };
}

function requireLength(where: string, side: "rows" | "columns", axis: readonly Cell[]): void {
  if (axis.length >= 2 && axis.length <= MOST_BREAKPOINTS) return;
  const rule = axis.length < 2 ? "at least 2" : `at most ${MOST_BREAKPOINTS}`;
  const remedy =
    axis.length < 2
      ? side === "rows"
        ? "copy more of the table, or take out the load value to read a one-row correction"
        : "copy more of the table"
      : "leave some out";
  throw new FuelwrightError(
    axis.length < 2 ? "axis-too-short" : "axis-too-long",
    `${where}: a table must have ${rule} ${side} of cells, got ${axis.length}; ${remedy}`,
    { side, count: axis.length },
  );
}

/** Names or units of the cells, and of no axis. */
const isCellLabel = (label: Label) => label.cell !== undefined && label.axis === undefined;

/** The units written behind numbers, each once. */
function unitsBehind(cells: readonly Cell[]): Label[] {
  const units = new Set(cells.flatMap(({ number }) => (number?.behind ? [number.behind] : [])));
  return [...units].map(readLabel);
}
