import { FuelwrightError } from "../values/errors.ts";
import { requirePlausible } from "../values/plausible.ts";
import { requireText, requireWithin, say } from "../values/require.ts";
import { type Composition, createComposition, molarMass, stoichiometricRatio } from "./stoichiometric-ratio.ts";

/** What the engine burns: plain data, frozen. */
export interface Fuel {
  readonly name: string;
  /** Kilograms of air to a kilogram of fuel at lambda 1. */
  readonly stoichiometricRatio: number;
  /** At about 15 °C. */
  readonly densityKgPerL: number;
  readonly latentHeatKjPerKg?: number;
  readonly lowerHeatingValueMjPerKg?: number;
  readonly composition?: Composition;
}

/** What {@link createFuel} takes: with a composition the stoichiometric ratio may be left out. */
export interface FuelSpec extends Omit<Fuel, "stoichiometricRatio"> {
  readonly stoichiometricRatio?: number;
}

/**
 * A checked, frozen fuel.
 *
 * @example createFuel({ name: "race blend", densityKgPerL: 0.76, composition: { carbon: 7, hydrogen: 14, oxygen: 0.2 } })
 * @throws FuelwrightError `fuel-ratio-missing`, `implausible`, `bad-composition`, `bad-text`, naming the field
 */
export function createFuel(spec: FuelSpec, where = "createFuel"): Fuel {
  if (typeof spec !== "object" || spec === null)
    throw new FuelwrightError("bad-fuel", `${where} must be an object, got ${say(spec)}; start from one of fuels`);
  const composition =
    spec.composition === undefined ? undefined : createComposition(spec.composition, `${where}.composition`);
  if (spec.stoichiometricRatio === undefined && !composition)
    throw new FuelwrightError(
      "fuel-ratio-missing",
      `${where}.stoichiometricRatio must be given, got nothing; give it, or the composition it follows from`,
      { where },
    );
  return Object.freeze({
    name: requireText(`${where}.name`, spec.name, 60),
    stoichiometricRatio: requireWithin(
      `${where}.stoichiometricRatio`,
      spec.stoichiometricRatio === undefined ? stoichiometricRatio(composition!) : spec.stoichiometricRatio,
      1,
      40,
    ),
    densityKgPerL: requirePlausible(`${where}.densityKgPerL`, spec.densityKgPerL, {
      low: 0.4,
      high: 1.3,
      unit: "kg/L",
      mixUps: [{ unit: "kg/m³", toOwn: (density) => density / 1000 }],
    }),
    ...(spec.latentHeatKjPerKg !== undefined && {
      latentHeatKjPerKg: requireWithin(`${where}.latentHeatKjPerKg`, spec.latentHeatKjPerKg, 50, 3000),
    }),
    ...(spec.lowerHeatingValueMjPerKg !== undefined && {
      lowerHeatingValueMjPerKg: requirePlausible(`${where}.lowerHeatingValueMjPerKg`, spec.lowerHeatingValueMjPerKg, {
        low: 5,
        high: 125,
        unit: "MJ/kg",
        mixUps: [
          { unit: "kJ/kg", toOwn: (heat) => heat / 1000 },
          { unit: "Btu/lb", toOwn: (heat) => heat * 0.002326 },
        ],
      }),
    }),
    ...(composition && { composition }),
  });
}

/**
 * Petrol of nominal composition CH1.87. Density 0.745 kg/L at 15 °C nominal; heating value and latent heat from Cengel &
 * Boles, Thermodynamics, table A-27 (other sources give 43.4 MJ/kg and 305 kJ/kg).
 */
const petrol = createFuel({
  name: "petrol",
  composition: { carbon: 1, hydrogen: 1.87, oxygen: 0 },
  densityKgPerL: 0.745,
  lowerHeatingValueMjPerKg: 44,
  latentHeatKjPerKg: 350,
});

/**
 * Density: US Department of Energy, properties of fuels (specific gravity at 60 °F). Heats at 298 K from NASA Glenn
 * enthalpies of formation; Cengel & Boles give 26.81 MJ/kg and 919 kJ/kg.
 */
