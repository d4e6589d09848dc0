import { airPerPercent } from "../fuel/conditions.ts";
import type { CellDemand, DemandSettings } from "./cell-demand.ts";
import type { EfficiencyCurve } from "./solve-intake.ts";

/**
 * Volumetric efficiency over rpm along the highest load row, against the air in the manifold.
 *
 * @param demand - of the same settings, from `cellDemand`
 * @returns undefined where the table doesn't say it: without a target, or over another load than manifold pressure
 */
export function fullLoadEfficiency(
  { build, table }: Pick<DemandSettings, "build" | "table">,
  demand: CellDemand,
): Exclude<EfficiencyCurve, number> | undefined {
  if (!demand.airMg || table.load.quantity !== "manifold-pressure") return undefined;
  const perPercent = airPerPercent(build, demand.manifoldKpa);
  const columns = table.rpm.breakpoints.length;
  const from = table.cells.length - columns;
  const curve = table.rpm.breakpoints.map((rpm, column) => ({
    rpm,
    percent: demand.airMg![from + column]! / perPercent[from + column]!,
  }));
  // A row of no fuel, or one that is no full load, says nothing of the engine.
  return curve.every(({ percent }) => percent >= 10 && percent <= 250) ? curve : undefined;
}
