import { FuelwrightError } from "../values/errors.ts";
import { requireFinite, requireOneOf } from "../values/require.ts";

/** Atoms of carbon, hydrogen and oxygen in a molecule, or their proportions (petrol: 1, 1.87, 0). */
export interface Composition {
  /** Atoms, or proportions of them; so are the others. */
  readonly carbon: number;
  /** See `carbon`. */
  readonly hydrogen: number;
  /** See `carbon`. */
  readonly oxygen: number;
}

/** kg/kmol. */
const CARBON = 12.011;
const HYDROGEN = 1.008;
const OXYGEN = 15.999;

/**
 * Kilograms of air that hold one kmol of oxygen, in the three usual ways of describing air, and the atomic mass of oxygen
 * that goes with each.
 *
 * `real`: dry air of molar mass 28.9651159 with 20.9476 % oxygen (NASA Glenn composition). `3.76`: O2 + 3.76 N2.
 * `3.773`: O2 + 3.773 atmospheric nitrogen of 28.16 kg/kmol, oxygen taken as 16 (Heywood 1988, ch. 3).
 */
const airs: Readonly<Record<AirDescription, { readonly perOxygen: number; readonly oxygenMass: number }>> = {
  real: { perOxygen: 28.9651159 / 0.209476, oxygenMass: OXYGEN },
  "3.76": { perOxygen: 2 * OXYGEN + 3.76 * 2 * 14.007, oxygenMass: OXYGEN },
  "3.773": { perOxygen: 2 * 16 + 3.773 * 28.16, oxygenMass: 16 },
};

/** How air is described: it is worth 0.7 % of the ratio, so say which one is used. */
export type AirDescription = "real" | "3.76" | "3.773";

/**
 * Kilograms of dry air that burn one kilogram of the fuel completely, from its composition.
 *
 * @param composition - atoms of carbon, hydrogen, oxygen; any common multiple gives the same result
 * @param options - `air`: `real` (default), `3.76` or `3.773`
 * @example stoichiometricRatio({ carbon: 8, hydrogen: 18, oxygen: 0 }) // iso-octane: 15.13
 * @throws FuelwrightError `bad-composition`, `not-finite`, `unknown-choice`
 * @see Heywood, Internal Combustion Engine Fundamentals (1988), ch. 3
 */
export function stoichiometricRatio(
  composition: Composition,
  { air = "real" }: { readonly air?: AirDescription } = {},
): number {
  requireOneOf("stoichiometricRatio: air", air, Object.keys(airs) as AirDescription[]);
  const { carbon, hydrogen, oxygen } = createComposition(composition, "stoichiometricRatio");
  const oxygenMoles = carbon + hydrogen / 4 - oxygen / 2;
  const { perOxygen, oxygenMass } = airs[air];
  const fuelMass = CARBON * carbon + HYDROGEN * hydrogen + oxygenMass * oxygen;
  if (oxygenMoles <= 0)
    throw new FuelwrightError(
      "bad-composition",
      `stoichiometricRatio: a fuel with carbon ${carbon}, hydrogen ${hydrogen}, oxygen ${oxygen} needs no air; check the composition`,
      { carbon, hydrogen, oxygen },
    );
  return (oxygenMoles * perOxygen) / fuelMass;
}

/** kg/kmol of the formula as written. */
export function molarMass({ carbon, hydrogen, oxygen }: Composition): number {
  return CARBON * carbon + HYDROGEN * hydrogen + OXYGEN * oxygen;
}

/** A checked, frozen copy. @throws FuelwrightError `bad-composition`, `not-finite` */
export function createComposition(composition: Composition, where: string): Composition {
  const copy = {
    carbon: requireFinite(`${where}.carbon`, composition?.carbon),
    hydrogen: requireFinite(`${where}.hydrogen`, composition.hydrogen),
    oxygen: requireFinite(`${where}.oxygen`, composition.oxygen),
  };
  if (copy.carbon < 0 || copy.hydrogen < 0 || copy.oxygen < 0 || copy.carbon + copy.hydrogen === 0)
    throw new FuelwrightError(
      "bad-composition",
      `${where} must have no negative share and some carbon or hydrogen, got carbon ${copy.carbon}, ` +
        `hydrogen ${copy.hydrogen}, oxygen ${copy.oxygen}; give the atoms of one molecule`,
      copy,
    );
  return Object.freeze(copy);
}
