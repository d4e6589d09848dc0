import { type AxisQuantity, axisQuantities, type CellQuantity, cellQuantities } from "../values/quantities.ts";
import { requireOneOf, requireText } from "../values/require.ts";
import { axisUnits, cellUnits, requireFittingUnit } from "./exchange-unit.ts";
import { type Block, type Cell, findBlock } from "./find-block.ts";
import { unguardText } from "./guard-text.ts";
import { numberValue } from "./number-text.ts";
import { type PlainText, plainText } from "./plain-text.ts";
import { readLabel } from "./read-label.ts";
import {
  isRpm,
  loadLabels,
  recogniseDirection,
  recogniseLoad,
  recogniseOnlyAxis,
  recogniseOrientation,
} from "./recognise-axes.ts";
import { recogniseCells } from "./recognise-cells.ts";
import { type RecognisedSigns, recogniseDecimal } from "./recognise-decimal.ts";
import { type DividedText, delimiters, divideText } from "./recognise-delimiter.ts";
import type { RecognisedTableText, TableTextHints } from "./recognise-table-text.ts";
import { chosen, recognised } from "./recognised.ts";
import { shapeTable, type TableShape } from "./shape-table.ts";

/** A text taken apart: what is shown, and what the table is made from. */
export interface TableTextAnalysis {
  readonly where: string;
  readonly recognised: RecognisedTableText;
  readonly shape: TableShape;
  /** The first number whose signs contradict the others. */
  readonly conflict: Cell | null;
  /** Units that were chosen, and so are not held against those written behind numbers. */
  readonly hints: TableTextHints;
}

/**
 * Takes the text of a table apart, without asking yet whether each cell can be read.
 *
 * @throws FuelwrightError where there is no table to be found, or a hint is none
 */
export function analyseTableText(where: string, text: string, hints: TableTextHints): TableTextAnalysis {
  const checked = checkHints(where, hints);
  const plain = plainText(where, text);
  const divided = divideText(where, plain.body, checked.delimiter);
  const block = findBlock(where, divided.split.lines);
  const shape = shapeTable(where, block, checked);
  const { delimiter } = divided;
  const signs = recogniseDecimal(numberCells(shape), delimiter.value, checked);
  return {
    ...{ where, shape, hints: checked },
    conflict: signs.conflict?.cell ?? null,
    recognised: Object.freeze({
      ...describe(plain, divided, block, shape),
      ...name(shape, signs, divided, block, checked),
    }),
  };
}

function numberCells({ across, down, rows }: TableShape) {
  const of = (cells: readonly Cell[], isBreakpoint: boolean) =>
    cells.flatMap((cell) => (cell.number === null ? [] : [{ number: cell.number, cell, isBreakpoint }]));
  return [...of(across, true), ...rows.flatMap((row, at) => [...of(down.slice(at, at + 1), true), ...of(row, false)])];
}

/** How the text is kept, and what stands around the table. */
function describe({ bom, lineEnd, uniform }: PlainText, divided: DividedText, block: Block, shape: TableShape) {
  const ends = { "\r\n": "carriage return and line feed", "\n": "line feed", "\r": "carriage return" };
  const [title, ...further] = block.titles;
  const unitRow = block.labelRows.map((row) => row.filter((text) => text !== undefined).join(", ")).join("; ");
  const count = (many: number, one: string) => (many === 0 ? [] : [`${many} ${one}${many === 1 ? "" : "s"} left out`]);
  return {
    delimiter: divided.delimiter,
    lineEnd: recognised(
      lineEnd,
      true,
      uniform ? `Lines end with ${ends[lineEnd]}.` : "Lines end in several ways, or none.",
    ),
    bom: recognised(bom, true, bom ? "A byte order mark stands first." : "No byte order mark stands first."),
    title: recognised(
      title ? unguardText(title.texts.join(", ")) : "",
      true,
      title ? `Line ${title.line} stands above the table.` : "No line stands above the table.",
    ),
    layout: shape.layout,
    corner: recognised(shape.corner, true, shape.corner === "" ? "The corner is blank." : "It stands in the corner."),
    unitRow: recognised(
      unitRow,
      true,
      unitRow === "" ? "No line holds units." : "A line beside the header holds names or units.",
    ),
    rows: shape.rows.length,
    columns: shape.across.length,
    passedOver: Object.freeze([
      ...count(divided.split.comments.length, "comment line"),
      ...count(further.length, "further title line"),
      ...count(block.notes.length, "note under the table"),
      ...count(block.emptyColumns, "empty column"),
    ]),
  };
}

