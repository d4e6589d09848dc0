import fc from "fast-check";
import { expect, test } from "vitest";
import { contrastRatio, READABLE } from "./contrast.ts";
import { toLab } from "./lab.ts";
import { bestInk, readableTint } from "./readable-tint.ts";
import { colours } from "./schemes.arbitrary.ts";

test("every ink reads on what comes back, and what was readable is not touched", () => {
  fc.assert(
    fc.property(colours(), colours(), (background, ink) => {
      const tint = readableTint(background, ink);
      expect(contrastRatio(tint, ink)).toBeGreaterThanOrEqual(READABLE);
      if (contrastRatio(background, ink) >= READABLE) expect(tint).toBe(background);
    }),
  );
});

test("an ink that reads on nothing darker than black gets black, not a trace of the colour for ever", () => {
  expect(readableTint("#a32783", "#bd3eb3")).toBe("#000000");
  expect(readableTint("#bc2c23", "#546fca")).toBe("#000000");
});

test("goes no further than it must", () => {
  fc.assert(
    fc.property(colours(), colours(), (background, ink) => {
      const tint = readableTint(background, ink);
      // A hundredth of lightness and the rounding to 8 bits lie within 4.5 and 4.75.
      if (tint !== background && tint !== "#ffffff" && tint !== "#000000")
        expect(contrastRatio(tint, ink)).toBeLessThan(4.75);
    }),
  );
});

test("keeps the hue of the colour that it moves", () => {
  const [, a, b] = toLab("#b4592d");
  const [, movedA, movedB] = toLab(readableTint("#b4592d", "#25221c"));
  expect(Math.abs(Math.atan2(movedB, movedA) - Math.atan2(b, a))).toBeLessThan(0.03);
});

test("the better ink is dark on light and light on dark", () => {
  expect(bestInk("#fffdf7", ["#ece5d6", "#25221c"])).toBe("#25221c");
  expect(bestInk("#211f1a", ["#25221c", "#ece5d6"])).toBe("#ece5d6");
});
