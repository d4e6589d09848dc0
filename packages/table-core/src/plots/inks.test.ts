import { expect, test } from "vitest";
import { darkInks, type Inks, lightInks, printInks } from "./inks.ts";

/** @see WCAG 2.2, "relative luminance" and "contrast ratio" */
function contrast(a: string, b: string): number {
  const luminance = (colour: string) => {
    const [r, g, b] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    }) as [number, number, number];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

test.each([
  ["light", lightInks],
  ["dark", darkInks],
  ["print", printInks],
] as const)("%s: text can be read, and marks that mean something be seen", (_, inks: Inks) => {
  // Criteria 1.4.3 (text) and 1.4.11 (graphics) of WCAG 2.2, level AA.
  for (const name of ["ink", "quiet"] as const)
    expect(contrast(inks[name], inks.paper), name).toBeGreaterThanOrEqual(4.5);
  for (const name of ["axis", "before", "after", "more", "less", "warn", "hatch"] as const)
    expect(contrast(inks[name], inks.paper), name).toBeGreaterThanOrEqual(3);
});

test("print knows greys alone", () => {
  for (const colour of Object.values(printInks)) expect(colour).toMatch(/^#(..)\1\1$/);
});
