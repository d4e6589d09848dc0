import { type LinearRgb, toLinear } from "./srgb.ts";

/** Lightness 0..100, green to red, blue to yellow: CIELAB under D65. */
export type Lab = readonly [lightness: number, a: number, b: number];

/** Linear sRGB to XYZ. @see IEC 61966-2-1; the white point is the sum of each row */
const RGB_TO_XYZ = [
  [0.4123907992659595, 0.357584339383878, 0.1804807884018343],
  [0.2126390058715104, 0.7151686787677559, 0.0721923153607337],
  [0.0193308187155918, 0.119194779794626, 0.9505321522496606],
] as const;
/** Its inverse, to the digits of a double. */
const XYZ_TO_RGB = [
  [3.2409699419045213, -1.5373831775700935, -0.4986107602930033],
  [-0.9692436362808798, 1.8759675015077206, 0.0415550574071756],
  [0.0556300796969936, -0.2039769588889766, 1.0569715142428786],
] as const;
const WHITE = [0.9504559270516717, 1, 1.0890577507598784] as const;
const EDGE = 6 / 29;

/** CIELAB of a colour given as `#rrggbb`. @example toLab("#ff0000") // [53.24, 80.09, 67.20] */
export function toLab(colour: string): Lab {
  return labOfLinear(toLinear(colour));
}

/** CIELAB of linear light. */
export function labOfLinear(light: LinearRgb): Lab {
  const [x, y, z] = times(RGB_TO_XYZ, light);
  const [fx, fy, fz] = [curve(x / WHITE[0]), curve(y), curve(z / WHITE[2])];
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** The linear light of a CIELAB colour; it may lie outside what a screen can show. */
export function linearOfLab([lightness, a, b]: Lab): LinearRgb {
  const fy = (lightness + 16) / 116;
  return times(XYZ_TO_RGB, [WHITE[0] * uncurve(fy + a / 500), uncurve(fy), WHITE[2] * uncurve(fy - b / 200)]);
}

/** The lightness L* of a relative luminance 0..1. */
export const lightnessOfLuminance = (luminance: number): number => 116 * curve(luminance) - 16;

const curve = (t: number) => (t > EDGE ** 3 ? Math.cbrt(t) : t / (3 * EDGE * EDGE) + 4 / 29);
const uncurve = (t: number) => (t > EDGE ? t ** 3 : 3 * EDGE * EDGE * (t - 4 / 29));

/** A 3×3 matrix times a column. */
export function times(matrix: readonly (readonly [number, number, number])[], [x, y, z]: LinearRgb): LinearRgb {
  const row = ([p, q, r]: readonly [number, number, number]) => p * x + q * y + r * z;
  return [row(matrix[0]!), row(matrix[1]!), row(matrix[2]!)];
}
