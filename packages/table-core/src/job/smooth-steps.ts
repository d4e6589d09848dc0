import * as v from "valibot";
import { compareTables } from "../cells/compare-tables.ts";
import { describeSmoothing, smoothCells } from "../cells/smooth-cells.ts";
import { finite, positive, region, withRegion } from "./shapes.ts";
import { tableStep } from "./step-definition.ts";

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
] as const;
