import { airPerPercent } from "../fuel/conditions.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { requireOneOf } from "../values/require.ts";
import { basisOf, cellDemand, type DemandSettings } from "./cell-demand.ts";

/** Quantities that say the same fuel in another way. */
export type MeteringQuantity = "pulse-width" | "fuel-mass" | "volumetric-efficiency";

/** What {@link convertFuelTable} works with; `table` is its first argument. */
export interface ConvertFuelTable extends Omit<DemandSettings, "table"> {
  readonly to: MeteringQuantity;
  /** Default: the old one with the quantity behind it. */
  readonly id?: string;
  readonly name?: string;
}

/**
 * The same fuel told as another quantity: an efficiency from pulse widths, a mass from trims, and back.
 *
 * Efficiencies need the target mixture (for the air that goes with the fuel) and manifold pressure, and are against the air in
 * the manifold. Storage is dropped: it belongs to the old quantity. There and back is the identity, but for cells without fuel.
 *
 * @throws FuelwrightError `target-missing` for an efficiency without target, and as `cellDemand`
 */
export function convertFuelTable(
  table: FuelTable,
  settings: ConvertFuelTable,
): { readonly table: FuelTable; readonly basis: Basis; readonly assumptions: readonly Assumption[] } {
  const to = requireOneOf("convertFuelTable: to", settings.to, ["pulse-width", "fuel-mass", "volumetric-efficiency"]);
  const { build } = settings;
  const demand = cellDemand({ ...settings, table });
  const cells = () => {
    if (to === "fuel-mass") return demand.askedMg;
    if (to === "pulse-width") return demand.pulseMs;
    if (!demand.airMg)
      throw new FuelwrightError(
        "target-missing",
        `convertFuelTable: the air that goes with the fuel of ${table.id} is not known without its mixture; give target`,
        { table: table.id },
      );
    const perPercent = airPerPercent(build, demand.manifoldKpa);
    return demand.airMg.map((mg, at) => mg / perPercent[at]!);
  };
  return {
    table: createTable({
      id: settings.id ?? `${table.id}-${to}`,
      name: settings.name ?? table.name,
      quantity: to,
      rpm: table.rpm,
      load: table.load,
      cells: cells(),
      ...(table.cylinder !== undefined && { cylinder: table.cylinder }),
      locked: table.locked,
    }),
    basis: basisOf(demand.assumptions),
    assumptions: demand.assumptions,
  };
}
