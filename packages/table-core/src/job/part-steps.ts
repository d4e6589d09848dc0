import * as v from "valibot";
import { changeDisplacement } from "../build/change-displacement.ts";
import { changeIntake, withParts } from "../build/change-intake.ts";
import { convertFuelTable } from "../build/convert-fuel-table.ts";
import { changeFuel } from "../fuel/change-fuel.ts";
import { createFuel } from "../fuel/fuel.ts";
import { carriedEntries, carryTables, withBuild } from "./carry-tables.ts";
import { finite, identifier, positive, region } from "./shapes.ts";
import { defineStep, requireTable, withTable } from "./step-definition.ts";

const name = v.exactOptional(v.string());
const figure = v.exactOptional(finite);

export const fuelShape = v.strictObject({
  name: v.string(),
  stoichiometricRatio: v.exactOptional(positive),
  densityKgPerL: positive,
  latentHeatKjPerKg: figure,
  lowerHeatingValueMjPerKg: figure,
  composition: v.exactOptional(v.strictObject({ carbon: finite, hydrogen: finite, oxygen: finite })),
});

export const intakeShape = v.strictObject({
  throttleBody: v.exactOptional(
    v.strictObject({ name, diameterMm: positive, count: figure, shaftMm: figure, dischargeCoefficient: figure }),
  ),
  manifold: v.exactOptional(
    v.strictObject({
      name,
      effectiveAreaMm2: figure,
      flowBench: v.exactOptional(
        v.strictObject({ litresPerSecond: finite, depressionKpa: finite, temperatureC: figure, barometricKpa: figure }),
      ),
      passages: figure,
    }),
  ),
  intake: v.exactOptional(
    v.strictObject({
      layout: v.picklist(["shared-plenum", "separate-pulses"]),
      openDegrees: figure,
      sensor: v.exactOptional(v.picklist(["before-manifold", "after-manifold"])),
    }),
  ),
});

/** Steps that carry tables over to another fuel, displacement, throttle body or manifold, and change the build with them. */
export const partSteps = [
  defineStep({
    kind: "change-fuel",
    schema: v.strictObject({ ...carriedEntries, to: fuelShape }),
    apply(state, { settings }) {
      const to = createFuel(settings.to, "change-fuel: to");
      const { state: carried, report } = carryTables("change-fuel", state, settings, (table, shared) =>
        changeFuel(table, { ...shared, from: state.build.fuel, to }),
      );
      return { state: withBuild(carried, { fuel: to }), report };
    },
  }),
  defineStep({
    kind: "change-displacement",
    schema: v.strictObject({ ...carriedEntries, toCc: positive, region: v.exactOptional(region) }),
    apply(state, { settings }) {
      const { engine } = state.build;
      const { toCc } = settings;
      const part = settings.region ? { region: settings.region } : {};
      const { state: carried, report } = carryTables("change-displacement", state, settings, (table, shared) =>
        changeDisplacement(table, { ...shared, ...part, fromCc: engine.displacementCc, toCc }),
      );
      return { state: withBuild(carried, { engine: Object.freeze({ ...engine, displacementCc: toCc }) }), report };
    },
  }),
  defineStep({
    kind: "change-intake",
    schema: v.strictObject({ ...carriedEntries, to: intakeShape, region: v.exactOptional(region) }),
    apply(state, { settings }) {
      const { to } = settings;
      const part = settings.region ? { region: settings.region } : {};
      const { state: carried, report } = carryTables("change-intake", state, settings, (table, shared) =>
        changeIntake(table, { ...shared, ...part, to }),
      );
      return { state: withBuild(carried, withParts(state.build, to)), report };
    },
  }),
  defineStep({
    kind: "convert-fuel-table",
    schema: v.strictObject({
      to: v.picklist(["pulse-width", "fuel-mass", "volumetric-efficiency"]),
      target: v.exactOptional(identifier),
      basePulse: v.exactOptional(identifier),
    }),
    apply(state, { table, settings: { to, target, basePulse } }) {
      const find = (id: string) => requireTable("convert-fuel-table", state, id);
      const { table: told, ...report } = convertFuelTable(requireTable("convert-fuel-table", state, table), {
        build: state.build,
        to,
        ...(target !== undefined && { target: find(target) }),
        ...(basePulse !== undefined && { basePulse: find(basePulse) }),
      });
      return { state: withTable(state, told), report };
    },
  }),
] as const;