/** What the numbers mean: signs, axes, quantities and units. */
function name(
  shape: TableShape,
  signs: RecognisedSigns<{ number: NonNullable<Cell["number"]>; cell: Cell; isBreakpoint: boolean }>,
  { split }: DividedText,
  block: Block,
  hints: TableTextHints,
) {
  const numbers = (cells: readonly Cell[]) =>
    cells
      .flatMap(({ number }) => (number === null ? [] : [numberValue(number, signs.decimal.value)]))
      .filter(Number.isFinite);
  const across = numbers(shape.across);
  const down = numbers(shape.down);
  const orientation = recogniseOrientation(shape, across, down, hints.orientation);
  const isOneRow = shape.layout.value === "one-row";
  const isAcross = isOneRow || orientation.value === "rpm-across";
  // A unit at the rpm side that rpm can't have is the cells': a line of "mg" under the header.
  const beside = isAcross ? shape.acrossLabels : shape.downLabels;
  const strays = beside.filter((label) => label.axis === undefined && label.unit !== undefined && !isRpm(label));
  const labels = isOneRow ? shape.cellLabels : [...shape.cellLabels, ...strays];
  const words = [
    ...block.titles.flatMap(({ texts }) => texts),
    ...split.comments.map((comment) => comment.text),
    ...block.notes,
  ].map(readLabel);
  const cells = recogniseCells(numbers(shape.rows.flat()), { ...hints, labels, words, isOneRow });
  const ratio = labels.find((label) => label.stoichiometricRatio !== undefined);
  const rpmHints = { quantity: hints.rpmQuantity, unit: hints.rpmUnit };
  const only = isOneRow ? recogniseOnlyAxis(shape.acrossLabels, across, rpmHints) : null;
  const load = isOneRow
    ? null
    : recogniseLoad(loadLabels(shape, orientation.value), isAcross ? down : across, {
        quantity: hints.loadQuantity,
        unit: hints.loadUnit,
      });
  const isNamed = [...shape.cornerLabels, ...shape.acrossLabels, ...shape.downLabels].some(isRpm);
  return {
    decimal: signs.decimal,
    thousands: signs.thousands,
    orientation,
    quantity: cells.quantity,
    unit: cells.unit,
    stoichiometricRatio:
      hints.stoichiometricRatio !== undefined
        ? chosen(hints.stoichiometricRatio)
        : ratio
          ? recognised(ratio.stoichiometricRatio!, true, `The text says “${ratio.text}”.`)
          : null,
    rpmQuantity:
      only?.quantity ??
      recognised<AxisQuantity>("rpm", isNamed, isNamed ? "A label says so." : "A table with two axes has rpm on one."),
    rpmUnit: only?.unit ?? recognised("rpm", true, "Rpm has no other unit."),
    rpmDirection: only?.direction ?? recogniseDirection(isAcross ? across : down),
    loadQuantity: load?.quantity ?? null,
    loadUnit: load?.unit ?? null,
    loadDirection: load?.direction ?? null,
  };
}

/** Refuses hints that are none of the choices, so that a slip does not read a table wrongly. */
function checkHints(where: string, hints: TableTextHints): TableTextHints {
  const { delimiter, decimal, thousands, layout, orientation, quantity, unit } = hints;
  if (delimiter !== undefined) requireOneOf(`${where}: delimiter`, delimiter, delimiters);
  if (decimal !== undefined) requireOneOf(`${where}: decimal`, decimal, [".", ","]);
  if (thousands !== undefined) requireOneOf(`${where}: thousands`, thousands, ["none", ",", ".", " "]);
  if (layout !== undefined) requireOneOf(`${where}: layout`, layout, ["two-axes", "one-row"]);
  if (orientation !== undefined) requireOneOf(`${where}: orientation`, orientation, ["rpm-across", "rpm-down"]);
  if (quantity !== undefined)
    requireOneOf(`${where}: quantity`, quantity, Object.keys(cellQuantities) as CellQuantity[]);
  if (unit !== undefined) {
    requireText(`${where}: unit`, unit);
    if (quantity !== undefined) requireFittingUnit(`${where}: unit`, unit, cellUnits(quantity));
  }
  for (const side of ["rpm", "load"] as const) {
    const axis = hints[`${side}Quantity`];
    const axisUnit = hints[`${side}Unit`];
    if (axis !== undefined)
      requireOneOf(`${where}: ${side}Quantity`, axis, Object.keys(axisQuantities) as AxisQuantity[]);
    if (axisUnit === undefined) continue;
    requireText(`${where}: ${side}Unit`, axisUnit);
    if (axis !== undefined) requireFittingUnit(`${where}: ${side}Unit`, axisUnit, axisUnits(axis));
  }
  return hints;
}
