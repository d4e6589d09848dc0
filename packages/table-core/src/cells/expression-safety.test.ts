import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable } from "../values/fuel-table.ts";
import { checkExpression } from "./check-expression.ts";
import { evaluateCells } from "./evaluate-cells.ts";
import { ExpressionError } from "./expression-fault.ts";
import { parseExpression } from "./mathjs-engine.ts";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "factor",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] }),
  cells: [
    [1, 2],
    [3, 4],
  ],
});

const names = [
  ..."constructor __proto__ prototype globalThis window self process require import eval Function Object Reflect".split(
    " ",
  ),
  ..."toString valueOf hasOwnProperty __defineGetter__ call apply bind this arguments math parse evaluate compile".split(
    " ",
  ),
  ..."simplify derivative createUnit unit config typed chain help range map filter forEach string matrix".split(" "),
  ..."NaN Infinity null undefined true false pi e i end to in".split(" "),
];

/** Whatever a text does, it ends as finite cells or as an error of ours, and leaves nothing behind. */
function endsWell(text: string): void {
  try {
    const { cells } = evaluateCells(table, { expression: text, tables: { "other-map": table } });
    expect(cells.every(Number.isFinite)).toBe(true);
  } catch (error) {
    expect(error).toBeInstanceOf(FuelwrightError);
    const { code, details } = error as FuelwrightError;
    expect(["bad-expression", "result-not-finite"]).toContain(code);
    if (code === "bad-expression") {
      expect(details.at).toBeGreaterThanOrEqual(0);
      expect(details.at).toBeLessThanOrEqual(text.length);
    }
  }
}

describe("no name reaches anything", () => {
  test.each(names)("%s", (name) => {
    for (const text of [name, `${name}()`, `${name}(1)`, `cell.${name}`, `cell.${name}("1")`, `cell["${name}"]`])
      expect(checkExpression(text)).not.toBeNull();
    for (const text of [
      `${name} = 1`,
      `${name}(x) = x`,
      `cell?.${name}`,
      `sqrt.${name}`,
      `(${name})(1)`,
      `{${name}: 1}`,
    ])
      expect(checkExpression(text)).not.toBeNull();
  });
});

test("random text of the grammar's own words ends in cells or in our error", () => {
  const words = fc.constantFrom(
    ...[
      ..."()()()+-*/^%,<>=!?:.;[]{}'\"#&|~\\@$` \n",
      "==",
      "<=",
      ">=",
      "!=",
      "??",
      "?.",
      "5%",
      "( ",
      " )",
      "1",
      "2.5",
      ".5",
      "1e3",
    ],
    ...[
      "cell",
      "rpm",
      "load",
      "weight",
      "other_map",
      "max(",
      "sqrt(",
      "log(",
      "mod",
      "and",
      "or",
      "xor",
      "not",
      ...names,
    ],
  );
  fc.assert(
    fc.property(
      fc.array(words, { maxLength: 60 }).map((parts) => parts.join("")),
      endsWell,
    ),
    { numRuns: 3000 },
  );
  fc.assert(
    fc.property(
      fc.array(words, { maxLength: 14 }).map((parts) => parts.join(" ")),
      endsWell,
    ),
    { numRuns: 3000 },
  );
});

test("random characters end in cells or in our error", () => {
  fc.assert(fc.property(fc.string({ maxLength: 520, unit: "binary" }), endsWell), { numRuns: 2000 });
  fc.assert(fc.property(fc.string({ maxLength: 40, unit: "grapheme-ascii" }), endsWell), { numRuns: 3000 });
});

test("what makes parsers slow ends at once: nesting, backtracking, long chains", () => {
  const fill = (part: string, tail = "") => part.repeat(Math.floor((500 - tail.length) / part.length)) + tail;
  for (const text of [
    ...[
      "(",
      ")",
      "-",
      "not ",
      "5%(",
      "5%-(",
      "1/2(",
      "max(",
      "cell?",
      "cell?1:",
      "2^",
      "2^-",
      "1<",
      "1 and ",
      "((5%)",
      "+(5%",
    ].flatMap((part) => [fill(part), fill(part, "1")]),
    `${"5%*(".repeat(32)}1${")".repeat(32)}`,
    `${"(5% - (".repeat(16)}1${"))".repeat(16)}`,
    `${"1/2*(".repeat(32)}cell${")".repeat(32)}`,
  ])
    endsWell(text);
});

test("the parser cannot build anything but arithmetic, even past the scan", () => {
  for (const text of [
    ...[
      "cell.x",
      'cell["x"]',
      "[1, 2]",
      "{a: 1}",
      "1:3",
      "a = 1",
      "f(x) = x",
      "1; 2",
      '"text"',
      "true",
      "null",
      "a[1] = 2",
    ],
    ...["cell?.x", "x.y(1)", "{a: 1}.a"],
  ])
    expect(() => parseExpression(text)).toThrow(ExpressionError);
  for (const text of ["globalThis", "eval(1)", "5!", "2 << 1", "a ?? b", "5'", "1 to 2", "~1"])
    expect(() => parseExpression(text).compile(new Map(), new Set())).toThrow(ExpressionError);
});

test("nothing is left behind", () => {
  expect(Object.keys(Object.prototype)).toEqual([]);
  expect(({} as Record<string, unknown>).x).toBeUndefined();
});
