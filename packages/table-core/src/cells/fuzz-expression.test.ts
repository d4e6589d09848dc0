import fc from "fast-check";
import { expect, test } from "vitest";
import { answer, fuzzRuns, requireCleanPrototypes, requireUse } from "../../testing/answer.ts";
import { brokenText } from "../../testing/broken-json.ts";
import { createAxis } from "../values/axis.ts";
import { FuelwrightError } from "../values/errors.ts";
import { createTable } from "../values/fuel-table.ts";
import { checkExpression } from "./check-expression.ts";
import { evaluateCells } from "./evaluate-cells.ts";
import { expressionFunctions } from "./expression-names.ts";

const table = createTable({
  id: "t",
  name: "invented",
  quantity: "trim",
  rpm: createAxis({ quantity: "rpm", breakpoints: [1000, 2000, 3000] }),
  load: createAxis({ quantity: "manifold-pressure", breakpoints: [30, 60] }),
  cells: [
    [0, -1, 2.5],
    [1e-300, 1e300, 4],
  ],
});
/** Ids that a careless lookup of names would stumble over. */
const tables = Object.fromEntries(
  ["other map", "__proto__", "constructor", "2nd", "cell", "max"].map((id) => [id, { ...table, id }]),
);

const functionNames = expressionFunctions.map(({ name }) => name);

/** Expressions that make sense, or nearly: the right shape with any names and numbers. */
const { expression: expressions } = fc.letrec<{ expression: string }>((tie) => ({
  expression: fc.oneof(
    { maxDepth: 5, depthSize: "small" },
    fc.oneof(
      fc.constantFrom("cell", "rpm", "load", "weight", "other_map", "constructor", "5%", "1e308", "1e-320", ".5", "0"),
      fc.double({ min: -50, max: 9000, noNaN: true }).map((value) => value.toFixed(2)),
    ),
    fc
      .tuple(
        tie("expression"),
        fc.constantFrom("+", "-", "*", "/", "^", " mod ", "<", "<=", "==", "!=", " and ", " or ", " xor "),
        tie("expression"),
      )
      .map((parts) => parts.join("")),
    fc
      .tuple(fc.constantFrom(...functionNames), fc.array(tie("expression"), { minLength: 1, maxLength: 3 }))
      .map(([name, given]) => `${name}(${given.join(", ")})`),
    fc.tuple(tie("expression"), tie("expression"), tie("expression")).map(([a, b, c]) => `(${a} > 1 ? ${b} : ${c})`),
    tie("expression").map((inner) => `(${inner})`),
    tie("expression").map((inner) => `-${inner}`),
    tie("expression").map((inner) => `not ${inner}`),
  ),
}));

const pieces = [
  ...[
    "",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    '"',
    "'",
    "`",
    "=",
    "=>",
    "?.",
    "?",
    ":",
    ";",
    ",",
    ".",
    "..",
    "!",
    "%",
    "^",
    "~",
    "$",
  ],
  ...["cell", "rpm", "__proto__", "constructor", "globalThis", "import", "this", "eval(", "Function(", "sqrt(", "max("],
  ...[
    "1e999",
    "0x1",
    "1_000",
    "i",
    "pi",
    "NaN",
    "Infinity",
    "×",
    "−",
    "\u0000",
    "\uFEFF",
    "\uD800",
    "\u202E",
    "\n",
    "\u00A0",
  ],
  ...["(".repeat(60), "-".repeat(200), "2^".repeat(90), "not ".repeat(60), "cell?".repeat(40)],
];

const texts = fc.oneof(
  { weight: 2, arbitrary: expressions },
  { weight: 4, arbitrary: brokenText(expressions, pieces) },
  fc.array(fc.constantFrom(...pieces, "1", " ", "+"), { maxLength: 40 }).map((words) => words.join("")),
  fc.string({ unit: "binary", maxLength: 60 }),
);

test("any text gives finite cells, the same each time, or is refused at a character with a sentence", () => {
  let tried = 0;
  let taken = 0;
  fc.assert(
    fc.property(texts, fc.boolean(), (text, others) => {
      tried++;
      const given = others ? { expression: text, tables } : { expression: text };
      const fault = checkExpression(text, others ? Object.keys(tables) : []);
      const before = table.cells.slice();
      const result = answer(() => evaluateCells(table, given));
      requireCleanPrototypes();
      expect(table.cells).toEqual(before);
      if (fault) {
        const message = `evaluateCells: expression at character ${fault.at + 1}: ${fault.message}`;
        expect(result).toMatchObject({ code: "bad-expression", message, details: { at: fault.at } });
        expect(fault.message.length > 5 && fault.message.length < 500).toBe(true);
        expect(fault.at >= 0 && fault.at <= text.length).toBe(true);
        return;
      }
      if (result instanceof FuelwrightError) {
        expect(result.code).toBe("result-not-finite");
        return;
      }
      taken++;
      expect(result.cells.every(Number.isFinite)).toBe(true);
      expect(evaluateCells(table, given).cells).toEqual(result.cells);
    }),
    { numRuns: fuzzRuns },
  );
  // Were all of them refused, the most of the check would be empty.
  // Of a few, none may be taken by chance.
  requireUse(taken, tried, 1 / 20);
});
