import fc from "fast-check";
import { expect, test } from "vitest";
import { numberValue, readNumberText, writeNumber } from "./number-text.ts";

test.each([
  ["12", "whole", 12],
  ["-1.5", "point", -1.5],
  ["\u22121.5", "point", -1.5],
  ["+.5", "point", 0.5],
  ["5.", "point", 5],
  [",5", "comma", 0.5],
  ["0,500", "comma", 0.5],
  ["1,25", "comma", 1.25],
  ["1,250", "one-comma", null],
  ["1.250", "one-point", null],
  ["1,2500", "comma", 1.25],
  ["1,250e3", "comma", 1250],
  ["1.5E-3", "point", 0.0015],
  ["1,234.5", "point", 1234.5],
  ["1.234,5", "comma", 1234.5],
  ["1,234,567", "point", 1234567],
  ["1.234.567", "comma", 1234567],
  ["12 345", "whole", 12345],
  ["1\u202F234,5", "comma", 1234.5],
  ["1'234.5", "point", 1234.5],
])("%s is of the form %s", (text, form, value) => {
  const number = readNumberText(text)!;
  expect(number.form).toBe(form);
  if (value !== null) expect(numberValue(number, form === "comma" ? "," : ".")).toBe(value);
});

test("one comma before three digits is what the decimal sign makes it", () => {
  const number = readNumberText("1,250")!;
  expect([numberValue(number, "."), numberValue(number, ",")]).toEqual([1250, 1.25]);
});

test.each([
  "",
  "abc",
  "NaN",
  "Infinity",
  "1.2.3",
  "1,2,3",
  "12,34.5",
  "1.5,2.5",
  "1 2",
  "1 2345",
  "5,",
  "- 5",
  "--5",
  "e5",
])("%j holds no number", (text) => {
  expect(readNumberText(text)).toBeNull();
});

test("what stands behind a number is kept apart", () => {
  expect(readNumberText("1 200 kPa")).toMatchObject({ digits: "1200", behind: "kPa" });
  expect(readNumberText("0x1F")?.behind).toBe("x1F");
  expect(readNumberText("1e5V")).toMatchObject({ exponent: "5", behind: "V" });
});

test("every number is written in a form that leaves no choice, and read back bit for bit", () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: -1e6, max: 1e6 }).map((thousandths) => thousandths / 1000),
      ),
      fc.constantFrom(".", ","),
      (value, decimal) => {
        const number = readNumberText(writeNumber(value, decimal))!;
        expect(numberValue(number, decimal)).toBe(value);
        if (decimal === ",") expect(["whole", "comma"]).toContain(number.form);
      },
    ),
    { numRuns: 2000 },
  );
  expect(writeNumber(-0, ",")).toBe("-0");
});
