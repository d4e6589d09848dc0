import { plainRefusal } from "./plain-refusal.ts";

/** What a figure of the build is called, by the last key of its path. */
const figures: Readonly<Record<string, string>> = {
  displacementCc: "displacement",
  cylinders: "number of cylinders",
  revLimitRpm: "rev limit",
  idleRpm: "idle speed",
  injectionsPerCycle: "injections in a cycle",
  injectorsPerCylinder: "injectors per cylinder",
  volumetricEfficiencyPercent: "volumetric efficiency",
  chargeTemperatureC: "air temperature at the valve",
  brakeSpecificFuelConsumptionGPerKwh: "fuel for a kilowatt-hour",
  name: "name",
  note: "note",
  stoichiometricRatio: "stoichiometric ratio",
  densityKgPerL: "density",
  lowerHeatingValueMjPerKg: "heating value",
  latentHeatKjPerKg: "latent heat",
  ethanolVolumePercent: "share of ethanol",
  flowGramsPerSecond: "flow",
  ratedPressureKpa: "rated pressure",
  testDensityKgPerL: "density of the test fluid",
  smallestPulseMs: "smallest repeatable pulse",
  deadTime: "dead time",
  pressureKpa: "pressure",
  litresPerHour: "flow",
  volts: "voltage",
  ratedVolts: "rated voltage",
  lossKpa: "loss in filter and line",
  curve: "curve",
  dutyPercent: "planning ceiling",
  altitudeM: "altitude",
  temperatureC: "temperature",
  relativeHumidityPercent: "humidity",
  barometricKpa: "barometric pressure",
  diameterMm: "bore",
  count: "count",
  shaftMm: "shaft",
  dischargeCoefficient: "discharge coefficient",
  effectiveAreaMm2: "effective area",
  flowBench: "flow bench figure",
  litresPerSecond: "flow on the bench",
  depressionKpa: "depression on the bench",
  passages: "number of passages",
  layout: "layout",
  openDegrees: "open crank degrees",
  sensor: "place of the sensor",
  airCurve: "air curve",
  factor: "factor",
  powerKw: "power",
};

/** What a part is called where the figure alone would not tell it. */
const parts: Readonly<Record<string, string>> = {
  fuel: "the fuel",
  injectors: "the injectors",
  rail: "the rail",
  battery: "the battery",
  throttleBody: "the throttle body",
  manifold: "the manifold",
  intake: "the intake",
  pump: "the pump",
};

/**
 * A path of the build in words, or null for one it doesn't know.
 *
 * @example sayPath("build.stages[1].pump.curve[0].litresPerHour") // "flow of the pump, point 1, stage 2"
 */
export function sayPath(path: string): string | null {
  const keys = path.split(".").map((key) => /^(\w+)(?:\[(\d+)\])?$/.exec(key));
  const last = keys.at(-1)?.[1] ?? "";
  const known = figures[last] ?? parts[last];
  if (!known || keys.includes(null)) return null;
  const part = keys.slice(0, -1).map((key) => parts[key![1]!]);
  const of = part.find((name) => name !== undefined && name !== known);
  const places = keys
    .filter((key) => key![2] !== undefined)
    .map((key) => `${key![1] === "stages" ? "stage" : "point"} ${Number(key![2]) + 1}`)
    .reverse();
  return [of ? `${known} of ${of}` : known, ...places].join(", ");
}

/**
 * A refusal of the library as it stands at a field: its head, an operation and a path, told in the words of the page; of
 * a path it doesn't know only the operation is dropped.
 *
 * @example sayRefusal("build.rail.pressureKpa must be above 0, got -1; …") // "Pressure of the rail must be above 0, got -1; …"
 */
export function sayRefusal(sentence: string): string {
  const head = /^(?:\w+: )?((?:\w+(?:\[\d+\])?\.)*\w+(?:\[\d+\])?)(?= must | has )/.exec(sentence);
  const words = head && sayPath(head[1]!);
  if (!words) return plainRefusal(sentence);
  return words.charAt(0).toUpperCase() + words.slice(1) + sentence.slice(head[0].length);
}
