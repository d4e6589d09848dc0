import { expect, test } from "vitest";
import { ExpressionError } from "./expression-fault.ts";
import type { Slots } from "./expression-names.ts";
import { type ExpressionNode, nodeClasses } from "./expression-node.ts";

const { ConstantNode, SymbolNode, ParenthesisNode, OperatorNode, RelationalNode, ConditionalNode, FunctionNode } =
  nodeClasses;
const slots: Slots = new Map([
  ["a", 0],
  ["b", 1],
]);
const a = new SymbolNode("a");
const b = new SymbolNode("b");
const number = (value: number) => new ConstantNode(value);
const operator = (fn: string, ...args: ExpressionNode[]) => new OperatorNode("", fn, args);
const run = (node: ExpressionNode, ...values: number[]) => node.compile(slots, new Set())(Float64Array.from(values));

test("it reads the slots of the names it has, and no others", () => {
  const reads = new Set<number>();
  operator("add", number(1), new ParenthesisNode(b)).compile(slots, reads);
  expect([...reads]).toEqual([1]);
  expect(() => new SymbolNode("c").compile(slots, new Set())).toThrow(ExpressionError);
});

test.each<[string, number, number, number]>([
  ["add", 2, 3, 5],
  ["subtract", 2, 3, -1],
  ["multiply", 2, 3, 6],
  ["divide", 3, 2, 1.5],
  ["pow", 2, 3, 8],
  ["pow", 4, -0.5, 0.5],
  // −3 is −2 · 2 and 1 more, 3 is −2 · −2 and −1 more.
  ["mod", -3, 2, 1],
  ["mod", 3, -2, -1],
  ["equal", 2, 3, 0],
  ["equal", 3, 3, 1],
  ["unequal", 2, 3, 1],
  ["unequal", 3, 3, 0],
  ["smaller", 2, 3, 1],
  ["smaller", 3, 3, 0],
  ["smaller", 3, 2, 0],
  ["smallerEq", 2, 3, 1],
  ["smallerEq", 3, 3, 1],
  ["smallerEq", 3, 2, 0],
  ["larger", 2, 3, 0],
  ["larger", 3, 3, 0],
  ["larger", 3, 2, 1],
  ["largerEq", 2, 3, 0],
  ["largerEq", 3, 3, 1],
  ["largerEq", 3, 2, 1],
  ["and", 2, 0, 0],
  ["and", 2, -1, 1],
  ["and", 0, 2, 0],
  ["or", 0, 0, 0],
  ["or", 2, 0, 1],
  ["or", 0, 2, 1],
  ["xor", 0, 0, 0],
  ["xor", 0, 2, 1],
  ["xor", 2, 0, 1],
  ["xor", 2, 3, 0],
])("%s of %d and %d is %d", (fn, x, y, result) => {
  expect(run(operator(fn, a, b), x, y)).toBe(result);
});

test.each<[string, number, number]>([
  ["unaryMinus", 2, -2],
  ["unaryPlus", -2, -2],
  ["not", 2, 0],
  ["not", 0, 1],
  ["not", Number.NaN, Number.NaN],
])("%s of %d is %d", (fn, x, result) => {
  expect(run(operator(fn, a), x)).toBe(result);
});

test("what is asked of NaN is NaN, unless the first part has settled it", () => {
  for (const fn of ["equal", "unequal", "smaller", "smallerEq", "larger", "largerEq", "xor"]) {
    expect(run(operator(fn, a, b), Number.NaN, 1)).toBeNaN();
    expect(run(operator(fn, a, b), 1, Number.NaN)).toBeNaN();
  }
  for (const fn of ["and", "or"]) expect(run(operator(fn, a, b), Number.NaN, 1)).toBeNaN();
  expect(run(operator("and", a, b), 1, Number.NaN)).toBeNaN();
  expect(run(operator("and", a, b), 0, Number.NaN)).toBe(0);
  expect(run(operator("or", a, b), 0, Number.NaN)).toBeNaN();
  expect(run(operator("or", a, b), 1, Number.NaN)).toBe(1);
});

