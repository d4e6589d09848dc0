import { sameAxis } from "../../values/axis.ts";
import { FuelwrightError } from "../../values/errors.ts";
import type { FuelTable } from "../../values/fuel-table.ts";
import { requireSameQuantity } from "../compare-tables.ts";

/** A table that serves one cylinder. */
export type CylinderTable = FuelTable & { readonly cylinder: number };

/**
 * That these are the tables of several cylinders of one engine: two or more, each with a cylinder of its own, one
 * quantity and the same breakpoints.
 *
 * @throws FuelwrightError `too-few-cylinders`, `cylinder-missing`, `cylinder-twice`, `quantities-differ`, `axes-differ`
 */
export function requireCylinderTables(operation: string, tables: readonly FuelTable[]): readonly CylinderTable[] {
  const [first] = tables;
  if (!first || tables.length < 2)
    throw new FuelwrightError(
      "too-few-cylinders",
      `${operation}: tables must be of two or more cylinders, got ${tables.length}; give one for each`,
      { count: tables.length },
    );
  const seen = new Set<number>();
  for (const table of tables) {
    requireHasCylinder(operation, table);
    if (seen.has(table.cylinder!))
      throw new FuelwrightError(
        "cylinder-twice",
        `${operation}: ${table.id} must have a cylinder of its own, got ${table.cylinder} a second time; leave one out`,
        { id: table.id, cylinder: table.cylinder },
      );
    seen.add(table.cylinder!);
    requireSameQuantity(operation, first, table);
    if (!sameAxis(first.rpm, table.rpm) || !sameAxis(first.load, table.load))
      throw new FuelwrightError(
        "axes-differ",
        `${operation}: ${first.id} and ${table.id} must have the same breakpoints; rebin one onto the other's`,
        { first: first.id, other: table.id },
      );
  }
  return tables as readonly CylinderTable[];
}

/** @throws FuelwrightError `cylinder-missing` */
export function requireHasCylinder(operation: string, table: FuelTable): CylinderTable {
  if (table.cylinder === undefined)
    throw new FuelwrightError(
      "cylinder-missing",
      `${operation}: ${table.id} must say which cylinder it serves, got nothing; give its cylinder`,
      { id: table.id },
    );
  return table as CylinderTable;
}

/** The mean of all cylinders in each cell; exactly their value where they agree. */
export function cylinderMean(tables: readonly FuelTable[]): Float64Array {
  return tables[0]!.cells.map((value, at) =>
    tables.every(({ cells }) => cells[at] === value)
      ? value
      : tables.reduce((sum, { cells }) => sum + cells[at]! / tables.length, 0),
  );
}
