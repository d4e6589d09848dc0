import { createAxis } from "../values/axis.ts";
import { FuelwrightError, within } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import {
  type AxisQuantity,
  axisQuantities,
  type CellQuantity,
  cellQuantities,
  loadQuantities,
} from "../values/quantities.ts";
import { requireOneOf } from "../values/require.ts";
import type { TableTextAnalysis } from "./analyse-table-text.ts";
import { axisUnitChange, axisUnits, cellUnitChange, cellUnits, requireFittingUnit } from "./exchange-unit.ts";
import { type Cell, cellText } from "./find-block.ts";
import { orderAxis, placeOf, readCell } from "./read-cell.ts";

/** The name of a table whose text has none. */
const UNTITLED = "untitled table";
const LONGEST_NAME = 200;

/**
 * The table that an analysed text holds, in the library's units, its axes rising.
 *
 * @throws FuelwrightError naming the first bad cell by line and column
 */
export function takeTable(
  analysis: TableTextAnalysis,
  spec: { readonly id: string; readonly name?: string },
): FuelTable {
  const { where, shape, recognised: found, conflict, hints } = analysis;
  const decimal = found.decimal.value;
  if (conflict)
    throw new FuelwrightError(
      "mixed-decimals",
      `${where}: ${cellText(conflict)} does not fit the decimal ${decimal === "." ? "point" : "comma"} of the other ` +
        "numbers; write all of them alike",
      placeOf(conflict),
    );
  const acrossIsRpm = shape.layout.value === "one-row" || found.orientation.value === "rpm-across";
  const rpmUnit = hints.rpmUnit === undefined ? found.rpmUnit.value : null;
  const loadUnit = hints.loadUnit === undefined ? (found.loadUnit?.value ?? null) : null;
  const cellUnit = hints.unit === undefined ? found.unit.value : null;
  const readAll = (cells: readonly Cell[], unit: string | null) =>
    cells.map((cell) => readCell(where, cell, decimal, unit));
  // In the order of reading, so that the first bad cell of the text is the one that is told.
  const across = readAll(shape.across, acrossIsRpm ? rpmUnit : loadUnit);
  const down: number[] = [];
  const rows = shape.rows.map((row, at) => {
    const breakpoint = shape.down[at];
    if (breakpoint) down.push(readCell(where, breakpoint, decimal, acrossIsRpm ? loadUnit : rpmUnit));
    return readAll(row, cellUnit);
  });

  const acrossOrder = orderAxis(where, shape.across, across);
  const downOrder = orderAxis(where, shape.down, down);
  const values = toCells(analysis, rows);
  // A one-row table has no breakpoints down its side, and one row all the same.
  const cells = (shape.down.length === 0 ? [0] : downOrder).map((row) => acrossOrder.map((at) => values[row]![at]!));
  const [columns, side] = [acrossOrder.map((at) => across[at]!), downOrder.map((at) => down[at]!)];
  const rpm = makeAxis(where, found.rpmQuantity.value, found.rpmUnit.value, acrossIsRpm ? columns : side);
  const { loadQuantity } = found;
  if (loadQuantity) requireOneOf(`${where}: the load axis`, loadQuantity.value, loadQuantities);
  const load = loadQuantity && makeAxis(where, loadQuantity.value, found.loadUnit!.value, acrossIsRpm ? side : columns);
  return within(where, () =>
    createTable({
      id: spec.id,
      name: spec.name ?? (found.title.value.trim() === "" ? UNTITLED : found.title.value.slice(0, LONGEST_NAME)),
      quantity: found.quantity.value,
      rpm,
      ...(load && { load }),
      cells: acrossIsRpm ? cells : transpose(cells),
    }),
  );
}

function makeAxis(where: string, quantity: AxisQuantity, unit: string, values: readonly number[]) {
  const fitting = requireFittingUnit(
    `${where}: the unit of ${axisQuantities[quantity].label}`,
    unit,
    axisUnits(quantity),
  );
  const { toLibrary } = axisUnitChange(quantity, fitting);
  return within(where, () => createAxis({ quantity, breakpoints: values.map(toLibrary) }));
}

/** What a quantity can't be: an injector is not open for less than no time. */
const floors: Readonly<Partial<Record<CellQuantity, { readonly from: number; readonly itself: boolean }>>> = {
  "pulse-width": { from: 0, itself: false },
  lambda: { from: 0, itself: false },
  "fuel-mass": { from: 0, itself: true },
  "volumetric-efficiency": { from: 0, itself: true },
};

/** The cells in the library's unit. */
function toCells({ where, shape, recognised: found }: TableTextAnalysis, rows: readonly number[][]): number[][] {
  const quantity = found.quantity.value;
  const { label } = cellQuantities[quantity];
  const unit = requireFittingUnit(`${where}: the unit of ${label}`, found.unit.value, cellUnits(quantity));
  const { toLibrary } = cellUnitChange(where, quantity, unit, found.stoichiometricRatio?.value);
  const floor = floors[quantity];
  return rows.map((row, r) =>
    row.map((number, c) => {
      const cell = shape.rows[r]![c]!;
      if (floor && (number < floor.from || (number === floor.from && !floor.itself)))
        throw new FuelwrightError(
          "cell-not-positive",
          `${where}: ${cellText(cell)} must be ${floor.itself ? "0 or above" : "above 0"} as ${label}; ` +
            "correct the cell, or choose trim if the table holds percentages",
          { ...placeOf(cell), quantity },
        );
      const value = toLibrary(number);
      if (!Number.isFinite(value) || (floor && !floor.itself && value === 0))
        throw new FuelwrightError(
          "number-too-large",
          `${where}: ${cellText(cell)} does not convert from ${unit} to a number kept here; check the cell and the unit`,
          placeOf(cell),
        );
      return value;
    }),
  );
}

const transpose = (rows: readonly number[][]): number[][] => rows[0]!.map((_, at) => rows.map((row) => row[at]!));