test("in a chain every pair has to hold, and the first that does not ends it", () => {
  const chain = (x: number, y: number, z: number, ...signs: string[]) =>
    run(new RelationalNode(signs, [number(x), number(y), number(z)]));
  expect(chain(1, 2, 2, "smaller", "smallerEq")).toBe(1);
  expect(chain(1, 2, 2, "smaller", "smaller")).toBe(0);
  expect(chain(3, 2, 9, "smaller", "smaller")).toBe(0);
  expect(chain(3, 2, Number.NaN, "smaller", "smaller")).toBe(0);
  expect(chain(Number.NaN, 2, 9, "smaller", "smaller")).toBeNaN();
  expect(() => chain(1, 2, 3, "smaller", "add")).toThrow(ExpressionError);
});

test("a condition chooses one of two; what could not be computed chooses neither", () => {
  const choose = (value: number) => run(new ConditionalNode(a, number(5), number(7)), value);
  expect([choose(1), choose(-2), choose(0)]).toEqual([5, 5, 7]);
  expect(choose(Number.NaN)).toBeNaN();
});

test("functions take one part, two, or more", () => {
  const call = (name: string, ...args: ExpressionNode[]) => run(new FunctionNode(new SymbolNode(name), args), 8, 2);
  expect(call("sqrt", number(9))).toBe(3);
  expect(call("log", a, b)).toBe(3);
  expect(call("max", number(1), b, a, number(3))).toBe(8);
  expect(() => call("sqrt")).toThrow(ExpressionError);
  expect(() => call("eval", a)).toThrow(ExpressionError);
  expect(() => run(new FunctionNode(operator("add", a, b), [a]), 1, 2)).toThrow(ExpressionError);
});

test("what says yes or no is known from what is a number", () => {
  const condition = operator("smaller", a, b);
  for (const fn of ["equal", "unequal", "smallerEq", "larger", "largerEq", "and", "or", "xor", "not"])
    expect(operator(fn, a, b).yesNo).toBe(true);
  expect(new RelationalNode(["smaller"], [a, b]).yesNo).toBe(true);
  expect(new ParenthesisNode(condition).yesNo).toBe(true);
  expect(new ConditionalNode(condition, condition, number(1)).yesNo).toBe(true);
  expect(new ConditionalNode(condition, number(1), condition).yesNo).toBe(true);
  for (const one of [
    number(1),
    a,
    operator("add", condition, condition),
    new ParenthesisNode(a),
    new ConditionalNode(condition, a, b),
    new FunctionNode(new SymbolNode("max"), [condition]),
  ])
    expect(one.yesNo).toBe(false);
});

test("the parser recognises each part, and percentages also in brackets", () => {
  const percent = new OperatorNode("/", "divide", [a, number(100)], false, true);
  expect(new ParenthesisNode(percent).isPercentage).toBe(true);
  expect(new ParenthesisNode(a).isPercentage).toBe(false);
  expect(operator("add", a, b)).toMatchObject({ isNode: true, isOperatorNode: true, isPercentage: false });
  expect(number(1)).toMatchObject({ isNode: true, isConstantNode: true });
  expect(a).toMatchObject({ isNode: true, isSymbolNode: true });
  expect(new ParenthesisNode(a)).toMatchObject({ isParenthesisNode: true });
  expect(new RelationalNode([], [])).toMatchObject({ isRelationalNode: true });
  expect(new ConditionalNode(a, a, a)).toMatchObject({ isConditionalNode: true });
  expect(new FunctionNode(a, [])).toMatchObject({ isFunctionNode: true });
});

test("nothing else is built, whatever the parser is brought to ask for", () => {
  for (const name of ["AccessorNode", "ArrayNode", "AssignmentNode", "BlockNode", "FunctionAssignmentNode", "IndexNode", "ObjectNode", "RangeNode"] as const) // biome-ignore format: names
    expect(() => new nodeClasses[name]()).toThrow(ExpressionError);
  for (const value of ["1", true, null, undefined]) expect(() => new ConstantNode(value)).toThrow(ExpressionError);
  expect(() => run(operator("add"), 1, 2)).toThrow(ExpressionError);
  expect(() => run(operator("factorial", a), 1, 2)).toThrow(ExpressionError);
  expect(() => run(operator("leftShift", a, b), 1, 2)).toThrow(ExpressionError);
});
