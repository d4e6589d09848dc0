import { ZERO_CELSIUS_K } from "../air/air-charge.ts";
import type { Fuel } from "../fuel/fuel.ts";
import { molarMass } from "../fuel/stoichiometric-ratio.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireOneOf, requireWithin } from "../values/require.ts";
import { flameEquilibrium } from "./flame-equilibrium.ts";
import { type FlameFuel, type FuelState, flameFuel, requireFlameFuel } from "./flame-fuel.ts";
import { type FlameSpecies, flameSpecies, gasEnthalpy } from "./gas-data.ts";

/** What burns, and in what state it was before. */
export interface FlameSettings {
  /** A fuel with its heats, or composition and enthalpy of formation. */
  readonly fuel: Fuel | FlameFuel;
  readonly lambda: number;
  /** For a fuel with its heats: `vapour` (default) or `liquid`. An enthalpy of formation says it by itself. */
  readonly fuelState?: FuelState;
  /** Of air and fuel before they burn; default 25 °C. */
  readonly inletTemperatureC?: number;
  /** While they burn; default 101.325 kPa. */
  readonly pressureKpa?: number;
  /** kJ/(kg K), for a fuel that comes in at another temperature than 25 °C; default 2, about that of liquid petrol. */
  readonly fuelHeatCapacityKjPerKgK?: number;
}

/** The burnt gas. */
export interface Flame {
  readonly temperatureK: number;
  readonly moleFractions: Readonly<Record<FlameSpecies, number>>;
}

/** Nitrogen to a mol of oxygen, as handbooks take dry air. */
const NITROGEN = 3.76;
const FORMATION_C = 25;

/**
 * The adiabatic flame temperature at constant pressure, and what the burnt gas is made of.
 *
 * Fuel with dry air (O2 + 3.76 N2), burnt without loss of heat to chemical equilibrium of CO2, H2O, N2, O2, CO, H2, H, O,
 * OH and NO. A real cylinder burns at rising pressure and loses a quarter of the heat to its walls; soot and unburnt fuel,
 * which very rich flames make, are not among the gases. About 10 µs.
 *
 * @param settings - lambda 0.45..6 as far as the carbon finds oxygen, pressure 10..20000 kPa, inlet −60..900 °C
 * @example flameTemperature({ fuel: fuels.petrol, lambda: 0.95 }).temperatureK
 * @throws FuelwrightError `out-of-range`, `too-rich-to-burn` (carbon would be left as soot), `fuel-heat-missing`,
 *   `bad-composition`, `no-equilibrium`
 * @see S. Gordon & B. J. McBride, NASA RP-1311 (1994); gas data as in GRI-Mech 3.0
 */
export function flameTemperature(settings: FlameSettings): Flame {
  const { fuelState = "vapour", inletTemperatureC = FORMATION_C, pressureKpa = 101.325 } = settings;
  const where = "flameTemperature";
  requireOneOf(`${where}: fuelState`, fuelState, ["vapour", "liquid"]);
  const lambda = requireWithin(`${where}: lambda`, settings.lambda, 0.45, 6);
  requireWithin(`${where}: inletTemperatureC`, inletTemperatureC, -60, 900);
  requireWithin(`${where}: pressureKpa`, pressureKpa, 10, 20_000);
  const capacity = requireWithin(`${where}: fuelHeatCapacityKjPerKgK`, settings.fuelHeatCapacityKjPerKgK ?? 2, 0, 10);
  const known = "formationKjPerMol" in settings.fuel ? settings.fuel : flameFuel(settings.fuel, fuelState);
  const { composition, formationKjPerMol } = requireFlameFuel(`${where}: fuel`, known);
  const { carbon, hydrogen, oxygen } = composition;
  const oxygenMoles = lambda * (carbon + hydrogen / 4 - oxygen / 2);
  const atomsOfOxygen = oxygen + 2 * oxygenMoles;
  if (!(oxygenMoles > 0) || atomsOfOxygen <= 1.02 * carbon)
    throw new FuelwrightError(
      "too-rich-to-burn",
      `${where}: lambda ${lambda} must leave an atom of oxygen for each of carbon (${carbon}), got ${Number(atomsOfOxygen.toPrecision(3))}; ` +
        "such a mixture makes soot, and is not worked out here",
      { lambda, carbon, oxygen: atomsOfOxygen },
    );
  const kelvin = inletTemperatureC + ZERO_CELSIUS_K;
  const fuelKj = formationKjPerMol + (capacity * molarMass(composition) * (inletTemperatureC - FORMATION_C)) / 1000;
  const airKj = gasEnthalpy("O2", kelvin) + NITROGEN * gasEnthalpy("N2", kelvin);
  const { temperatureK, moles } = flameEquilibrium({
    atoms: [carbon, hydrogen, atomsOfOxygen, 2 * NITROGEN * oxygenMoles],
    enthalpyKj: fuelKj + oxygenMoles * airKj,
    pressureKpa,
  });
  const total = moles.reduce((sum, n) => sum + n, 0);
  const moleFractions = Object.fromEntries(flameSpecies.map((name, j) => [name, moles[j]! / total]));
  return Object.freeze({ temperatureK, moleFractions: Object.freeze(moleFractions as Record<FlameSpecies, number>) });
}
