import type { FuelTable } from "../values/fuel-table.ts";
import type { DrawnCeiling } from "./ceiling-hatches.ts";
import { type Changes, changesOf } from "./changes.ts";
import { type AxesShownAs, breakpointTexts, figureText, ownUnit, type ShownAs } from "./figures.ts";
import { lettering, textWidth } from "./lettering.ts";
import type { ShownOptions } from "./plot-options.ts";
import { SIGN } from "./sign.ts";
import { noTint, type Tint } from "./tints.ts";

/** What of a table is drawn as a grid of figures. */
export interface TableFigures extends ShownOptions {
  /** What it was: changed cells are then set bold, with a plus or a minus. Of the same quantity. */
  readonly before?: FuelTable;
  /** `values`, or with `before` the `change` of each cell in percent. Left out: values. */
  readonly figures?: "values" | "change";
  /** Ceilings of these very cells: hatched, each in a way of its own, with its sentence underneath. */
  readonly ceilings?: readonly DrawnCeiling[];
  /** Left out: no colour; sign and weight tell a change. */
  readonly tint?: Tint;
}

/** Height of a row, and what stands free at both sides of a figure, in px. */
export const ROW = 18;
export const PADDING = 5;

/** A table made ready to be drawn, whole or in parts: all parts have cells of one size. */
export interface ReadyTable {
  readonly table: FuelTable;
  readonly changes: Changes | null;
  /** Whether figures are changes in percent. */
  readonly asChange: boolean;
  readonly ceilings: readonly DrawnCeiling[];
  readonly tint: Tint;
  readonly shown: ShownAs;
  readonly axes: AxesShownAs;
  /** Heads of all columns and rows; a one-row table's row has an empty one. */
  readonly columns: readonly string[];
  readonly rows: readonly string[];
  readonly columnUnit: string;
  readonly rowUnit: string;
  readonly cellWidth: number;
  readonly headWidth: number;
  /** Room for the unit of the columns behind the last one. */
  readonly tail: number;
  textOf(at: number): string;
}

/** @throws FuelwrightError `quantities-differ`, `axes-do-not-match` */
export function readyTable(operation: string, table: FuelTable, options: TableFigures): ReadyTable {
  const { axes = {}, tint = noTint, ceilings = [], shown = ownUnit(table.quantity) } = options;
  const changes = options.before ? changesOf(table, options.before, operation) : null;
  const asChange = options.figures === "change" && changes !== null;
  const textOf = (at: number) => (asChange ? changeFigure(changes.percent[at]!) : figureText(table.cells[at]!, shown));
  const oneRow = table.load.quantity === "single-row";
  const columns = breakpointTexts(table.rpm, axes.rpm);
  const rows = oneRow ? [""] : breakpointTexts(table.load, axes.load);
  const columnUnit = axes.rpm?.unit ?? table.rpm.unit;
  const rowUnit = oneRow ? "" : (axes.load?.unit ?? table.load.unit);
  const widest = (texts: readonly string[], bold = false) =>
    Math.max(...texts.map((text) => textWidth(text, lettering.text, bold)));
  let figure = 0;
  for (let at = 0; at < table.cells.length; at++)
    figure = Math.max(figure, textWidth(textOf(at), lettering.text, changes !== null));
  const sign = changes && !asChange ? SIGN + 2 : 0;
  return {
    table,
    changes,
    asChange,
    ceilings: ceilings.filter(({ cells }) => cells.length > 0),
    tint,
    shown,
    axes,
    columns,
    rows,
    columnUnit,
    rowUnit,
    cellWidth: Math.ceil(Math.max(figure + sign, widest(columns)) + 2 * PADDING),
    headWidth: Math.ceil(Math.max(widest(rows), textWidth(rowUnit)) + 8),
    tail: Math.ceil(textWidth(columnUnit) + 8),
    textOf,
  };
}

/** "+3.5", "−20.0", "·" where nothing changed, ∞ for a change from zero. */
function changeFigure(percent: number): string {
  if (percent === 0) return "·";
  const sign = percent < 0 ? "−" : "+";
  const size = Math.abs(percent);
  if (size === Number.POSITIVE_INFINITY) return `${sign}∞`;
  return `${sign}${size < 99.95 ? size.toFixed(1) : size.toFixed(0)}`;
}
