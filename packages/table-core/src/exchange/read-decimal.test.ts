import fc from "fast-check";
import { expect, test } from "vitest";
import { readDecimal } from "./read-decimal.ts";

test.each([
  ["1.5", 1.5],
  ["1,5", 1.5],
  [" 12 000 ", 12000],
  ["1,234.5", 1234.5],
  ["1.234,5", 1234.5],
  ["1.500", 1.5],
  ["0,500", 0.5],
  ["\u22123", -3],
  ["2e3", 2000],
])("%s is %d", (text, value) => {
  expect(readDecimal(text)).toBe(value);
});

test("one comma before three digits is refused with both readings", () => {
  expect(() => readDecimal("1,500")).toThrow('readDecimal: "1,500" can mean 1500 or 1.5; write one of these');
  expect(readDecimal("1,500", { decimal: "," })).toBe(1.5);
  expect(() => readDecimal("1.500", { decimal: "," })).toThrow(/can mean 1.5 or 1500/);
  expect(() => readDecimal("1,500", { decimal: "." })).toThrow(/can mean 1500 or 1.5/);
  expect(readDecimal("1,5", { decimal: "." })).toBe(1.5);
});

test.each(["", " ", "abc", "NaN", "Infinity", "0x10", "1.5 ms", "1,2,3", "1.5.2"])("%j is refused", (text) => {
  expect(() => readDecimal(text)).toThrow(/^readDecimal: the text must be a number such as 1\.5 or 1,5, got /);
});

test("a number beyond all numbers is refused", () => {
  expect(() => readDecimal("1e999")).toThrow(/larger than any number kept here; check its exponent/);
  expect(() => readDecimal(undefined as unknown as string)).toThrow(/got undefined/);
});

test("what JavaScript writes is read back bit for bit", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(readDecimal(String(value))).toBe(value + 0);
    }),
  );
});
