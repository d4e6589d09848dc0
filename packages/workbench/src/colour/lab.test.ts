import fc from "fast-check";
import { expect, test } from "vitest";
import { linearOfLab, toLab } from "./lab.ts";
import { colours } from "./schemes.arbitrary.ts";
import { fromLinear, isShowable, toLinear } from "./srgb.ts";

test("a colour comes back from linear light and from CIELAB", () => {
  fc.assert(
    fc.property(colours(), (colour) => {
      expect(fromLinear(toLinear(colour))).toBe(colour);
      expect(fromLinear(linearOfLab(toLab(colour)))).toBe(colour);
      expect(isShowable(linearOfLab(toLab(colour)))).toBe(true);
    }),
  );
});

test("light a screen cannot show is clipped", () => {
  expect(fromLinear([1.2, -0.1, 0.5])).toBe("#ff00bc");
  expect(isShowable([1.2, 0, 0.5])).toBe(false);
});
