import { FuelwrightError } from "../../values/errors.ts";
import { cellPlace, createTable, type FuelTable } from "../../values/fuel-table.ts";
import { requireSameQuantity } from "../compare-tables.ts";
import { sampleOn } from "../sample-grid.ts";
import { type CylinderTable, cylinderMean, requireCylinderTables } from "./cylinder-tables.ts";
import { trimBetween, trimmed } from "./cylinder-trim.ts";

/** One table for all cylinders, and what each adds to it. */
export interface JoinedCylinders {
  readonly base: FuelTable;
  /** Percent on the base for each cylinder, in the order of the tables. */
  readonly trims: readonly CylinderTable[];
  /** Cells that base and trim give back to the last place only, by cylinder and row-major place. */
  readonly inexact: readonly { readonly cylinder: number; readonly at: number }[];
}

/**
 * One base table and a trim for each cylinder, from a table for each.
 *
 * The base is the mean of the cylinders, or the one that is given. The trims are chosen so that `splitByCylinder(base,
 * { trims })` gives the tables back: bit for bit for trims up to 12.5 %, and nearly always beyond; what would not is told
 * in `inexact`. Where all cylinders agree the base holds their value and the trims are 0. O(cells · cylinders).
 *
 * @param settings - `base`: on the tables' breakpoints or others, of the same quantity
 * @example const { base, trims } = joinCylinders([front, rear])
 * @throws FuelwrightError `too-few-cylinders`, `cylinder-missing`, `cylinder-twice`, `quantities-differ`, `axes-differ`,
 *   `no-trim-fits` where the base is 0 and a cylinder is not, or for lambda, which has no trim
 */
export function joinCylinders(
  tables: readonly FuelTable[],
  settings: { readonly base?: FuelTable } = {},
): JoinedCylinders {
  const all = requireCylinderTables("joinCylinders", tables);
  const first = all[0]!;
  if (first.quantity === "lambda")
    throw new FuelwrightError(
      "no-trim-fits",
      "joinCylinders: tables must say fuel for a trim in percent, got lambda; keep a table for each cylinder",
    );
  const base = settings.base ? onAxesOf(first, settings.base) : meanTable(all);
  const inexact: { cylinder: number; at: number }[] = [];
  const trims = all.map((table) => {
    const cells = table.cells.map((wanted, at) => {
      const trim = trimBetween(table.quantity, base.cells[at]!, wanted);
      if (Number.isNaN(trim))
        throw new FuelwrightError(
          "no-trim-fits",
          `joinCylinders: cylinder ${table.cylinder} at ${cellPlace(table, at)} must be 0 where the base is, got ${wanted}; ` +
            "give another base, or keep a table for each cylinder",
          { cylinder: table.cylinder, at },
        );
      if (trimmed(table.quantity, base.cells[at]!, trim) !== wanted) inexact.push({ cylinder: table.cylinder, at });
      return trim;
    });
    return trimTable(base, table, cells);
  });
  return { base, trims, inexact };
}

function meanTable(tables: readonly CylinderTable[]): FuelTable {
  const { cylinder, ...first } = tables[0]!;
  return Object.freeze({
    ...first,
    id: first.id.replace(`-cylinder-${cylinder}`, ""),
    name: first.name.replace(`, cylinder ${cylinder}`, ""),
    cells: cylinderMean(tables),
  });
}

function onAxesOf(first: FuelTable, base: FuelTable): FuelTable {
  requireSameQuantity("joinCylinders", first, base);
  const cells = sampleOn("joinCylinders", first, base);
  return cells === base.cells ? base : Object.freeze({ ...base, rpm: first.rpm, load: first.load, cells });
}

const trimTable = (base: FuelTable, { cylinder, rpm, load }: CylinderTable, cells: Float64Array): CylinderTable =>
  createTable({
    id: `${base.id}-trim-${cylinder}`,
    name: `${base.name}, trim of cylinder ${cylinder}`,
    quantity: "trim",
    rpm,
    ...(load.quantity !== "single-row" && { load }),
    cells,
    cylinder,
  }) as CylinderTable;
