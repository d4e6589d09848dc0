import { ExpressionError } from "./expression-fault.ts";
import { functions, type Slots } from "./expression-names.ts";

/** Computes an expression from the variables' values, each in its slot. */
export type Run = (values: Float64Array) => number;

/**
 * The parts of an expression, as the parser builds them.
 *
 * The parser is given these classes and no others, so a tree can hold nothing else; the markers (`isNode` and the like)
 * are how it recognises its own nodes. A condition counts as 1 or 0, and as NaN where it was asked of NaN: what could not
 * be computed is never chosen by, or away.
 */
abstract class Node {
  get isNode(): boolean {
    return true;
  }
  /** Whether it says yes or no rather than a number. */
  readonly yesNo: boolean = false;
  /** @param reads - takes up the slots that are read */
  abstract compile(slots: Slots, reads: Set<number>): Run;
}

class ConstantNode extends Node {
  readonly isConstantNode = true;
  readonly value: number;

  constructor(value: unknown) {
    super();
    if (typeof value !== "number") refuse();
    this.value = value;
  }

  compile(): Run {
    const { value } = this;
    return () => value;
  }
}

class SymbolNode extends Node {
  readonly isSymbolNode = true;
  readonly name: string;

  constructor(name: string) {
    super();
    this.name = name;
  }

  compile(slots: Slots, reads: Set<number>): Run {
    const slot = slots.get(this.name) ?? refuse();
    reads.add(slot);
    return (values) => values[slot]!;
  }
}

class ParenthesisNode extends Node {
  readonly isParenthesisNode = true;
  readonly content: Node;
  /** A percentage stays one in brackets: the parser then adds it as a share of what stands before it. */
  readonly isPercentage: boolean;
  override readonly yesNo: boolean;

  constructor(content: Node & { readonly isPercentage?: boolean }) {
    super();
    this.content = content;
    this.isPercentage = content.isPercentage ?? false;
    this.yesNo = content.yesNo;
  }

  compile(slots: Slots, reads: Set<number>): Run {
    return this.content.compile(slots, reads);
  }
}

class OperatorNode extends Node {
  readonly isOperatorNode = true;
  readonly op: string;
  readonly fn: string;
  readonly args: readonly Node[];
  readonly isPercentage: boolean;
  override readonly yesNo: boolean;

  constructor(op: string, fn: string, args: readonly Node[], _implicit?: boolean, isPercentage = false) {
    super();
    this.op = op;
    this.fn = fn;
    this.args = args;
    this.isPercentage = isPercentage;
    this.yesNo = comparisons.has(fn) || fn === "and" || fn === "or" || fn === "xor" || fn === "not";
  }

  compile(slots: Slots, reads: Set<number>): Run {
    const [a, b] = this.args.map((part) => part.compile(slots, reads));
    if (!a) return refuse();
    if (!b) return (unary.get(this.fn) ?? refuse())(a);
    const compare = comparisons.get(this.fn);
    if (compare) return (v) => compared(compare, a(v), b(v));
    return (binary.get(this.fn) ?? refuse())(a, b);
  }
}

/** a < b <= c: every pair holds. */
class RelationalNode extends Node {
  readonly isRelationalNode = true;
  readonly conditionals: readonly string[];
  readonly params: readonly Node[];
  override readonly yesNo = true;

  constructor(conditionals: readonly string[], params: readonly Node[]) {
    super();
    this.conditionals = conditionals;
    this.params = params;
  }

  compile(slots: Slots, reads: Set<number>): Run {
    const parts = this.params.map((part) => part.compile(slots, reads));
    const compares = this.conditionals.map((fn) => comparisons.get(fn) ?? refuse());
    return (v) => {
      let all = 1;
      for (let i = 0; i < compares.length && all === 1; i++)
        all = compared(compares[i]!, parts[i]!(v), parts[i + 1]!(v));
      return all;
    };
  }
}

class ConditionalNode extends Node {
  readonly isConditionalNode = true;
  readonly parts: readonly [Node, Node, Node];
  override readonly yesNo: boolean;

  constructor(condition: Node, one: Node, other: Node) {
    super();
    this.parts = [condition, one, other];
    this.yesNo = one.yesNo || other.yesNo;
  }

