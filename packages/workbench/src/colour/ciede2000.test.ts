import fc from "fast-check";
import { expect, test } from "vitest";
import { ciede2000 } from "./ciede2000.ts";
import { toLab } from "./lab.ts";
import { colours } from "./schemes.arbitrary.ts";

// Every published pair is checked in test/reference/colour.test.ts; here are the laws.
test("is 0 for a colour and itself, above 0 for others, and the same in both orders", () => {
  fc.assert(
    fc.property(colours(), colours(), (a, b) => {
      const [p, q] = [toLab(a), toLab(b)];
      expect(ciede2000(p, p)).toBe(0);
      expect(ciede2000(p, q)).toBeCloseTo(ciede2000(q, p), 9);
      if (a !== b) expect(ciede2000(p, q)).toBeGreaterThan(0);
    }),
  );
});

test("of two greys it is their weighted difference of lightness", () => {
  // By hand: mean 50, so the weight is 1 and the difference that of the lightnesses.
  expect(ciede2000([45, 0, 0], [55, 0, 0])).toBeCloseTo(10, 12);
});
