import * as v from "valibot";
import { evaluateCells } from "../cells/evaluate-cells.ts";
import { limitCells } from "../cells/limit-cells.ts";
import { lockCells, unlockCells } from "../cells/lock-cells.ts";
import { offsetCells } from "../cells/offset-cells.ts";
import { pasteCells } from "../cells/paste-cells.ts";
import { scaleCells } from "../cells/scale-cells.ts";
import { setCells } from "../cells/set-cells.ts";
import { finite, region, withRegion } from "./shapes.ts";
import { tableStep } from "./step-definition.ts";

const side = v.pipe(v.array(finite), v.minLength(1), v.maxLength(256));

/** Steps that change cells of one table by themselves. */
export const editSteps = [
  tableStep("set-cells", withRegion({ value: finite }), setCells),
  tableStep("scale-cells", withRegion({ factor: finite }), scaleCells),
  tableStep("offset-cells", withRegion({ amount: finite }), offsetCells),
  tableStep("limit-cells", withRegion({ min: v.exactOptional(finite), max: v.exactOptional(finite) }), limitCells),
  tableStep(
    "evaluate-cells",
    withRegion({ expression: v.pipe(v.string(), v.maxLength(2000)) }),
    (table, settings, { tables }) => evaluateCells(table, { ...settings, tables }),
  ),
  tableStep(
    "paste-cells",
    v.strictObject({ rpm: side, load: side, cells: v.pipe(v.array(side), v.minLength(1), v.maxLength(256)) }),
    pasteCells,
  ),
  tableStep("lock-cells", v.strictObject({ region }), lockCells),
  tableStep("unlock-cells", withRegion({}), unlockCells),
] as const;
