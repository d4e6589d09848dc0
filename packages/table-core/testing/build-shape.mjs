import * as v from "valibot";
import { injectorShape } from "../dist/job/injector-steps.js";
import { fuelShape, intakeShape } from "../dist/job/part-steps.js";
import { finite, positive } from "../dist/job/shapes.js";

/**
 * The build and the colour scheme for the JSON Schema. The library checks both in full where it makes them (ranges, mix-ups of
 * units, curves that rise), which a schema can't say; here is only what keys and kinds of values there are.
 */
const optional = v.exactOptional;
const pointOfPump = v.strictObject({ pressureKpa: finite, litresPerHour: finite, volts: optional(positive) });

const parts = {
  ...intakeShape.entries,
  pump: optional(
    v.strictObject({
      name: optional(v.string()),
      curve: v.pipe(v.array(pointOfPump), v.minLength(1)),
      ratedVolts: optional(positive),
      lossKpa: optional(finite),
    }),
  ),
};
const rail = v.strictObject({ kind: v.picklist(["manifold-referenced", "fixed"]), pressureKpa: positive });

const stage = v.strictObject({
  name: v.string(),
  note: optional(v.string()),
  displacementCc: optional(positive),
  revLimitRpm: optional(positive),
  fuel: optional(fuelShape),
  injectors: optional(injectorShape),
  rail: optional(rail),
  ...parts,
  airCurve: optional(v.pipe(v.array(v.strictObject({ rpm: finite, factor: positive })), v.minLength(1))),
});

export const buildShape = v.strictObject({
  engine: v.strictObject({
    displacementCc: positive,
    cylinders: positive,
    revLimitRpm: positive,
    injectionsPerCycle: v.picklist([1, 2]),
    injectorsPerCylinder: optional(positive),
    volumetricEfficiencyPercent: optional(positive),
    chargeTemperatureC: optional(finite),
    brakeSpecificFuelConsumptionGPerKwh: optional(positive),
    idleRpm: optional(positive),
  }),
  fuel: fuelShape,
  injectors: injectorShape,
  rail,
  battery: v.strictObject({ volts: positive }),
  place: v.strictObject({
    altitudeM: finite,
    temperatureC: finite,
    relativeHumidityPercent: optional(finite),
    barometricKpa: optional(positive),
  }),
  planning: optional(v.strictObject({ dutyPercent: positive })),
  ...parts,
  stages: optional(v.pipe(v.array(stage), v.maxLength(50))),
});

const colour = v.pipe(v.string(), v.regex(/^#[0-9a-fA-F]{6}$/));

export const schemeShape = v.strictObject({
  name: v.string(),
  less: colour,
  middle: v.union([v.literal("paper"), colour]),
  more: colour,
  span: v.union([
    v.strictObject({ kind: v.picklist(["automatic", "symmetrical"]) }),
    v.strictObject({ kind: v.literal("fixed"), percent: positive }),
  ]),
  steps: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(10)),
});
