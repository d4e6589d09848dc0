import { type ParseExpression, parseExpression } from "./mathjs-engine.ts";

/** Done at once: here the parser is loaded with the rest. In browsers it loads what expressions need. */
export async function prepareExpressions(): Promise<void> {}

/** The parser. */
export const expressionParser = (): ParseExpression => parseExpression;
