import {
  checkExpression,
  type FuelTable,
  FuelwrightError,
  prepareExpressions,
  type Region,
  type Step,
} from "@fuelwright/table-core";
import { makeStep } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { cellDisplay } from "../../store/display.ts";

const NUMBER = /^[+−-]?(\d+([.,]\d*)?|[.,]\d+)$/;

/**
 * The step that typed text asks for: a number sets the region, anything else is an expression over its cells.
 *
 * @returns null while the text is empty
 * @throws FuelwrightError that says at which character the text is wrong
 */
export async function typedStep(desk: Desk, table: FuelTable, text: string, region: Region): Promise<Step | null> {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  if (NUMBER.test(trimmed)) {
    const display = cellDisplay(table, desk.preferences, desk.shown.build.fuel);
    const value = display.read(Number(trimmed.replace("−", "-").replace(",", ".")));
    return makeStep(desk.job, "set-cells", table.id, { region, value });
  }
  await prepareExpressions();
  const wrong = checkExpression(trimmed, Object.keys(desk.shown.tables));
  if (wrong)
    throw new FuelwrightError("wrong-expression", `${wrong.message} (character ${wrong.at + 1})`, { at: wrong.at });
  return makeStep(desk.job, "evaluate-cells", table.id, { region, expression: trimmed });
}
