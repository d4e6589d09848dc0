import { expect, test } from "vitest";
import { after } from "../../testing/plotted.ts";
import { createAxis } from "../values/axis.ts";
import { breakpointTexts, figureText, figureWithUnit, ownUnit, placeWords, sayChange } from "./figures.ts";
import { fitText, textWidth, wrapText } from "./lettering.ts";

test("figures are rounded to what they mean, with a true minus and never a minus zero", () => {
  const ms = ownUnit("pulse-width");
  expect([4.849, -3, -0.001, Number.NaN].map((value) => figureText(value, ms))).toEqual(["4.85", "−3.00", "0.00", "–"]);
  expect(figureWithUnit(4.849, ms)).toBe("4.85 ms");
  expect(figureWithUnit(1.05, ownUnit("factor"))).toBe("1.050");
});

test("breakpoints are said in the unit shown, with as many decimals as keep them apart", () => {
  const load = createAxis({ quantity: "manifold-pressure", breakpoints: [20, 20.2, 1000] });
  expect(breakpointTexts(load)).toEqual(["20", "20.2", "1,000"]);
  const bar = { unit: "bar", decimals: 1, show: (kpa: number) => kpa / 100 };
  expect(breakpointTexts(load, bar)).toEqual(["0.200", "0.202", "10.000"]);
  expect(placeWords(after, { load: bar })(5)).toBe("at 3,000 rpm and 0.6 bar");
});

test("changes have a sign, and as many figures as are worth reading", () => {
  const said = [3.456, -20.5, 0.001, -0.04, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY].map(sayChange);
  expect(said).toEqual(["+3.5 %", "−21 %", "under +0.1 %", "under −0.1 %", "up from zero", "down from zero"]);
});

test("text that is cut or wrapped fits, and loses no word", () => {
  const text = "a sentence of several words with one extraordinarilyextraordinarilylong";
  const lines = wrapText(text, 120);
  for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(120);
  expect(wrapText(text, 1000)).toEqual([text]);
  expect(wrapText("one two three", 50).join(" ")).toBe("one two three");
  expect(fitText("short", 100)).toBe("short");
  expect(fitText("rather longer", 40)).toMatch(/^rat.*…$/);
});
