import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireWhole, say } from "../values/require.ts";

/** A four-stroke engine: plain data, frozen. */
export interface Engine {
  /** Of all cylinders together. */
  readonly displacementCc: number;
  readonly cylinders: number;
  readonly revLimitRpm: number;
  /** Pulses of each injector in a cycle of two revolutions. */
  readonly injectionsPerCycle: 1 | 2;
  /** Default 1. */
  readonly injectorsPerCylinder?: number;
  /** Best estimate at full throttle, against the air in the manifold; where no table says it better. */
  readonly volumetricEfficiencyPercent?: number;
  /** Air in the cylinder's way in, warmed by the manifold; left out: the place's temperature and an assumed warming. */
  readonly chargeTemperatureC?: number;
  /** Fuel for a kilowatt-hour at the crank at full load; left out: a figure of common practice. */
  readonly brakeSpecificFuelConsumptionGPerKwh?: number;
  readonly idleRpm?: number;
}

/** A checked, frozen copy. @throws FuelwrightError `implausible`, `not-whole`, `out-of-range`, naming the field */
export function createEngine(engine: Engine, where = "engine"): Engine {
  if (typeof engine !== "object" || engine === null)
    throw new FuelwrightError(
      "bad-engine",
      `${where} must be an object, got ${say(engine)}; give displacement and cylinders`,
    );
  if (engine.injectionsPerCycle !== 1 && engine.injectionsPerCycle !== 2)
    throw new FuelwrightError(
      "unknown-choice",
      `${where}.injectionsPerCycle must be 1 or 2, got ${say(engine.injectionsPerCycle)}; sequential is 1, once a revolution is 2`,
      { where: `${where}.injectionsPerCycle`, value: engine.injectionsPerCycle },
    );
  const revLimitRpm = requirePlausible(`${where}.revLimitRpm`, engine.revLimitRpm, {
    low: 1000,
    high: 25_000,
    unit: "rpm",
    mixUps: [{ unit: "thousand rpm", toOwn: (thousands) => thousands * 1000 }],
  });
  return Object.freeze({
    displacementCc: requirePlausible(`${where}.displacementCc`, engine.displacementCc, {
      low: 20,
      high: 20_000,
      unit: "cc",
      mixUps: [{ unit: "L", toOwn: (litres) => litres * 1000 }],
    }),
    cylinders: requireWhole(`${where}.cylinders`, engine.cylinders, 1, 16),
    revLimitRpm,
    injectionsPerCycle: engine.injectionsPerCycle,
    ...(engine.injectorsPerCylinder !== undefined && {
      injectorsPerCylinder: requireWhole(`${where}.injectorsPerCylinder`, engine.injectorsPerCylinder, 1, 4),
    }),
    ...(engine.volumetricEfficiencyPercent !== undefined && {
      volumetricEfficiencyPercent: requirePlausible(
        `${where}.volumetricEfficiencyPercent`,
        engine.volumetricEfficiencyPercent,
        { low: 10, high: 250, unit: "%", mixUps: [{ unit: "as a fraction", toOwn: (fraction) => fraction * 100 }] },
      ),
    }),
    ...(engine.chargeTemperatureC !== undefined && {
      chargeTemperatureC: requirePlausible(`${where}.chargeTemperatureC`, engine.chargeTemperatureC, {
        low: -45,
        high: 150,
        unit: "°C",
        mixUps: [{ unit: "K", toOwn: (kelvin) => kelvin - 273.15 }],
      }),
    }),
    ...(engine.brakeSpecificFuelConsumptionGPerKwh !== undefined && {
      brakeSpecificFuelConsumptionGPerKwh: requirePlausible(
        `${where}.brakeSpecificFuelConsumptionGPerKwh`,
        engine.brakeSpecificFuelConsumptionGPerKwh,
        {
          low: 150,
          high: 1500,
          unit: "g/kWh",
          mixUps: [{ unit: "lb/(hp h)", toOwn: (pounds) => pounds * 608.277387841761 }],
        },
      ),
    }),
    ...(engine.idleRpm !== undefined && {
      idleRpm: requirePlausible(`${where}.idleRpm`, engine.idleRpm, { low: 200, high: revLimitRpm, unit: "rpm" }),
    }),
  });
}
