/** The gases that a flame is taken to be made of, in the order of all arrays here. */
export const flameSpecies = ["CO2", "H2O", "N2", "O2", "CO", "H2", "H", "O", "OH", "NO"] as const;
/** One of {@link flameSpecies}. */
export type FlameSpecies = (typeof flameSpecies)[number];

/** Elements, in the order of {@link SpeciesData.atoms}. */
export const flameElements = ["C", "H", "O", "N"] as const;

/** Molar gas constant, J/(mol K) (exact, SI 2019). */
export const GAS_CONSTANT = 8.314462618;

/** Pressure at which the entropies hold, kPa. */
export const STANDARD_PRESSURE_KPA = 100;

/** a1..a7 below and above 1000 K. */
export interface SpeciesData {
  readonly atoms: readonly [carbon: number, hydrogen: number, oxygen: number, nitrogen: number];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** Where the low and high polynomials meet, K. */
const MIDDLE_K = 1000;

/**
 * NASA seven-coefficient polynomials of the ten gases.
 *
 * Source: GRI-Mech 3.0 thermodynamic data, 7/30/99 (G. P. Smith et al.), valid to 3500 K at least. The entropy of N2 is a
 * 1 atm value, the others hold at 1 bar: under 0.4 K of flame temperature. OH stands at 39.35 kJ/mol here, NASA's 2002
 * compilation has 37.28: about 1 K.
 */
export const speciesData: Readonly<Record<FlameSpecies, SpeciesData>> = {
  CO2: {
    atoms: [1, 0, 2, 0],
    low: [2.35677352, 0.00898459677, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13, -48371.9697, 9.90105222],
    high: [3.85746029, 0.00441437026, -2.21481404e-6, 5.23490188e-10, -4.72084164e-14, -48759.166, 2.27163806],
  },
  H2O: {
    atoms: [0, 2, 1, 0],
    low: [4.19864056, -0.0020364341, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12, -30293.7267, -0.849032208],
    high: [3.03399249, 0.00217691804, -1.64072518e-7, -9.7041987e-11, 1.68200992e-14, -30004.2971, 4.9667701],
  },
  N2: {
    atoms: [0, 0, 0, 2],
    low: [3.298677, 0.0014082404, -3.963222e-6, 5.641515e-9, -2.444854e-12, -1020.8999, 3.950372],
    high: [2.92664, 0.0014879768, -5.68476e-7, 1.0097038e-10, -6.753351e-15, -922.7977, 5.980528],
  },
  O2: {
    atoms: [0, 0, 2, 0],
    low: [3.78245636, -0.00299673416, 9.84730201e-6, -9.68129509e-9, 3.24372837e-12, -1063.94356, 3.65767573],
    high: [3.28253784, 0.00148308754, -7.57966669e-7, 2.09470555e-10, -2.16717794e-14, -1088.45772, 5.45323129],
  },
  CO: {
    atoms: [1, 0, 1, 0],
    low: [3.57953347, -0.00061035368, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13, -14344.086, 3.50840928],
    high: [2.71518561, 0.00206252743, -9.98825771e-7, 2.30053008e-10, -2.03647716e-14, -14151.8724, 7.81868772],
  },
  H2: {
    atoms: [0, 2, 0, 0],
    low: [2.34433112, 0.00798052075, -1.9478151e-5, 2.01572094e-8, -7.37611761e-12, -917.935173, 0.683010238],
    high: [3.3372792, -4.94024731e-5, 4.99456778e-7, -1.79566394e-10, 2.00255376e-14, -950.158922, -3.20502331],
  },
  H: {
    atoms: [0, 1, 0, 0],
    low: [2.5, 7.05332819e-13, -1.99591964e-15, 2.30081632e-18, -9.27732332e-22, 25473.6599, -0.446682853],
    high: [2.50000001, -2.30842973e-11, 1.61561948e-14, -4.73515235e-18, 4.98197357e-22, 25473.6599, -0.446682914],
  },
  O: {
    atoms: [0, 0, 1, 0],
    low: [3.1682671, -0.00327931884, 6.64306396e-6, -6.12806624e-9, 2.11265971e-12, 29122.2592, 2.05193346],
    high: [2.56942078, -8.59741137e-5, 4.19484589e-8, -1.00177799e-11, 1.22833691e-15, 29217.5791, 4.78433864],
  },
  OH: {
    atoms: [0, 1, 1, 0],
    low: [3.99201543, -0.00240131752, 4.61793841e-6, -3.88113333e-9, 1.3641147e-12, 3615.08056, -0.103925458],
    high: [3.09288767, 0.000548429716, 1.26505228e-7, -8.79461556e-11, 1.17412376e-14, 3858.657, 4.4766961],
  },
  NO: {
    atoms: [0, 0, 1, 1],
    low: [4.2184763, -0.004638976, 1.1041022e-5, -9.3361354e-9, 2.803577e-12, 9844.623, 2.2808464],
    high: [3.2606056, 0.0011911043, -4.2917048e-7, 6.9457669e-11, -4.0336099e-15, 9920.9746, 6.3693027],
  },
};

/** What a gas holds at one temperature, in units of the gas constant. */
export interface GasState {
  /** h / RT, formation at 298.15 K included. */
  enthalpy: number;
  /** s0 / R at the standard pressure. */
  entropy: number;
  /** cp / R. */
  heatCapacity: number;
}

/**
 * Enthalpy, entropy and heat capacity of one gas at a temperature, written into `out`.
 *
 * cp/R = a1 + a2 T + … + a5 T⁴; h/RT = a1 + a2 T/2 + … + a5 T⁴/5 + a6/T; s0/R = a1 ln T + a2 T + … + a5 T⁴/4 + a7.
 */
export function gasState({ low, high }: SpeciesData, kelvin: number, logKelvin: number, out: GasState): GasState {
  const a = kelvin < MIDDLE_K ? low : high;
  const t = kelvin;
  const [a1, a2, a3, a4, a5, a6, a7] = a as [number, number, number, number, number, number, number];
  out.heatCapacity = a1 + t * (a2 + t * (a3 + t * (a4 + t * a5)));
  out.enthalpy = a1 + t * (a2 / 2 + t * (a3 / 3 + t * (a4 / 4 + (t * a5) / 5))) + a6 / t;
  out.entropy = a1 * logKelvin + t * (a2 + t * (a3 / 2 + t * (a4 / 3 + (t * a5) / 4))) + a7;
  return out;
}

/** Enthalpy of one gas in kJ/mol, formation at 298.15 K included. */
export function gasEnthalpy(species: FlameSpecies, kelvin: number): number {
  const state = gasState(speciesData[species], kelvin, Math.log(kelvin), { enthalpy: 0, entropy: 0, heatCapacity: 0 });
  return (state.enthalpy * GAS_CONSTANT * kelvin) / 1000;
}
