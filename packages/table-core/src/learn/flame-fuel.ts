import type { Fuel } from "../fuel/fuel.ts";
import { type Composition, createComposition, molarMass } from "../fuel/stoichiometric-ratio.ts";
import { FuelwrightError } from "../values/errors.ts";
import { requireFinite } from "../values/require.ts";

/** How the fuel comes to the flame: as vapour, or as drops that must first boil. */
export type FuelState = "vapour" | "liquid";

/** A fuel as a flame knows it. */
export interface FlameFuel {
  readonly composition: Composition;
  /** Enthalpy of formation at 298.15 K of the state it comes in, in kJ for a mol of the composition as written. */
  readonly formationKjPerMol: number;
}

/** Enthalpies of formation of the burnt gases at 298.15 K, kJ/mol: NASA/TP-2002-211556 (McBride, Zehe & Gordon). */
const CARBON_DIOXIDE = -393.51;
const WATER_VAPOUR = -241.826;

/**
 * A fuel's composition and enthalpy of formation, from its heating value: what the burnt gases hold, plus what burning gave.
 *
 * The lower heating value is that of the liquid; vapour brings the latent heat besides. O(1).
 *
 * @param state - `vapour` or `liquid`
 * @example flameFuel(fuels.ethanol, "vapour").formationKjPerMol // −234.95
 * @throws FuelwrightError `fuel-heat-missing`, saying which figure of the fuel is needed
 */
export function flameFuel(fuel: Fuel, state: FuelState): FlameFuel {
  const { composition, lowerHeatingValueMjPerKg, latentHeatKjPerKg } = fuel;
  const missing =
    (!composition && "composition") ||
    (lowerHeatingValueMjPerKg === undefined && "lowerHeatingValueMjPerKg") ||
    (state === "vapour" && latentHeatKjPerKg === undefined && "latentHeatKjPerKg");
  if (missing)
    throw new FuelwrightError(
      "fuel-heat-missing",
      `flameFuel: fuel.${missing} must be given for a flame, got nothing; give it, or start from one of fuels`,
      { missing },
    );
  const heat = lowerHeatingValueMjPerKg! * 1000 + (state === "vapour" ? latentHeatKjPerKg! : 0);
  const burnt = composition!.carbon * CARBON_DIOXIDE + (composition!.hydrogen / 2) * WATER_VAPOUR;
  return { composition: composition!, formationKjPerMol: burnt + (heat * molarMass(composition!)) / 1000 };
}

/** A checked copy. @throws FuelwrightError `bad-composition`, `not-finite` */
export function requireFlameFuel(where: string, fuel: FlameFuel): FlameFuel {
  return {
    composition: createComposition(fuel.composition, `${where}.composition`),
    formationKjPerMol: requireFinite(`${where}.formationKjPerMol`, fuel.formationKjPerMol),
  };
}
