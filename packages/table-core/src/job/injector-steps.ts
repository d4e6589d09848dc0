import * as v from "valibot";
import { blendTables } from "../cells/blend-tables.ts";
import { setCells } from "../cells/set-cells.ts";
import { createInjector } from "../fuel/injector.ts";
import { rescaleForInjectors } from "../fuel/rescale-for-injectors.ts";
import { retargetMixture } from "../fuel/retarget-mixture.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { carriedEntries, carryTables, withBuild } from "./carry-tables.ts";
import { finite, identifier, positive, region } from "./shapes.ts";
import type { JobState } from "./step.ts";
import { defineStep, requireTable, type StepContext, withTable } from "./step-definition.ts";
import { referredTable, tableReference } from "./table-steps.ts";

const deadTimePoint = v.strictObject({ volts: positive, ms: finite, pressureKpa: v.exactOptional(positive) });

/** An injector as `createInjector` takes it, which checks it in full. */
export const injectorShape = v.strictObject({
  name: v.string(),
  flowGramsPerSecond: positive,
  ratedPressureKpa: positive,
  testDensityKgPerL: v.exactOptional(positive),
  deadTime: v.union([finite, v.array(deadTimePoint)]),
  shortPulse: v.exactOptional(v.array(v.strictObject({ effectiveMs: finite, deliveredMs: finite }))),
  smallestPulseMs: v.exactOptional(finite),
});

/** A mixture, as one lambda or as a lambda table, now (left out) or as it stood after a step. */
const mixtureShape = v.union([positive, tableReference]);
type Mixture = v.InferOutput<typeof mixtureShape>;

function mixtureOf(mixture: Mixture, state: JobState, context: StepContext): number | FuelTable {
  return typeof mixture === "number" ? mixture : referredTable("retarget-mixture", mixture, state, context);
}

/** Steps that carry tables over to other parts or another mixture. */
export const injectorSteps = [
  defineStep({
    kind: "rescale-for-injectors",
    schema: v.strictObject({
      /** The tables to carry over; pulse widths and trims change, others are kept and reported. */
      ...carriedEntries,
      to: injectorShape,
      closedCells: v.exactOptional(v.picklist(["refuse", "keep"])),
    }),
    apply(state, { settings }) {
      const { build } = state;
      const to = createInjector(settings.to, "rescale-for-injectors: to");
      const { state: carried, report } = carryTables("rescale-for-injectors", state, settings, (table, shared) =>
        rescaleForInjectors(table, {
          ...shared,
          from: build.injectors,
          to,
          ...(settings.closedCells && { closedCells: settings.closedCells }),
        }),
      );
      return { state: withBuild(carried, { injectors: to }), report };
    },
  }),
  defineStep({
    kind: "retarget-mixture",
    schema: v.strictObject({
      region: v.exactOptional(region),
      from: mixtureShape,
      to: mixtureShape,
      basePulse: v.exactOptional(identifier),
      /** The target table that is to say the new mixture from now on. */
      target: v.exactOptional(identifier),
    }),
    apply(state, { table: id, settings }, context) {
      const part = settings.region ? { region: settings.region } : {};
      const to = mixtureOf(settings.to, state, context);
      const base = settings.basePulse;
      const { table, report } = retargetMixture(requireTable("retarget-mixture", state, id), {
        ...part,
        from: mixtureOf(settings.from, state, context),
        to,
        build: state.build,
        ...(base !== undefined && { basePulse: requireTable("retarget-mixture", state, base) }),
      });
      let next = withTable(state, table);
      if (settings.target !== undefined) {
        const target = requireTable("retarget-mixture", state, settings.target);
        next = withTable(
          next,
          typeof to === "number"
            ? setCells(target, { ...part, value: to })
            : blendTables(target, { ...part, with: to, weight: 1 }),
        );
      }
      return { state: next, report };
    },
  }),
] as const;
