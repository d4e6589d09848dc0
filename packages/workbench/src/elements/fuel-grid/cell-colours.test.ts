import { describe, expect, test } from "vitest";
import { contrastRatio, READABLE } from "../../colour/contrast.ts";
import { mixColours, plainColours, valueShades } from "./cell-colours.ts";

/** The tokens `sheet`, `ink`, `less` and `more` in light and in dark. */
const light = { sheet: "#fffdf7", ink: "#25221c", less: "#2b8577", more: "#b4592d" };
const dark = { sheet: "#211f1a", ink: "#ece5d6", less: "#58b3a3", more: "#d9834f" };

test("mixing takes the share of each channel", () => {
  expect(mixColours("#000000", "#ff8000", 0.5)).toBe("#804000");
  expect(mixColours("#102030", "#ffffff", 0)).toBe("#102030");
});

describe.each([
  ["light", light],
  ["dark", dark],
])("in %s", (_, palette) => {
  const { tints, place } = plainColours(palette);

  test("every tint and shade is read at 4.5:1 with the one ink of the page", () => {
    for (const tint of [...tints, ...valueShades(palette)]) {
      expect(tint.ink).toBe(palette.ink);
      expect(contrastRatio(tint.background, tint.ink)).toBeGreaterThanOrEqual(READABLE);
    }
  });

  test("no change is plain paper, falls lie below it and rises above", () => {
    expect(tints[place(0)]!.background).toBe(palette.sheet);
    expect(place(-3)).toBeLessThan(place(0));
    expect(place(3)).toBeGreaterThan(place(0));
    expect(place(-30)).toBe(0);
    expect(place(Number.POSITIVE_INFINITY)).toBe(tints.length - 1);
    expect(place(Number.NEGATIVE_INFINITY)).toBe(0);
  });
});
