import { FuelwrightError } from "../../values/errors.ts";
import { type FuelTable, withCells } from "../../values/fuel-table.ts";
import { requireWhole } from "../../values/require.ts";
import { sampleOn } from "../sample-grid.ts";
import { type CylinderTable, requireHasCylinder } from "./cylinder-tables.ts";
import { trimmed } from "./cylinder-trim.ts";

/** What {@link splitByCylinder} takes. */
export interface SplitByCylinder {
  /** How many, 2..64. */
  readonly cylinders: number;
  /** Trims in percent by their cylinder; on other axes they are looked up. A cylinder without one gets the base's cells. */
  readonly trims?: readonly FuelTable[];
}

/**
 * A table for each cylinder, from one for all: the base's cells, with the cylinder's trim put on where there is one.
 *
 * Names, storage and locks are the base's; ids get `-cylinder-1` and so on. Trims count in locked cells too: this says
 * the same fuel in another way. Without trims `joinCylinders` gives the base back bit for bit, with them if it is told the
 * base. O(cells · cylinders).
 *
 * @example splitByCylinder(table, { cylinders: 2, trims: [rearTrim] })
 * @throws FuelwrightError `out-of-range`, `already-one-cylinder`, `not-a-trim`, `cylinder-missing`, `cylinder-twice`,
 *   `axes-differ`
 */
export function splitByCylinder(table: FuelTable, { cylinders, trims = [] }: SplitByCylinder): CylinderTable[] {
  requireWhole("splitByCylinder: cylinders", cylinders, 2, 64);
  if (table.cylinder !== undefined)
    throw new FuelwrightError(
      "already-one-cylinder",
      `splitByCylinder: ${table.id} must serve all cylinders, got cylinder ${table.cylinder}; choose the base table`,
      { id: table.id, cylinder: table.cylinder },
    );
  const byCylinder = new Map<number, FuelTable>();
  for (const trim of trims) byCylinder.set(requireTrim(table, trim, cylinders, byCylinder), trim);
  return Array.from({ length: cylinders }, (_, at) => {
    const cylinder = at + 1;
    const trim = byCylinder.get(cylinder);
    const percents = trim && sampleOn("splitByCylinder", table, trim);
    const cells = percents ? table.cells.map((base, c) => trimmed(table.quantity, base, percents[c]!)) : table.cells;
    return Object.freeze({
      ...withCells(table, cells, "splitByCylinder"),
      id: `${table.id}-cylinder-${cylinder}`,
      name: `${table.name}, cylinder ${cylinder}`,
      cylinder,
    });
  });
}

function requireTrim(
  table: FuelTable,
  trim: FuelTable,
  cylinders: number,
  others: ReadonlyMap<number, FuelTable>,
): number {
  const { cylinder, id } = requireHasCylinder("splitByCylinder", trim);
  if (trim.quantity !== "trim" || table.quantity === "lambda")
    throw new FuelwrightError(
      "not-a-trim",
      `splitByCylinder: ${id} must be a trim in percent of a table that says fuel, got ${trim.quantity} on ` +
        `${table.quantity}; leave it out`,
      { id, quantity: trim.quantity },
    );
  if (cylinder > cylinders || others.has(cylinder))
    throw new FuelwrightError(
      "cylinder-twice",
      `splitByCylinder: ${id} must trim a cylinder of its own among ${cylinders}, got ${cylinder}; check its cylinder`,
      { id, cylinder },
    );
  return cylinder;
}
