import { FuelwrightError } from "../../values/errors.ts";
import type { FuelTable } from "../../values/fuel-table.ts";
import type { Region } from "../../values/region.ts";
import { blendTables } from "../blend-tables.ts";
import { requireCylinderTables } from "./cylinder-tables.ts";

/** What {@link copyCylinder} takes. */
export interface CopyCylinder {
  /** The cylinder that is copied, from 1. */
  readonly from: number;
  /** Left out: all others. */
  readonly to?: readonly number[];
  /** Left out: the whole table. */
  readonly region?: Region;
}

/**
 * The tables with one cylinder's cells copied to others; a feathered region blends.
 *
 * Locked cells of the tables copied to stay. To go part of the way, blend the two with `blendTables`. O(cells · cylinders).
 *
 * @throws FuelwrightError `no-such-cylinder`, and as for `joinCylinders`
 */
export function copyCylinder(tables: readonly FuelTable[], { from, to, region }: CopyCylinder): FuelTable[] {
  const all = requireCylinderTables("copyCylinder", tables);
  const numbers = all.map(({ cylinder }) => cylinder);
  for (const cylinder of [from, ...(to ?? [])])
    if (!numbers.includes(cylinder))
      throw new FuelwrightError(
        "no-such-cylinder",
        `copyCylinder: cylinder must be one of ${numbers.join(", ")}, got ${cylinder}; choose one of these`,
        { cylinder, cylinders: numbers },
      );
  const source = all.find(({ cylinder }) => cylinder === from)!;
  return all.map((table) =>
    table === source || (to && !to.includes(table.cylinder))
      ? table
      : blendTables(table, { with: source, weight: 1, ...(region && { region }) }),
  );
}