  compile(slots: Slots, reads: Set<number>): Run {
    const [condition, one, other] = this.parts.map((part) => part.compile(slots, reads)) as [Run, Run, Run];
    return (v) => {
      const holds = condition(v);
      return Number.isNaN(holds) ? holds : holds ? one(v) : other(v);
    };
  }
}

class FunctionNode extends Node {
  readonly isFunctionNode = true;
  readonly fn: Node;
  readonly args: readonly Node[];

  constructor(fn: Node, args: readonly Node[]) {
    super();
    this.fn = fn;
    this.args = args;
  }

  compile(slots: Slots, reads: Set<number>): Run {
    const name = this.fn instanceof SymbolNode ? this.fn.name : refuse();
    const { run } = functions.get(name) ?? refuse();
    const [a, b, ...more] = this.args.map((part) => part.compile(slots, reads));
    if (!a) return refuse();
    if (!b) return (v) => run(a(v));
    if (more.length === 0) return (v) => run(a(v), b(v));
    return (v) => run(a(v), b(v), ...more.map((part) => part(v)));
  }
}

/** Members, lists, objects, ranges, assignments, definitions, several lines: the scan lets none of them through. */
class RefusedNode {
  constructor() {
    refuse();
  }
}

export type ExpressionNode = Node;

/** The classes under the names by which the parser asks for them. */
export const nodeClasses = {
  ConstantNode,
  SymbolNode,
  ParenthesisNode,
  OperatorNode,
  RelationalNode,
  ConditionalNode,
  FunctionNode,
  AccessorNode: RefusedNode,
  ArrayNode: RefusedNode,
  AssignmentNode: RefusedNode,
  BlockNode: RefusedNode,
  FunctionAssignmentNode: RefusedNode,
  IndexNode: RefusedNode,
  ObjectNode: RefusedNode,
  RangeNode: RefusedNode,
};

const comparisons: ReadonlyMap<string, (a: number, b: number) => boolean> = new Map([
  ["equal", (a, b) => a === b],
  ["unequal", (a, b) => a !== b],
  ["smaller", (a, b) => a < b],
  ["smallerEq", (a, b) => a <= b],
  ["larger", (a, b) => a > b],
  ["largerEq", (a, b) => a >= b],
]);

const unary: ReadonlyMap<string, (a: Run) => Run> = new Map([
  ["unaryMinus", (a) => (v) => -a(v)],
  ["unaryPlus", (a) => a],
  ["not", (a) => (v) => yesNo(a(v), (x) => !x)],
]);

const binary: ReadonlyMap<string, (a: Run, b: Run) => Run> = new Map([
  ["add", (a, b) => (v) => a(v) + b(v)],
  ["subtract", (a, b) => (v) => a(v) - b(v)],
  ["multiply", (a, b) => (v) => a(v) * b(v)],
  ["divide", (a, b) => (v) => a(v) / b(v)],
  ["pow", (a, b) => (v) => a(v) ** b(v)],
  ["mod", (a, b) => (v) => functions.get("mod")!.run(a(v), b(v))],
  // The second part is not asked where the first settles it, so that it may guard the second.
  ["and", (a, b) => (v) => yesNo(a(v), (x) => x && yesNo(b(v), Boolean))],
  ["or", (a, b) => (v) => yesNo(a(v), (x) => x || yesNo(b(v), Boolean))],
  ["xor", (a, b) => (v) => yesNo(a(v), (x) => yesNo(b(v), (y) => !x !== !y))],
] satisfies [string, (a: Run, b: Run) => Run][]);

/** The answer as a number; NaN stays NaN. */
function yesNo(x: number, answer: (x: number) => number | boolean): number {
  if (Number.isNaN(x)) return x;
  const said = answer(x);
  return Number.isNaN(said) ? Number.NaN : Number(Boolean(said));
}

const compared = (compare: (a: number, b: number) => boolean, x: number, y: number): number =>
  yesNo(x, () => yesNo(y, () => compare(x, y)));

function refuse(): never {
  throw new ExpressionError("this cannot be used here", 0);
}
