import fc from "fast-check";
import { expect, test } from "vitest";
import { type Deficiency, deficientLight, seenAs, sights } from "./colour-vision.ts";
import { deficiencyMatrices } from "./colour-vision-matrices.ts";
import { contrastRatio } from "./contrast.ts";
import { colours } from "./schemes.arbitrary.ts";
import { toLinear } from "./srgb.ts";

const deficiencies: readonly Deficiency[] = ["protan", "deutan", "tritan"];

test("there is a matrix for each tenth, and each leaves greys grey", () => {
  for (const deficiency of deficiencies) {
    expect(deficiencyMatrices[deficiency]).toHaveLength(10);
    // Printed to six decimals, three of them summed.
    for (const matrix of deficiencyMatrices[deficiency])
      for (const row of [0, 3, 6])
        expect(Math.abs(matrix.slice(row, row + 3).reduce((a, b) => a + b) - 1)).toBeLessThanOrEqual(2e-6);
  }
});

test("severity 0 changes nothing, and a severity between tenths lies between their pictures", () => {
  fc.assert(
    fc.property(colours(), fc.constantFrom(...deficiencies), fc.nat(9), (colour, deficiency, tenth) => {
      const light = toLinear(colour);
      expect(deficientLight(light, deficiency, 0)).toEqual(light);
      const [low, between, high] = [tenth / 10, (tenth + 0.5) / 10, (tenth + 1) / 10].map((severity) =>
        deficientLight(light, deficiency, severity),
      );
      between!.forEach((value, at) => {
        expect(value).toBeCloseTo((low![at]! + high![at]!) / 2, 9);
      });
    }),
  );
});

test("grey keeps the luminance; usual sight keeps the colour", () => {
  fc.assert(
    fc.property(colours(), (colour) => {
      const grey = seenAs(colour, "grey");
      expect(grey.slice(1, 3)).toBe(grey.slice(3, 5));
      // Half a step of 8 bits is most in the darks: 0.5/255/12.92 over 0.05.
      expect(contrastRatio(grey, colour)).toBeLessThan(1.02);
      expect(seenAs(colour, "normal")).toBe(colour);
    }),
  );
});

test("each way of seeing has its words", () =>
  expect(Object.keys(sights)).toEqual(["normal", "protan", "deutan", "tritan", "grey"]));

test("another severity is refused", () => {
  for (const severity of [-0.1, 1.1, Number.NaN])
    expect(() => deficientLight([0, 0, 0], "protan", severity)).toThrow(/severity must be 0 to 1/);
});
