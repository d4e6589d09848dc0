import { describe, expect, test } from "vitest";
import { ciede2000 } from "../../packages/workbench/src/colour/ciede2000.ts";
import { type Deficiency, deficientLight, seenAs } from "../../packages/workbench/src/colour/colour-vision.ts";
import { contrastRatio } from "../../packages/workbench/src/colour/contrast.ts";
import { type Lab, toLab } from "../../packages/workbench/src/colour/lab.ts";
import { type LinearRgb, toLinear } from "../../packages/workbench/src/colour/srgb.ts";
import reference from "./colour.json";

type Case = (typeof reference.cases)[number];
const cases = <K extends Case["kind"]>(kind: K) =>
  reference.cases.filter((c): c is Case & { kind: K } => c.kind === kind);
const vision = (name: string | undefined) => {
  const [deficiency, severity] = (name ?? "").split(" ");
  return [deficiency as Deficiency, Number(severity)] as const;
};

// Source: Sharma, Wu & Dalal, Color Research and Application 30 (2005), table 1. Four decimals printed: half a last place.
describe("CIEDE2000", () => {
  const pairs = cases("ciede2000");
  test("the table is whole", () => expect(pairs).toHaveLength(34));
  test.each(pairs)("pair $pair", ({ lab1, lab2, dE00 }) => {
    expect(Math.abs(ciede2000(lab1 as unknown as Lab, lab2 as unknown as Lab) - dE00!)).toBeLessThanOrEqual(5e-5);
    expect(Math.abs(ciede2000(lab2 as unknown as Lab, lab1 as unknown as Lab) - dE00!)).toBeLessThanOrEqual(5e-5);
  });
});

// Source: WCAG 2.2, contrast ratio. The file gives twelve digits.
describe("contrast ratio", () => {
  const pairs = cases("contrast");
  test("cases are there", () => expect(pairs).toHaveLength(12));
  test.each(pairs)("$a on $b", ({ a, b, ratio, aaNormalText, aaLargeText, aaaNormalText }) => {
    const own = contrastRatio(a!, b!);
    expect(Math.abs(own / ratio! - 1)).toBeLessThanOrEqual(1e-9);
    expect(contrastRatio(b!, a!)).toBe(own);
    expect([own >= 4.5, own >= 3, own >= 7]).toEqual([aaNormalText, aaLargeText, aaaNormalText]);
  });
});

// Source: Machado, Oliveira & Fernandes, IEEE TVCG 15 (2009), matrices applied to linear sRGB.
describe("colour-vision deficiency", () => {
  const matrices = cases("cvdMatrix");
  const colours = cases("cvdColour");
  test("cases are there", () => expect([matrices.length, colours.length]).toEqual([6, 30]));
  test.each(matrices)("matrix of $name", ({ name, matrix }) => {
    const [deficiency, severity] = vision(name);
    const unit = (at: number) => [0, 1, 2].map((i) => (i === at ? 1 : 0)) as unknown as LinearRgb;
    const columns = [0, 1, 2].map((at) => deficientLight(unit(at), deficiency, severity));
    expect([0, 1, 2].map((r) => columns.map((column) => column[r]))).toEqual(matrix);
  });
  test.each(colours)("$in with $name", ({ name, in: colour, outLinear, outHex }) => {
    const [deficiency, severity] = vision(name);
    const light = deficientLight(toLinear(colour!), deficiency, severity);
    light.forEach((value, at) => {
      expect(Math.abs(value - outLinear![at]!)).toBeLessThanOrEqual(1e-8);
    });
    expect(seenAs(colour!, deficiency, severity)).toBe(outHex);
  });
});

// Source: IEC 61966-2-1 and CIELAB under D65; tolerance of the file.
describe("CIELAB of sRGB", () => {
  const colours = cases("srgbToLab");
  test("cases are there", () => expect(colours).toHaveLength(8));
  test.each(colours)("$in", ({ in: colour, lab }) => {
    toLab(colour!).forEach((value, at) => {
      expect(Math.abs(value - lab![at]!)).toBeLessThanOrEqual(1e-3);
    });
  });
});
