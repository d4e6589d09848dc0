import type { FuelTable } from "../../values/fuel-table.ts";
import { type Comparison, compareCells } from "../compare-tables.ts";
import { percentChange } from "../percent-change.ts";
import { cylinderMean, requireCylinderTables } from "./cylinder-tables.ts";

/** How far the cylinders of an engine are apart. */
export interface CylinderComparison {
  /** The mean of all cylinders, row-major [load][rpm]. */
  readonly mean: Float64Array;
  /** Each cylinder against the mean. */
  readonly cylinders: readonly { readonly cylinder: number; readonly comparison: Comparison }[];
  /** From the lowest to the highest cylinder in each cell, in percent of the mean. */
  readonly spreadPercent: Float64Array;
  /** Where they are furthest apart, and which two; null if they agree everywhere. */
  readonly widest: {
    readonly at: number;
    readonly rpm: number;
    readonly load: number;
    readonly percent: number;
    readonly lowest: number;
    readonly highest: number;
  } | null;
}

/**
 * How far the tables of several cylinders are apart.
 *
 * @example compareCylinders([front, rear]).widest // { rpm: 5200, load: 90, percent: 4.1, lowest: 1, highest: 2, … }
 * @throws FuelwrightError as for `joinCylinders`
 */
export function compareCylinders(tables: readonly FuelTable[]): CylinderComparison {
  const all = requireCylinderTables("compareCylinders", tables);
  const { quantity, rpm, load } = all[0]!;
  const mean = cylinderMean(all);
  const spreadPercent = mean.map((middle, at) => {
    const values = all.map(({ cells }) => cells[at]!);
    // What the mean would rise by, were the spread put on it.
    return percentChange(quantity, middle, middle + (Math.max(...values) - Math.min(...values)));
  });
  const at = spreadPercent.reduce((most, percent, place) => (percent > spreadPercent[most]! ? place : most), 0);
  const columns = rpm.breakpoints.length;
  const ordered = [...all].sort((a, b) => a.cells[at]! - b.cells[at]! || a.cylinder - b.cylinder);
  return {
    mean,
    cylinders: all.map(({ cylinder, cells }) => ({
      cylinder,
      comparison: compareCells(quantity, rpm.breakpoints, load.breakpoints, mean, cells),
    })),
    spreadPercent,
    widest:
      spreadPercent[at] === 0
        ? null
        : {
            at,
            rpm: rpm.breakpoints[at % columns]!,
            load: load.breakpoints[Math.floor(at / columns)]!,
            percent: spreadPercent[at]!,
            lowest: ordered[0]!.cylinder,
            highest: ordered.at(-1)!.cylinder,
          },
  };
}
