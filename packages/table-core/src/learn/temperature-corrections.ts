import { ASSUMED_CHARGE_WARMING_K, ZERO_CELSIUS_K } from "../air/air-charge.ts";
import { lookup } from "../lookup/lookup.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable, type FuelTable } from "../values/fuel-table.ts";
import { requirePositive, requireWithin } from "../values/require.ts";

/** Warm-up by coolant or head temperature: °C and factor. Typical of port injection on petrol, from memory: start here. */
const typicalWarmUpFactors: readonly (readonly [celsius: number, factor: number])[] = [
  [-20, 1.6],
  [-10, 1.47],
  [0, 1.35],
  [10, 1.26],
  [20, 1.19],
  [40, 1.09],
  [60, 1.03],
  [80, 1],
];

/** A warm-up correction to start from: one row of factors over coolant temperature, typical figures from memory. */
export function typicalWarmUp(): FuelTable {
  return createTable({
    id: "typical-warm-up",
    name: "Warm-up, typical",
    quantity: "factor",
    rpm: createAxis({ quantity: "coolant-temperature", breakpoints: typicalWarmUpFactors.map(([celsius]) => celsius) }),
    cells: [typicalWarmUpFactors.map(([, factor]) => factor)],
  });
}

/**
 * The air-temperature correction that the gas law asks of a table tuned at one temperature: one row of factors over the
 * outside air's temperature, −20..50 °C, 1 at `tunedAtC`.
 *
 * The air is taken to warm by the same 15 °C on its way in at any temperature (an assumption).
 *
 * @throws FuelwrightError `out-of-range`
 */
export function airTemperatureFactors(tunedAtC: number): FuelTable {
  requireWithin("airTemperatureFactors: tunedAtC", tunedAtC, -45, 60);
  const celsius = [-20, -10, 0, 10, 20, 30, 40, 50];
  return createTable({
    id: "air-temperature",
    name: "Air temperature, by the gas law",
    quantity: "factor",
    rpm: createAxis({ quantity: "air-temperature", breakpoints: celsius }),
    cells: [celsius.map((at) => denser(tunedAtC, at))],
  });
}

/** Settings of {@link correctForTemperature}. */
export interface TemperatureCorrection {
  /** What the base table gives one cylinder in a cycle, and the mixture that is with the air it was tuned in. */
  readonly massMg: number;
  readonly lambda: number;
  /** Outside air when the table was tuned, and now. */
  readonly tunedAtC: number;
  readonly airC: number;
  readonly coolantC: number;
  /** One-row tables of factors or trims; left out: no such correction. */
  readonly warmUp?: FuelTable;
  readonly airTemperature?: FuelTable;
}

/** What the engine gets. */
export interface CorrectedFuel {
  /** Air against the day the table was tuned. */
  readonly airFactor: number;
  readonly warmUpFactor: number;
  readonly airTemperatureFactor: number;
  /** Base fuel times both corrections. */
  readonly massMg: number;
  /** What that fuel would make with the air of the day the table was tuned: what the controller believes. */
  readonly commandedLambda: number;
  /** Mixture of all that fuel with the air there is. */
  readonly lambda: number;
  /** The same with the corrections off. */
  readonly uncorrectedLambda: number;
}

/**
 * Fuel and mixture at other temperatures than the base table was tuned at: denser or thinner air, and the corrections over
 * the table. O(1).
 *
 * Left out: fuel that stays on cold walls and never burns (a cold engine is leaner than this says), and controllers that
 * measure air and so correct by themselves.
 *
 * @throws FuelwrightError `not-positive`, `out-of-range`, `wrong-axis`, `wrong-quantity`
 */
export function correctForTemperature(settings: TemperatureCorrection): CorrectedFuel {
  const where = "correctForTemperature";
  const massMg = requirePositive(`${where}: massMg`, settings.massMg);
  const lambda = requirePositive(`${where}: lambda`, settings.lambda);
  const tunedAtC = requireWithin(`${where}: tunedAtC`, settings.tunedAtC, -45, 60);
  const airC = requireWithin(`${where}: airC`, settings.airC, -45, 60);
  requireWithin(`${where}: coolantC`, settings.coolantC, -45, 150);
  const airFactor = denser(tunedAtC, airC);
  const warmUpFactor = factorAt(`${where}: warmUp`, settings.warmUp, "coolant-temperature", settings.coolantC);
  const airTemperatureFactor = factorAt(`${where}: airTemperature`, settings.airTemperature, "air-temperature", airC);
  const factor = warmUpFactor * airTemperatureFactor;
  return {
    airFactor,
    warmUpFactor,
    airTemperatureFactor,
    massMg: massMg * factor,
    commandedLambda: lambda / factor,
    lambda: (lambda * airFactor) / factor,
    uncorrectedLambda: lambda * airFactor,
  };
}

/** Density of air at one temperature over that at another, at the same pressure. */
const denser = (fromC: number, toC: number) =>
  (fromC + ASSUMED_CHARGE_WARMING_K + ZERO_CELSIUS_K) / (toC + ASSUMED_CHARGE_WARMING_K + ZERO_CELSIUS_K);

function factorAt(
  where: string,
  table: FuelTable | undefined,
  axis: "coolant-temperature" | "air-temperature",
  celsius: number,
): number {
  if (!table) return 1;
  if (table.rpm.quantity !== axis)
    throw new FuelwrightError(
      "wrong-axis",
      `${where} (${table.id}) must be one row over ${axis}, got ${table.rpm.quantity}; give a correction over ${axis}`,
      { table: table.id, quantity: table.rpm.quantity },
    );
  if (table.quantity !== "factor" && table.quantity !== "trim")
    throw new FuelwrightError(
      "wrong-quantity",
      `${where} (${table.id}) must hold factors or trims, got ${table.quantity}; give a correction`,
      { table: table.id, quantity: table.quantity },
    );
  const value = lookup(table, { rpm: celsius });
  return requirePositive(`${where} at ${celsius} °C`, table.quantity === "trim" ? 1 + value / 100 : value);
}