const ethanol = createFuel({
  name: "ethanol",
  composition: { carbon: 2, hydrogen: 6, oxygen: 1 },
  densityKgPerL: 0.794,
  lowerHeatingValueMjPerKg: 26.807354,
  latentHeatKjPerKg: 923.8316,
});

/** Sources as for ethanol; Cengel & Boles give 19.92 MJ/kg and 1168 kJ/kg. Poisonous, and its flame is hard to see. */
const methanol = createFuel({
  name: "methanol",
  composition: { carbon: 1, hydrogen: 4, oxygen: 1 },
  densityKgPerL: 0.796,
  lowerHeatingValueMjPerKg: 19.919231,
  latentHeatKjPerKg: 1185.007,
});

/** Petrol with a share of ethanol, by volume (as pumps say it) or by mass; 0..100 %. */
export type EthanolShare = { readonly ethanolVolumePercent: number } | { readonly ethanolMassPercent: number };

/**
 * Petrol mixed with ethanol: ratio, heats and composition weighted by mass, volumes taken as additive.
 *
 * @example blendFuel({ ethanolVolumePercent: 85 }).stoichiometricRatio // 9.80
 * @throws FuelwrightError `out-of-range`, `bad-blend`
 */
export function blendFuel(
  share: EthanolShare,
  { base = petrol, added = ethanol }: { readonly base?: Fuel; readonly added?: Fuel } = {},
): Fuel {
  const byVolume = "ethanolVolumePercent" in share;
  const percent = requireWithin(
    `blendFuel: ${byVolume ? "ethanolVolumePercent" : "ethanolMassPercent"}`,
    byVolume ? share.ethanolVolumePercent : share.ethanolMassPercent,
    0,
    100,
  );
  const part = percent / 100;
  const addedKg = byVolume ? part * added.densityKgPerL : part;
  const baseKg = byVolume ? (1 - part) * base.densityKgPerL : 1 - part;
  const mass = addedKg / (addedKg + baseKg);
  const mixed = (from: number, to: number) => from * (1 - mass) + to * mass;
  const both = (key: "latentHeatKjPerKg" | "lowerHeatingValueMjPerKg") =>
    base[key] !== undefined && added[key] !== undefined ? { [key]: mixed(base[key], added[key]) } : {};
  return createFuel({
    name: `E${Number(percent.toPrecision(4))}${byVolume ? "" : " by mass"}`,
    stoichiometricRatio: mixed(base.stoichiometricRatio, added.stoichiometricRatio),
    densityKgPerL: 1 / ((1 - mass) / base.densityKgPerL + mass / added.densityKgPerL),
    ...both("latentHeatKjPerKg"),
    ...both("lowerHeatingValueMjPerKg"),
    ...(base.composition &&
      added.composition && { composition: mixCompositions(base.composition, added.composition, mass) }),
  });
}

/** Atoms of the mixture, told for one atom of carbon so that mixtures compare. */
function mixCompositions(base: Composition, added: Composition, addedMass: number): Composition {
  const baseMoles = (1 - addedMass) / molarMass(base);
  const addedMoles = addedMass / molarMass(added);
  const carbon = baseMoles * base.carbon + addedMoles * added.carbon;
  const per = carbon > 0 ? carbon : 1;
  return {
    carbon: carbon / per,
    hydrogen: (baseMoles * base.hydrogen + addedMoles * added.hydrogen) / per,
    oxygen: (baseMoles * base.oxygen + addedMoles * added.oxygen) / per,
  };
}

/** Fuels to start from; figures are nominal, and pump fuel varies: a measured density or a maker's sheet is better. */
export const fuels: Readonly<Record<"petrol" | "E10" | "E85" | "ethanol" | "methanol", Fuel>> = Object.freeze({
  petrol,
  E10: blendFuel({ ethanolVolumePercent: 10 }),
  E85: blendFuel({ ethanolVolumePercent: 85 }),
  ethanol,
  methanol,
});
