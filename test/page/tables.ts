import { type BuildSpec, fuels, type InjectorSpec } from "@fuelwright/table-core";

// Everything here is invented.

export const rpms = [800, 1100, 1500, 2000, 2600, 3200, 4000, 4800, 5600, 6400] as const;

/** Manifold pressures of a gauge marked in pounds per square inch. */
export const psis = [4, 6, 8, 10, 12, 14] as const;

/** One pound-force per square inch in kPa: 0.45359237 kg × 9.80665 m/s² over (25.4 mm)², by definition. */
export const kPa = (psi: number): number => (psi * 0.45359237 * 9.80665) / (25.4 * 25.4 * 1e-3);

/** Pulse widths in ms, with the odd last digits of a table that was found by trying. */
export const pulseRows: readonly (readonly number[])[] = psis.map((psi, row) =>
  rpms.map((rpm, column) =>
    Number((1.3 + psi * 0.66 * (0.8 + 0.2 * Math.sin(rpm / 1700)) + 0.013 * ((row * 7 + column * 3) % 5)).toFixed(3)),
  ),
);

/** As a spreadsheet with decimal commas saves it: highest load first, and no word that says what anything is. */
export const pulsesAsSheetSaves = [["", ...rpms], ...psis.map((psi, row) => [psi, ...pulseRows[row]!]).toReversed()]
  .map((line) => line.map((value) => String(value).replace(".", ",")).join(";"))
  .join("\r\n");

export const injectorsOut: InjectorSpec = {
  name: "small set",
  flowGramsPerSecond: 2.45,
  ratedPressureKpa: 300,
  testDensityKgPerL: 0.684,
  deadTime: [
    { volts: 9, ms: 1.71 },
    { volts: 11, ms: 1.24 },
    { volts: 13, ms: 0.93 },
    { volts: 15, ms: 0.76 },
  ],
  smallestPulseMs: 1.2,
};

export const injectorsIn: InjectorSpec = {
  name: "large set",
  flowGramsPerSecond: 3.6,
  ratedPressureKpa: 300,
  testDensityKgPerL: 0.684,
  deadTime: 0.98,
  smallestPulseMs: 2.9,
};

export const engineBuild: BuildSpec = {
  engine: { displacementCc: 449, cylinders: 1, revLimitRpm: 7200, injectionsPerCycle: 1 },
  fuel: fuels.petrol,
  injectors: injectorsOut,
  rail: { kind: "fixed", pressureKpa: 350 },
  battery: { volts: 13.8 },
  place: { altitudeM: 120, temperatureC: 24 },
};
