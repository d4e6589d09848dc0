import { describe, expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import {
  requireFinite,
  requireOneOf,
  requirePositive,
  requireText,
  requireWhole,
  requireWithin,
  say,
  sayList,
} from "./require.ts";

test("what holds is given back as it is", () => {
  expect(requireFinite("x", -2.5)).toBe(-2.5);
  expect(Object.is(requireFinite("x", -0), 0)).toBe(true);
  expect(requireFinite("x", -0)).toBe(0);
  expect(requirePositive("x", Number.MIN_VALUE)).toBe(Number.MIN_VALUE);
  expect(requireWithin("x", 3, 3, 7)).toBe(3);
  expect(requireWithin("x", 7, 3, 7)).toBe(7);
  expect(requireWhole("x", 4, 1, 64)).toBe(4);
  expect(requireOneOf("x", "b", ["a", "b"])).toBe("b");
  expect(requireText("x", "a".repeat(200))).toBe("a".repeat(200));
});

describe("what does not hold is refused with a code, a sentence and the facts", () => {
  test.each([
    ["NaN", Number.NaN],
    ["infinity", Number.POSITIVE_INFINITY],
    ["text", "5"],
    ["nothing", undefined],
    ["a list", [1]],
  ])("%s is no finite number", (_, value) => {
    const { code, message, details } = refusal(() => requireFinite("engine.cylinders", value));
    expect(code).toBe("not-finite");
    expect(message).toBe(`engine.cylinders must be a finite number, got ${say(value)}; give a number`);
    expect(details).toEqual({ where: "engine.cylinders", value });
  });

  test.each([0, -0, -1])("%s is not above 0", (value) => {
    const { code, message, details } = refusal(() => requirePositive("flow", value));
    expect(code).toBe("not-positive");
    expect(message).toBe(`flow must be above 0, got ${value}; check the figure`);
    expect(details).toEqual({ where: "flow", value });
  });

  test.each([2.999, 7.001])("%s lies outside 3 to 7", (value) => {
    const { code, message, details } = refusal(() => requireWithin("volts", value, 3, 7));
    expect(code).toBe("out-of-range");
    expect(message).toContain(`volts must be between 3 and 7, got ${value};`);
    expect(details).toEqual({ where: "volts", value, low: 3, high: 7 });
  });

  test("a fraction is no whole number, and a whole one must lie in its range", () => {
    expect(refusal(() => requireWhole("cylinder", 1.5, 1, 64))).toMatchObject({
      code: "not-whole",
      details: { where: "cylinder", value: 1.5 },
    });
    expect(refusal(() => requireWhole("cylinder", 65, 1, 64)).code).toBe("out-of-range");
  });

  test("a choice that is not there is told with those that are", () => {
    const { code, message, details } = refusal(() => requireOneOf("outside", "guess", ["hold", "refuse"]));
    expect(code).toBe("unknown-choice");
    expect(message).toBe('outside must be one of hold, refuse, got "guess"; choose one of these');
    expect(details).toEqual({ where: "outside", value: "guess", choices: ["hold", "refuse"] });
  });

  test.each([
    ["", 10],
    ["   ", 10],
    ["a".repeat(11), 10],
    [5, 10],
    [null, 10],
  ])("%j is no text of 1 to %d characters", (value, longest) => {
    const { code, message, details } = refusal(() => requireText("name", value, longest));
    expect(code).toBe("bad-text");
    expect(message).toContain(`name must be text of 1 to 10 characters, got ${say(value)};`);
    expect(details).toEqual({ where: "name", value });
  });
});

test.each([
  ["a\nb", '"a\\nb"'],
  ["x".repeat(40), `"${"x".repeat(40)}"`],
  ["x".repeat(41), `"${"x".repeat(40)}…"`],
  [1.5, "1.5"],
  [null, "null"],
  [undefined, "undefined"],
  [false, "false"],
  [[1, 2, 3], "a list of 3"],
  [{}, "a value of type object"],
  [() => 0, "a value of type function"],
])("a sentence shows %j short and safe to print", (value, said) => {
  expect(say(value)).toBe(said);
});

test("a sentence lists a dozen names and counts the rest", () => {
  const names = Array.from({ length: 14 }, (_, at) => `t${at}`);
  expect(sayList(names.slice(0, 3))).toBe("t0, t1, t2");
  expect(sayList(names.slice(0, 12))).toBe(names.slice(0, 12).join(", "));
  expect(sayList(names)).toBe(`${names.slice(0, 12).join(", ")} and 2 more`);
});
