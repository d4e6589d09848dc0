import * as mathjs from "mathjs/number";
import { ExpressionError } from "./expression-fault.ts";
import { type ExpressionNode, nodeClasses } from "./expression-node.ts";

/** Turns a scanned expression into its tree. */
export type ParseExpression = (text: string) => ExpressionNode;

type CreateParse = (parts: Readonly<Record<string, unknown>>) => (text: string) => unknown;

/**
 * The parser of mathjs, and nothing else of it.
 *
 * It is made by mathjs's own factory, which is told what to build trees from: our nodes, and a reader of numbers. None
 * of its functions, scopes, matrices or units is loaded, so none can be reached, and its bundle is a tenth of the whole.
 */
// The type declarations of mathjs leave its factories out.
const parse = (mathjs as unknown as { createParse: CreateParse }).createParse({
  // The parser asks for its typed functions only to choose between text and lists of texts.
  typed: Object.assign((_name: string, choices: { string: (text: string) => unknown }) => choices.string, {
    addConversion: () => {},
  }),
  config: { number: "number" },
  numeric: (text: string) => Number(text),
  ...nodeClasses,
});

/** @throws ExpressionError at the character that the parser names */
export const parseExpression: ParseExpression = (text) => {
  try {
    return parse(text) as ExpressionNode;
  } catch (error) {
    if (error instanceof ExpressionError) throw error;
    const { char = 1 } = error as { readonly char?: number };
    throw new ExpressionError("this has no place here", Math.min(Math.max(char - 1, 0), text.length));
  }
};
