import { FuelwrightError } from "../values/errors.ts";
import type { ParseExpression } from "./mathjs-engine.ts";

let parse: ParseExpression | undefined;

/** Loads what expressions need; to be awaited once before the first. Called again after a failure it tries again. */
export async function prepareExpressions(): Promise<void> {
  parse ??= (await import("./mathjs-engine.ts")).parseExpression;
}

/** The parser. @throws FuelwrightError `expressions-not-loaded` */
export function expressionParser(): ParseExpression {
  if (!parse)
    throw new FuelwrightError(
      "expressions-not-loaded",
      "expressions: the parser must be loaded first, got none; await prepareExpressions() once before the first expression",
    );
  return parse;
}
