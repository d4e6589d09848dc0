import { type ColourScheme, createColourScheme } from "@fuelwright/table-core";
import fc from "fast-check";

/** Any colour, `#rrggbb`. */
export const colours = () =>
  fc.integer({ min: 0, max: 0xffffff }).map((bits) => `#${bits.toString(16).padStart(6, "0")}`);

/** Any valid scheme, useful or not. */
export const schemes = (): fc.Arbitrary<ColourScheme> =>
  fc
    .record({
      name: fc.string({ minLength: 1, maxLength: 60 }).filter((name) => name.trim() !== ""),
      less: colours(),
      middle: fc.oneof(fc.constant("paper"), colours()),
      more: colours(),
      span: fc.oneof(
        fc.constant({ kind: "automatic" } as const),
        fc.constant({ kind: "symmetrical" } as const),
        fc.double({ min: 0.1, max: 1000, noNaN: true }).map((percent) => ({ kind: "fixed", percent }) as const),
      ),
      steps: fc.nat(10),
    })
    .map((scheme) => createColourScheme(scheme));
