import ndarray, { type NdArray } from "ndarray";
import { type Axis, createAxis, singleRow } from "./axis.ts";
import { FuelwrightError } from "./errors.ts";
import { type CellQuantity, cellQuantities, loadQuantities, requireQuantityUnit } from "./quantities.ts";
import { createRegion, type Region } from "./region.ts";
import { requireFinite, requireOneOf, requirePositive, requireText, requireWhole, say } from "./require.ts";

/** How the controller keeps a cell: whole multiples of `step` from `min` to `max`, in the table's unit. */
export interface Storage {
  /** In the table's unit. */
  readonly min: number;
  /** In the table's unit. */
  readonly max: number;
  /** In the table's unit, above 0. */
  readonly step: number;
}

/**
 * A table of cells over rpm (columns) and load (rows), or one row over a correction's own axis.
 *
 * `cells` is row-major [load][rpm] in `unit`, all finite. It is a value: no operation of this library writes to it, and
 * neither should its holder.
 */
export interface FuelTable {
  readonly id: string;
  readonly name: string;
  readonly quantity: CellQuantity;
  readonly unit: string;
  /** The columns: rpm, or the axis of a one-row correction (coolant temperature, battery voltage, …). */
  readonly rpm: Axis;
  /** The rows; {@link singleRow} in a one-row table. */
  readonly load: Axis;
  /** Row-major [load][rpm], in `unit`. */
  readonly cells: Float64Array;
  readonly storage?: Storage;
  /** Which cylinder it serves, from 1; left out: all. */
  readonly cylinder?: number;
  /** Parts that edits leave as they are. */
  readonly locked: readonly Region[];
}

/** What {@link createTable} takes. `load` is left out for a one-row table. */
export interface FuelTableSpec {
  readonly id: string;
  readonly name: string;
  readonly quantity: CellQuantity;
  readonly unit?: string;
  readonly rpm: Axis;
  readonly load?: Axis;
  /** Rows [load][rpm] in order of rising load, or the same numbers row-major. */
  readonly cells: readonly ArrayLike<number>[] | Float64Array;
  readonly storage?: Storage;
  readonly cylinder?: number;
  readonly locked?: readonly Region[];
}

/**
 * A checked table; copies what it is given.
 *
 * @throws FuelwrightError `cell-not-finite` or `ragged-rows` (naming row and column), `wrong-cell-count`,
 *   `wrong-axis`, `bad-storage`, `unit-not-canonical`, `bad-text`
 */
export function createTable(spec: FuelTableSpec): FuelTable {
  const id = requireText("createTable: id", spec.id, 100);
  const where = `createTable: ${id}`;
  const name = requireText(`${where}.name`, spec.name);
  const quantity = requireOneOf(`${where}.quantity`, spec.quantity, Object.keys(cellQuantities) as CellQuantity[]);
  const unit = requireQuantityUnit(`${where}.unit`, cellQuantities[quantity], spec.unit);
  const rpm = createAxis(spec.rpm);
  const load = spec.load ? createAxis(spec.load) : singleRow;
  const oneRow = load.quantity === "single-row";
  if (rpm.quantity === "single-row" || (!oneRow && rpm.quantity !== "rpm"))
    throw new FuelwrightError(
      "wrong-axis",
      `${where}.rpm must run along rpm, got ${rpm.quantity}; leave out load for a one-row correction`,
      { quantity: rpm.quantity },
    );
  if (!oneRow) requireOneOf(`${where}.load.quantity`, load.quantity, loadQuantities);
  return Object.freeze({
    id,
    name,
    quantity,
    unit,
    rpm,
    load,
    cells: checkCells(where, spec.cells, rpm, load),
    ...(spec.storage && { storage: createStorage(`${where}.storage`, spec.storage) }),
    ...(spec.cylinder !== undefined && { cylinder: requireWhole(`${where}.cylinder`, spec.cylinder, 1, 64) }),
    locked: Object.freeze((spec.locked ?? []).map((region, at) => createRegion(region, `${where}.locked[${at}]`))),
  });
}

/**
 * The table with other cells: the one way in which operations make their result.
 *
 * @param cells - row-major, taken over as it is, not copied
 * @throws FuelwrightError `cell-not-finite` naming the cell by rpm and load
 */
