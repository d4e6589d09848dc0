import { expressionParser } from "#expression-engine";
import { say } from "../values/require.ts";
import { ExpressionError, type ExpressionFault } from "./expression-fault.ts";
import type { Slots } from "./expression-names.ts";
import type { Run } from "./expression-node.ts";
import { scanExpression } from "./scan-expression.ts";

/** An expression ready to run, and the slots that it reads. */
export interface Compiled {
  readonly run: Run;
  readonly reads: ReadonlySet<number>;
}

/** Scans, parses and compiles an expression, or gives its fault. @throws FuelwrightError `expressions-not-loaded` */
export function compileExpression(text: unknown, slots: Slots): Compiled | ExpressionFault {
  const parse = expressionParser();
  try {
    if (typeof text !== "string") throw new ExpressionError(`it must be text, got ${say(text)}`, 0);
    const tree = parse(scanExpression(text, slots));
    if (tree.yesNo) throw new ExpressionError("a condition is no number; choose with condition ? one : other", 0);
    const reads = new Set<number>();
    return { run: tree.compile(slots, reads), reads };
  } catch (error) {
    if (error instanceof ExpressionError) return error.fault;
    throw error;
  }
}
