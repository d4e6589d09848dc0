import { expect, test } from "vitest";
import { ExpressionError } from "./expression-fault.ts";
import { parseExpression } from "./mathjs-engine.ts";

/** What a text that cannot be parsed is refused with. */
function faultOf(text: string): ExpressionError["fault"] {
  try {
    parseExpression(text);
  } catch (error) {
    if (error instanceof ExpressionError) return error.fault;
    throw error;
  }
  return expect.unreachable(`parsed ${text}`);
}

test("what the parser cannot read is refused at its character, also past the scan", () => {
  expect(faultOf("1 + * 2")).toEqual({ message: "this has no place here", at: 4 });
  expect(faultOf("* 2").at).toBe(0);
  // At the end, and never beyond it.
  expect(faultOf("(1").at).toBe(2);
  expect(faultOf("1 +").at).toBe(3);
});

test("what our own nodes refuse keeps their words", () => {
  expect(faultOf("[1, 2]").message).toBe("this cannot be used here");
});
