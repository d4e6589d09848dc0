import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readNumber } from "./read-number.ts";
import { shownDecimals, shownNumber } from "./shown-decimals.ts";

const number = (text: string) => {
  const typed = readNumber(text);
  return typed.ok ? typed.number : typed.sentence;
};

describe("readNumber", () => {
  test.each([
    ["1.5", 1.5],
    ["1,5", 1.5],
    [" 0,25 ", 0.25],
    [",5", 0.5],
    ["5.", 5],
    ["−3", -3],
    ["-3,25", -3.25],
    ["+7", 7],
    ["12 000", 12000],
    ["12\u202f000,5", 12000.5],
    ["12'000", 12000],
    ["1,234.5", 1234.5],
    ["1.234,5", 1234.5],
    ["1,234,567", 1234567],
    ["1.234.567", 1234567],
    ["1.234.567,8", 1234567.8],
    ["2e3", 2000],
    ["1.125", 1.125],
    ["0,125", 0.125],
    ["3500", 3500],
  ])("%s is %d", (text, expected) => expect(number(text)).toBe(expected));

  test.each([
    ["", "Give a number."],
    ["fast", "“fast” is not a number; give one such as 1.5."],
    ["1,500", "“1,500” can be read two ways; write 1500 or 1.500."],
    ["1.2,3.4", "“1.2,3.4” has a point or comma out of place; write it such as 1234.5."],
    ["12,34,5", "“12,34,5” has a point or comma out of place; write it such as 1234.5."],
    ["5 furlongs", "“furlongs” is not a unit known here; give the number alone."],
    ["9e999", "This number is too large."],
  ])("%s is refused", (text, sentence) => expect(number(text)).toBe(sentence));

  test("takes a unit behind the number", () => {
    expect(readNumber("43.5 psi")).toEqual({ ok: true, number: 43.5, unit: "psi" });
    expect(readNumber("300cc/min")).toEqual({ ok: true, number: 300, unit: "cc/min" });
    expect(readNumber("-5 degF")).toEqual({ ok: true, number: -5, unit: "°F" });
    expect(readNumber("85%")).toEqual({ ok: true, number: 85, unit: "%" });
  });

  test("reads back every number as this program shows it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.nat(6),
        fc.boolean(),
        (value, decimals, comma) => {
          const shown = shownNumber(value, decimals);
          const text = comma ? shown.replace(".", ",") : shown;
          // The one reading that is refused on purpose: three decimals behind a comma.
          fc.pre(!/^−?[1-9]\d{0,2},\d{3}$/.test(text));
          expect(number(text)).toBeCloseTo(Number(value.toFixed(decimals)), 12);
        },
      ),
    );
  });

  test("never throws, and never gives a number that is not finite", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const typed = readNumber(text);
        expect(typed.ok ? Number.isFinite(typed.number) : typed.sentence.length > 0).toBe(true);
      }),
    );
  });
});

describe("shownDecimals", () => {
  test("keeps what the decimals say in another unit", () => {
    expect(shownDecimals(0, "kPa", "kPa")).toBe(0);
    expect(shownDecimals(0, "kPa", "psi")).toBe(1);
    expect(shownDecimals(2, "ms", "us")).toBe(0);
    expect(shownDecimals(1, "kPa", "bar")).toBe(3);
    expect(shownDecimals(0, "°C", "°F")).toBe(0);
    expect(shownDecimals(2, "g/s", "cc/min", { densityKgPerL: 0.745 })).toBe(1);
  });

  test("says the figure to within half a last place of the first unit", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1000, noNaN: true }), fc.nat(4), (scaleFree, decimals) => {
        // A kPa figure, rounded in psi as shown and read back, is the figure to its own decimals.
        const shown = Number((scaleFree / 6.894757293168361).toFixed(shownDecimals(decimals, "kPa", "psi")));
        expect(Math.abs(shown * 6.894757293168361 - scaleFree)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-9);
      }),
    );
  });
});

test("shownNumber uses a true minus and no minus nought", () => {
  expect(shownNumber(-1.25, 1)).toBe("−1.3");
  expect(shownNumber(-0.004, 2)).toBe("0.00");
  expect(shownNumber(3.6, 2)).toBe("3.60");
});
