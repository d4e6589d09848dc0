import { compileExpression } from "./compile-expression.ts";
import type { ExpressionFault } from "./expression-fault.ts";
import { expressionSlots } from "./expression-names.ts";

/**
 * What is wrong with an expression and at which character (from 0), or null: to be asked while someone types.
 *
 * @param text - may be anything; it is read, never run
 * @param tables - ids of the tables that it may use beside `cell`, `rpm`, `load` and `weight`, under the names that
 *   `expressionName` makes of them
 * @example checkExpression("cell * 1,05") // { message: "a comma stands between …", at: 8 }
 * @throws FuelwrightError `expressions-not-loaded` in a browser before `await prepareExpressions()`
 */
export function checkExpression(text: string, tables: readonly string[] = []): ExpressionFault | null {
  const compiled = compileExpression(text, expressionSlots(tables));
  return "run" in compiled ? null : compiled;
}
