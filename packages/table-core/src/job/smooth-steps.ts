import * as v from "valibot";
import { compareTables } from "../cells/compare-tables.ts";
import { extrapolateCells } from "../cells/extrapolate-cells.ts";
import { fillCells } from "../cells/fill-cells.ts";
import { describeSmoothing, smoothCells } from "../cells/smooth-cells.ts";
import { finite, positive, region, withRegion } from "./shapes.ts";
import { defineStep, requireTable, tableStep, withTable } from "./step-definition.ts";

const places = v.pipe(v.array(finite), v.maxLength(254));
const strength = v.pipe(finite, v.minValue(0));

/** Steps that bring cells in line with their neighbours. */
export const smoothSteps = [
  tableStep(
    "smooth-cells",
    withRegion({
      strength: v.exactOptional(v.union([strength, v.literal("auto")])),
      rpmStrength: v.exactOptional(strength),
      loadStrength: v.exactOptional(strength),
      weights: v.exactOptional(v.array(v.strictObject({ region, weight: strength }))),
      hold: v.exactOptional(v.picklist(["rim", "locked"])),
      mostChange: v.exactOptional(positive),
    }),
    smoothCells,
    (before, after, settings) => ({
      smoothing: describeSmoothing(before, settings),
      comparison: compareTables(before, after),
    }),
  ),
  tableStep(
    "fill-cells",
    v.strictObject({ region, along: v.exactOptional(v.picklist(["rpm", "load", "both"])) }),
    fillCells,
    compareTables,
  ),
  defineStep({
    kind: "extrapolate-cells",
    schema: v.strictObject({
      rpm: v.exactOptional(places),
      load: v.exactOptional(places),
      trendOver: v.exactOptional(finite),
      fade: v.exactOptional(finite),
    }),
    apply(state, { table, settings }) {
      const wider = extrapolateCells(requireTable("extrapolate-cells", state, table), settings);
      const { extrapolated, heldAtZero } = wider;
      return { state: withTable(state, wider.table), report: { extrapolated, heldAtZero } };
    },
  }),
] as const;
