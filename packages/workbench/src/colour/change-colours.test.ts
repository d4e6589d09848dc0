import { createColourScheme } from "@fuelwright/table-core";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CellColours } from "../elements/fuel-grid/cell-colours.ts";
import { changeColours } from "./change-colours.ts";
import { ciede2000 } from "./ciede2000.ts";
import { contrastRatio, READABLE } from "./contrast.ts";
import { toLab } from "./lab.ts";
import { presets } from "./presets.ts";
import { colours, schemes } from "./schemes.arbitrary.ts";
import { themes } from "./themes.ts";

const span = { less: 30, more: 30 };
const rust = presets[0]!.scheme;
const stepped = createColourScheme({ ...rust, steps: 3 });

describe("on the sheet", () => {
  const light = changeColours(rust, { ...themes.light, span });

  test("an untouched cell is plain paper with the page's ink", () => {
    expect(light.tintAt(0)).toEqual({ background: "#fffdf7", ink: "#25221c" });
    expect(light.tintAt(Number.NaN)).toBe(light.tintAt(0));
  });

  test("the span takes the ends, and so does all beyond it", () => {
    expect(light.tintAt(-30).background).toBe(rust.less);
    expect(light.tintAt(-31)).toBe(light.tints[0]);
    expect(light.tintAt(-Infinity)).toBe(light.tints[0]);
    expect(light.tintAt(Infinity)).toBe(light.tints.at(-1));
  });

  test("half the span takes the colour half-way in CIELAB", () => {
    const [middle, end] = [toLab("#fffdf7"), toLab(rust.less)];
    const halfway = toLab(light.tintAt(-15).background);
    // 8 bits a channel, and another white in the interpolation: a unit at most.
    expect(ciede2000(halfway, [0, 1, 2].map((at) => (middle[at]! + end[at]!) / 2) as never)).toBeLessThan(1);
  });

  test("an end too dark for the ink is shown as light as the ink needs", () => {
    const dark = changeColours(createColourScheme({ ...rust, more: "#5a1d00" }), { ...themes.light, span });
    const shown = dark.tintAt(30).background;
    expect(contrastRatio(shown, "#25221c")).toBeGreaterThanOrEqual(READABLE);
    expect(contrastRatio(shown, "#25221c")).toBeLessThan(4.75);
  });

  test("each side has its own scale", () => {
    const lopsided = changeColours(rust, { ...themes.light, span: { less: 40, more: 4 } });
    expect(lopsided.tintAt(4)).toEqual(light.tintAt(30));
    expect(lopsided.tintAt(-20)).toEqual(light.tintAt(-15));
  });

  test("dark surroundings take light ink on the same scheme", () => {
    const dark = changeColours(rust, { ...themes.dark, span });
    expect(new Set(dark.tints.map(({ ink }) => ink))).toEqual(new Set(["#ece5d6"]));
    expect(dark.tintAt(0).background).toBe(themes.dark.paper);
  });

  test("a smooth ramp has no edge that is seen", () => {
    for (const { scheme } of presets)
      for (const ground of [themes.light, themes.dark]) {
        const { tints } = changeColours(createColourScheme({ ...scheme, steps: 0 }), { ...ground, span });
        tints.slice(1).forEach(({ background }, at) => {
          expect(ciede2000(toLab(tints[at]!.background), toLab(background))).toBeLessThan(1.5);
        });
      }
  });
});

describe("in steps", () => {
  const three = changeColours(stepped, { ...themes.light, span });

  test("there are as many tints a side, and equal parts of the span take them", () => {
    expect(three.tints).toHaveLength(7);
    expect([-30, -20.1, -19, -9, -0.01, 0, 0.01, 9, 11, 19, 21, 500].map(three.place)).toEqual([
      0, 0, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6,
    ]);
  });

  test("the ends are those of the smooth ramp", () => {
    const smooth = changeColours(rust, { ...themes.light, span });
    expect(three.tints[0]).toEqual(smooth.tints[0]);
    expect(three.tints.at(-1)).toEqual(smooth.tints.at(-1));
  });
});

test("whatever the scheme, sheet and inks, text reads at 4.5:1 with one ink", () => {
  fc.assert(
    fc.property(schemes(), colours(), colours(), colours(), (scheme, paper, ink, otherInk) => {
      const { tints } = changeColours(scheme, { paper, ink, otherInk, span });
      for (const tint of tints) {
        expect(tint.ink).toBe(tints[0]!.ink);
        expect(contrastRatio(tint.background, tint.ink)).toBeGreaterThanOrEqual(READABLE);
      }
    }),
    { numRuns: 60 },
  );
});

test("whatever the scheme and change, the place is a tint, rises with the change, and is the middle at none", () => {
  const sides = fc.double({ min: 0.1, max: 1000, noNaN: true });
  fc.assert(
    fc.property(schemes(), sides, sides, fc.double(), fc.double(), (scheme, less, more, a, b) => {
      const { tints, place } = changeColours(scheme, { ...themes.light, span: { less, more } });
      for (const percent of [a, b]) expect(tints[place(percent)]).toBeDefined();
      expect(place(0)).toBe((tints.length - 1) / 2);
      if (a < b) expect(place(a)).toBeLessThanOrEqual(place(b));
    }),
    { numRuns: 60 },
  );
});

test("serves a grid as its colours", () => {
  const grid: CellColours = changeColours(rust, { ...themes.light, span });
  expect(grid.tints.length).toBeLessThanOrEqual(4096);
});

test("a span that is none is refused", () => {
  for (const less of [0, -1, Number.NaN, Infinity])
    expect(() => changeColours(rust, { ...themes.light, span: { less, more: 1 } })).toThrow(
      /span\.less must be a percentage above 0/,
    );
});
