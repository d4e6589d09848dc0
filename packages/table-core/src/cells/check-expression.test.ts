import { describe, expect, test } from "vitest";
import { checkExpression } from "./check-expression.ts";
import { expressionFunctions, expressionName } from "./expression-names.ts";

describe("an expression that can be used has no fault", () => {
  test.each([
    "cell * 1.05",
    "cell+5%",
    "cell + (5%) - 1",
    " ( cell − 0.1 ) × 2 ÷ 3 · 4 ",
    "rpm > 3000 and not (load < 40) ? cell * 1.02 : cell",
    "rpm > 3000 ? .5:.7",
    "20 < load <= 60 ? 1 : rpm < 900 ? 2 : 3",
    "max(cell, 2.1, load / 10)",
    "mod(rpm, 500) + rpm mod 500",
    "--cell + -1e-3 ^ -2",
    "+cell * +2 - (+3)",
    "cell   *\t 1e3 + 2E+10 + .55 + 12.25e-12",
    "log(rpm, 2) + 2 mod 3",
    "cell * (rpm > 4000)",
    "(cell ? 1 : 2) ? 3 : 4",
  ])("%s", (text) => {
    expect(checkExpression(text)).toBeNull();
  });
});

describe("a wrong one says at which character, and what to do", () => {
  test.each([
    ["", 0, /missing at the end/],
    ["   ", 3, /missing at the end/],
    ["cell +", 6, /missing at the end/],
    ["cell * * 2", 7, /missing before \*/],
    ["cell << 2", 6, /missing before </],
    ["cell ** 2", 6, /missing before \*/],
    ["cell // 2", 6, /missing before \//],
    ["cel * 2", 0, /cel is not known here; there are cell, rpm, load, weight/],
    ["cell * boost", 7, /boost is not known/],
    ["2 cell", 2, /a sign is missing before this; write one such as \* or \+/],
    ["cell 1.05", 5, /is missing before this/],
    ["(cell)(2)", 6, /is missing before this/],
    ["cell(2)", 4, /cell is not a function; write \*/],
    ["sqrt cell", 0, /write sqrt\( \)/],
    ["sqrt()", 5, /missing before \)/],
    ["sqrt(1, 2)", 0, /2 values are not what it takes; sqrt\(x\)/],
    ["1 + pow(2)", 4, /1 values are not what it takes; pow\(x, y\)/],
    ["cell * 1,05", 8, /decimals have a point/],
    ["max((1, 2), 3)", 6, /between the values of a function only/],
    ["cell = 3", 5, /nothing can be assigned here; write == to compare/],
    ["f(x) = x", 5, /nothing can be assigned/],
    ["cell!", 4, /write not in front of it/],
    ["cell & 1", 5, /write and/],
    ["cell | 1", 5, /write or/],
    ["cell.constructor", 4, /a point stands in a number only/],
    ["cell?.x : 1", 5, /a point stands in a number only/],
    ["cell ?? 1", 6, /missing before \?/],
    ["1.2.3", 3, /is missing before this/],
    ["5.", 1, /a point stands in a number only/],
    ["0x10", 1, /x10 is not known|is missing before this/],
    ["2e", 1, /e is not known|is missing before this/],
    ["'a'", 0, /text cannot be used/],
    ["[1, 2]", 0, /such brackets have no place here; use round ones/],
    ["{a: 1}", 0, /such brackets have no place here; use round ones/],
    ["cell; rpm", 4, /one expression on one line/],
    ["cell\nrpm", 4, /one expression on one line/],
    ["cell # note", 5, /"#" has no place here/],
    ["cell × 😀", 7, /"😀" has no place here/],
    ["(cell", 0, /never closed/],
    ["2 * (1 + (cell)", 4, /never closed/],
    ["cell)", 4, /never opened/],
    ["cell ? 1", 5, /no other part/],
    ["(cell ? 1) : 2", 6, /no other part/],
    ["max(cell ? 1, 2)", 9, /no other part/],
    ["1 : 2", 2, /a colon belongs to a choice/],
    ["rpm ? 1 : 2 : 3", 12, /a colon belongs to a choice/],
    ["rpm ? load ? 1 : 2 : 3", 11, /put brackets round the inner one/],
    ["cell + 5% - 1", 8, /% makes a percentage; put brackets round it/],
    ["7 % 4", 2, /% makes a percentage; put brackets round it/],
    ["%", 0, /missing before %/],
    ["and(1, 2)", 0, /missing before and/],
    ["cell not 1", 5, /is missing before this/],
    ["true", 0, /true is not known/],
    ["Infinity", 0, /Infinity is not known/],
    ["1 to 2", 2, /to is not known|is missing before this/],
    ["cell > 2", 0, /a condition is no number/],
    ["(rpm > 1 ? (cell < 2) : 3)", 0, /a condition is no number/],
    ["not cell", 0, /a condition is no number/],
  ] as const)("%j at %i", (text, at, message) => {
    const fault = checkExpression(text);
    expect(fault?.message).toMatch(message);
    expect(fault?.at).toBe(at);
  });

  test("what is too long, too deep or too much is refused before it is parsed", () => {
    expect(checkExpression(`cell${" ".repeat(496)}`)).toBeNull();
    expect(checkExpression(`cell${" ".repeat(497)}`)?.message).toMatch(/500 characters at most, it has 501/);
    const nested = (depth: number) => `${"(".repeat(depth)}cell${")".repeat(depth)}`;
    expect(checkExpression(nested(32))).toBeNull();
    expect(checkExpression(nested(33))).toEqual({
      message: "brackets can be 32 deep at most; split it over two steps",
      at: 32,
    });
    expect(checkExpression(`1${"+1".repeat(99)}`)).toBeNull();
    expect(checkExpression(`1${"+1".repeat(100)}`)).toMatchObject({ at: 200 });
  });

  test("text is asked for", () => {
    expect(checkExpression(7 as unknown as string)).toEqual({ message: "it must be text, got 7", at: 0 });
  });
});

describe("tables by name", () => {
  test.each([
    ["target", "target"],
    ["ve-map 2", "ve_map_2"],
    ["  Füllung (alt) ", "Fullung_alt"],
    ["2nd", "t_2nd"],
    ["cell", "cell_table"],
    ["max", "max_table"],
    ["true", "true_table"],
    ["__proto__", "proto"],
    ["日本", "table"],
  ])("%j is %s in an expression", (id, name) => {
    expect(expressionName(id)).toBe(name);
    expect(checkExpression(`cell * ${name}`, [id])).toBeNull();
  });

  test("a name that two tables have can be there, but not be used", () => {
    expect(checkExpression("cell", ["a-b", "a b"])).toBeNull();
    expect(checkExpression("2 * a_b", ["a-b", "a b"])).toEqual({
      message: "a_b could be more than one table; rename one",
      at: 4,
    });
  });
});

test("each function has a line of help that begins with its name", () => {
  expect(expressionFunctions.length).toBeGreaterThan(9);
  for (const { name, help } of expressionFunctions) expect(help.startsWith(`${name}(`)).toBe(true);
});