export function withCells(table: FuelTable, cells: Float64Array, operation: string): FuelTable {
  requireFiniteCells(operation, cells, table.rpm, table.load);
  return Object.freeze({ ...table, cells });
}

/** The cells as rows [load][rpm], for those outside. */
export function cellRows(table: FuelTable): number[][] {
  const columns = table.rpm.breakpoints.length;
  return table.load.breakpoints.map((_, row) => Array.from(table.cells.subarray(row * columns, (row + 1) * columns)));
}

/** A view [load][rpm] that writes through: for use inside one operation, on cells of its own. */
export function viewCells(cells: Float64Array, table: Pick<FuelTable, "rpm" | "load">): NdArray<Float64Array> {
  return ndarray(cells, [table.load.breakpoints.length, table.rpm.breakpoints.length]);
}

/** How an error names a cell: "3500 rpm, 70 kPa". */
export function cellPlace(table: Pick<FuelTable, "rpm" | "load">, at: number): string {
  const columns = table.rpm.breakpoints.length;
  const rpm = `${table.rpm.breakpoints[at % columns]} ${table.rpm.unit}`;
  if (table.load.quantity === "single-row") return rpm;
  return `${rpm}, ${table.load.breakpoints[Math.floor(at / columns)]} ${table.load.unit}`;
}

/** A checked storage range. @throws FuelwrightError `bad-storage` */
export function createStorage(where: string, storage: Storage): Storage {
  const min = requireFinite(`${where}.min`, storage.min);
  const max = requireFinite(`${where}.max`, storage.max);
  const step = requirePositive(`${where}.step`, storage.step);
  if (max <= min || step > max - min)
    throw new FuelwrightError(
      "bad-storage",
      `${where} must have max above min by at least one step, got ${min} to ${max} in steps of ${step}; check all three`,
      { min, max, step },
    );
  return Object.freeze({ min, max, step });
}

/** 0 for −0, which JSON and CSV could not keep apart; any other number as it is. */
const positiveZero = (value: number): number => value + 0;

function checkCells(where: string, cells: FuelTableSpec["cells"], rpm: Axis, load: Axis): Float64Array {
  const columns = rpm.breakpoints.length;
  const rows = load.breakpoints.length;
  if (cells instanceof Float64Array) {
    if (cells.length !== rows * columns)
      throw new FuelwrightError(
        "wrong-cell-count",
        `${where}.cells must be ${rows} rows of ${columns} (${rows * columns}), got ${cells.length}; check the axes`,
        { rows, columns, got: cells.length },
      );
    requireFiniteCells(`${where}.cells`, cells, rpm, load);
    return cells.map(positiveZero);
  }
  if (!Array.isArray(cells) || cells.length !== rows)
    throw new FuelwrightError(
      "wrong-cell-count",
      `${where}.cells must be ${rows} rows, one for each load breakpoint, got ${say(cells)}; check the load axis`,
      { rows, columns },
    );
  const flat = new Float64Array(rows * columns);
  cells.forEach((row: ArrayLike<number>, r) => {
    if (row?.length !== columns)
      throw new FuelwrightError(
        "ragged-rows",
        `${where}.cells[${r}] must have ${columns} cells, one for each rpm breakpoint, got ${row?.length}; fill or cut the row`,
        { row: r, columns, got: row?.length },
      );
    for (let c = 0; c < columns; c++) {
      const value = row[c];
      if (typeof value !== "number" || !Number.isFinite(value))
        throw new FuelwrightError(
          "cell-not-finite",
          `${where}.cells[${r}][${c}] (${cellPlace({ rpm, load }, r * columns + c)}) must be a finite number, ` +
            `got ${say(value)}; give a number`,
          { row: r, column: c, value },
        );
      flat[r * columns + c] = positiveZero(value);
    }
  });
  return flat;
}

function requireFiniteCells(where: string, cells: Float64Array, rpm: Axis, load: Axis): void {
  for (let at = 0; at < cells.length; at++) {
    if (!Number.isFinite(cells[at]!))
      throw new FuelwrightError(
        "cell-not-finite",
        `${where}: the cell at ${cellPlace({ rpm, load }, at)} must be a finite number, got ${cells[at]}; ` +
          "check the figures that lead to it",
        { at, value: cells[at] },
      );
  }
}
