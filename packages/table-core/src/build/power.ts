import type { Fuel } from "../fuel/fuel.ts";
import type { Assumption, Basis } from "../values/basis.ts";
import { requirePositive } from "../values/require.ts";
import { cellDemand, type DemandSettings } from "./cell-demand.ts";
import type { Engine } from "./engine.ts";

/** Fuel for a kilowatt-hour of a small petrol engine at full load: 0.53 lb/(hp h); common practice is 0.50 to 0.55. */
export const COMMON_CONSUMPTION_G_PER_KWH = 320;
/** Of the petrol that figure is for. */
const PETROL_MJ_PER_KG = 44;

/** Power that a fuel flow makes. */
export interface PowerEstimate {
  readonly powerKw: number;
  /** Grams of fuel for a kilowatt hour, given or taken. */
  readonly brakeSpecificFuelConsumptionGPerKwh: number;
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
}

/** Fuel for a kilowatt-hour: the engine's own figure, or common practice scaled by the fuel's heating value. */
export function fuelConsumption(
  engine: Pick<Engine, "brakeSpecificFuelConsumptionGPerKwh">,
  fuel: Pick<Fuel, "name" | "lowerHeatingValueMjPerKg">,
): Omit<PowerEstimate, "powerKw"> {
  if (engine.brakeSpecificFuelConsumptionGPerKwh !== undefined)
    return {
      brakeSpecificFuelConsumptionGPerKwh: engine.brakeSpecificFuelConsumptionGPerKwh,
      basis: "given",
      assumptions: [],
    };
  const heat = fuel.lowerHeatingValueMjPerKg ?? PETROL_MJ_PER_KG;
  const consumption = (COMMON_CONSUMPTION_G_PER_KWH * PETROL_MJ_PER_KG) / heat;
  return {
    brakeSpecificFuelConsumptionGPerKwh: consumption,
    basis: "estimated",
    assumptions: [
      {
        id: "fuel-consumption",
        text: `A kilowatt-hour is taken to need ${Math.round(consumption)} g of ${fuel.name} at full load.`,
        basis: "common-practice",
        matters: "Engines differ by 10 % either way, and power with them; a dyno run says it better.",
        mattersPercent: 10,
      },
    ],
  };
}

/**
 * Crank power from the fuel an engine burns: flow over brake specific consumption. An estimate, for choosing parts.
 *
 * @param run - whole engine `fuelGramsPerSecond`, and the engine and fuel (a `Build` fits)
 * @example estimatePower({ fuelGramsPerSecond: 6, engine, fuel: fuels.petrol }).powerKw // 67.5 at 320 g/kWh
 * @throws FuelwrightError `not-positive`
 */
export function estimatePower(run: {
  readonly fuelGramsPerSecond: number;
  readonly engine: Pick<Engine, "brakeSpecificFuelConsumptionGPerKwh">;
  readonly fuel: Pick<Fuel, "name" | "lowerHeatingValueMjPerKg">;
}): PowerEstimate {
  requirePositive("estimatePower: fuelGramsPerSecond", run.fuelGramsPerSecond);
  const consumption = fuelConsumption(run.engine, run.fuel);
  return {
    ...consumption,
    powerKw: (run.fuelGramsPerSecond * 3600) / consumption.brakeSpecificFuelConsumptionGPerKwh,
    basis: "estimated",
  };
}

/** Full load at one rpm. */
export interface FullLoadPoint {
  readonly rpm: number;
  readonly fuelGramsPerSecond: number;
  /** Dry air; null without a target. */
  readonly airGramsPerSecond: number | null;
  readonly powerKw: number;
}

/**
 * Fuel, air and estimated power over rpm along the table's highest load row.
 *
 * @throws FuelwrightError as `cellDemand`
 */
export function fullLoadCurve(settings: DemandSettings): {
  readonly points: readonly FullLoadPoint[];
  readonly basis: Basis;
  readonly assumptions: readonly Assumption[];
} {
  const demand = cellDemand(settings);
  const { table, build } = settings;
  const columns = table.rpm.breakpoints.length;
  const from = table.cells.length - columns;
  const consumption = fuelConsumption(build.engine, build.fuel);
  const points = table.rpm.breakpoints.map((rpm, column) => {
    const fuelGramsPerSecond = demand.fuelGramsPerSecond[from + column]!;
    return {
      rpm,
      fuelGramsPerSecond,
      airGramsPerSecond: demand.airGramsPerSecond?.[from + column] ?? null,
      powerKw: (fuelGramsPerSecond * 3600) / consumption.brakeSpecificFuelConsumptionGPerKwh,
    };
  });
  return { points, basis: "estimated", assumptions: [...demand.assumptions, ...consumption.assumptions] };
}
