import { createAxis } from "@fuelwright/table-core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { breakpointTexts, type CellDisplay, exactFigure, figureOf, ownDisplay } from "./cell-display.ts";

const pulse = ownDisplay("pulse-width");
/** Lambda shown as an air–fuel ratio of an invented fuel. */
const ratio: CellDisplay = {
  unit: "AFR",
  decimals: 2,
  show: (lambda) => lambda * 14.7,
  read: (text) => Number(text) / 14.7,
};

test("figures have the decimals of their quantity and a real minus", () => {
  expect([4.846, 12, -3, -0.001, 0].map((value) => figureOf(pulse, value))).toEqual([
    "4.85",
    "12.00",
    "−3.00",
    "0.00",
    "0.00",
  ]);
});

test("what can't be shown is a dash", () => {
  expect(figureOf({ ...ratio, show: (value) => 1 / value }, 0)).toBe("–");
});

test("a figure is copied with all its digits, and a conversion without its rounding", () => {
  expect(exactFigure(pulse, 1 / 3)).toBe("0.3333333333333333");
  expect(exactFigure(ratio, 1)).toBe("14.7");
});

test("whatever the value, what is copied reads back as that value", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
      expect(pulse.read(exactFigure(pulse, value)) === value).toBe(true);
    }),
  );
});

test("breakpoints are grouped in thousands, once for each axis", () => {
  const axis = createAxis({ quantity: "air-temperature", breakpoints: [-40, 0, 62.5, 1250] });
  expect(breakpointTexts(axis)).toEqual(["−40", "0", "62.5", "1,250"]);
  expect(breakpointTexts(axis)).toBe(breakpointTexts(axis));
});

test("breakpoints are told in another unit with as many decimals as keep them apart", () => {
  const psi = { unit: "psi", decimals: 1, show: (kPa: number) => kPa / 6.894757293168 };
  const axis = (breakpoints: number[]) => createAxis({ quantity: "manifold-pressure", breakpoints });
  expect(breakpointTexts(axis([20, 40, 100]), psi)).toEqual(["2.9", "5.8", "14.5"]);
  expect(breakpointTexts(axis([100, 100.1, 101]), psi)).toEqual(["14.50", "14.52", "14.65"]);
});
