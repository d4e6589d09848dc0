import type { Fuel } from "../fuel/fuel.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { convertUnit } from "../values/units.ts";
import type { PartId } from "./ceiling.ts";
import type { CeilingReport } from "./check-ceilings.ts";

/** What one part is asked over rpm, and what it can give there. */
export interface PartDemand {
  readonly part: PartId;
  readonly unit: string;
  readonly rpm: readonly number[];
  /** In `unit`, one for each of `rpm`; and so is `capacity`. */
  readonly demand: readonly number[];
  /** NaN where nothing is asked, so that no capacity can be told. */
  readonly capacity: readonly number[];
}

/**
 * Demand and capacity of a part over rpm, in each column from the cell that takes the largest share of the part.
 *
 * Injectors: the pulse, and the time there is for it at the planning ceiling, in ms. Pump: L/h. Intake: air in g/s, and the air
 * at which the parts take what is commonly allowed. Null for a part of which no share is known.
 */
export function demandOverRpm(
  { parts, demand }: Pick<CeilingReport, "parts" | "demand">,
  part: PartId,
  table: Pick<FuelTable, "rpm">,
  fuel: Pick<Fuel, "densityKgPerL">,
): PartDemand | null {
  const share = parts.find((verdict) => verdict.part === part)?.share;
  const asked = askedOf(part, demand, fuel);
  if (!share || !asked) return null;
  const rpm = table.rpm.breakpoints;
  const most = rpm.map((_, column) => {
    let at = column;
    for (let other = column; other < share.length; other += rpm.length) if (share[other]! > share[at]!) at = other;
    return at;
  });
  return {
    part,
    unit: asked.unit,
    rpm,
    demand: most.map((at) => asked.at(at)),
    // A share of nothing tells no capacity: the line then has a gap.
    capacity: most.map((at) => (share[at]! > 0 ? asked.at(at) / share[at]! : Number.NaN)),
  };
}

function askedOf(part: PartId, demand: CeilingReport["demand"], fuel: Pick<Fuel, "densityKgPerL">) {
  const { pulseMs, fuelGramsPerSecond, airGramsPerSecond } = demand;
  if (part === "injectors") return { unit: "ms", at: (cell: number) => pulseMs[cell]! };
  if (part === "pump")
    return { unit: "L/h", at: (cell: number) => convertUnit(fuelGramsPerSecond[cell]!, "g/s", "L/h", fuel) };
  if (part === "intake" && airGramsPerSecond) return { unit: "g/s", at: (cell: number) => airGramsPerSecond[cell]! };
  return null;
}
