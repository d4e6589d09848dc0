import {
  chargeCooling,
  type Fuel,
  FuelwrightError,
  flameTemperature,
  mixtureResponse,
  mixtureResponseRange,
} from "@fuelwright/table-core";

/** How many mixtures a curve is worked out at. */
const POINTS = 66;
const [RICH, LEAN] = mixtureResponseRange;

/** The mixtures of all curves. */
export const lambdas: readonly number[] = Array.from(
  { length: POINTS },
  (_, at) => RICH + (at / (POINTS - 1)) * (LEAN - RICH),
);

/** Remembers the last result for the last arguments: while one slider is dragged, the other curves stay. */
export function remembered<Arguments extends readonly unknown[], Result>(
  work: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  let last: { readonly given: Arguments; readonly result: Result } | null = null;
  return (...given) => {
    if (!last || given.some((value, at) => value !== last!.given[at])) last = { given, result: work(...given) };
    return last.result;
  };
}

/** How a flame is asked for. */
export interface FlameConditions {
  readonly state: "vapour" | "liquid";
  readonly inletC: number;
  readonly pressureKpa: number;
}

/** Flame temperature in °C; NaN where the fuel's heats are not known or there is no flame to work out. */
export function flameC(fuel: Fuel, lambda: number, { state, inletC, pressureKpa }: FlameConditions): number {
  try {
    const settings = { fuel, lambda, fuelState: state, inletTemperatureC: inletC, pressureKpa };
    return flameTemperature(settings).temperatureK - 273.15;
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return Number.NaN;
  }
}

/** Cooling of the charge in K; NaN where the fuel's latent heat is not known. */
export function coolingK(fuel: Fuel, lambda: number, airTemperatureC: number, evaporatedShare: number): number {
  return fuel.latentHeatKjPerKg === undefined
    ? Number.NaN
    : chargeCooling({ fuel, lambda, airTemperatureC, evaporatedShare }).dropK;
}

/** Flame temperature over the mixture. About 2 ms, then remembered. */
export const flameCurve = remembered(
  (fuel: Fuel, state: FlameConditions["state"], inletC: number, pressureKpa: number): readonly number[] =>
    lambdas.map((lambda) => flameC(fuel, lambda, { state, inletC, pressureKpa })),
);

export const coolingCurve = remembered((fuel: Fuel, airC: number, share: number): readonly number[] =>
  lambdas.map((lambda) => coolingK(fuel, lambda, airC, share)),
);

export const responseCurve = lambdas.map((lambda) => mixtureResponse(lambda));

/** Of a curve over {@link lambdas}: the mixture at which it is greatest. */
export function mixtureOfMost(curve: readonly number[]): number {
  return lambdas[curve.reduce((best, value, at) => (value > curve[best]! ? at : best), 0)]!;
}

/** Charge temperatures and pressures over which a flame is shown. */
export const inletTemperatures: readonly number[] = Array.from({ length: 14 }, (_, at) => -20 + at * 40);
export const pressures: readonly number[] = Array.from({ length: 21 }, (_, at) => 50 + at ** 2 * 10);

export const flameOverInlet = remembered(
  (fuel: Fuel, lambda: number, state: FlameConditions["state"], pressureKpa: number) =>
    inletTemperatures.map((inletC) => flameC(fuel, lambda, { state, inletC, pressureKpa })),
);

export const flameOverPressure = remembered(
  (fuel: Fuel, lambda: number, state: FlameConditions["state"], inletC: number) =>
    pressures.map((pressureKpa) => flameC(fuel, lambda, { state, inletC, pressureKpa })),
);
