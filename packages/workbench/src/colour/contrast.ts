import { toLinear } from "./srgb.ts";

/** The least contrast of text of usual size. @see WCAG 2.2, success criterion 1.4.3 (AA) */
export const READABLE = 4.5;

/** Relative luminance 0..1 of a colour given as `#rrggbb`. @see WCAG 2.2, "relative luminance" */
export function luminance(colour: string): number {
  const [red, green, blue] = toLinear(colour);
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Contrast ratio 1..21 of two colours, in either order. @see WCAG 2.2, "contrast ratio" */
export function contrastRatio(a: string, b: string): number {
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}
