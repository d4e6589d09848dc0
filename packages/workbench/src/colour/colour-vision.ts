import { FuelwrightError } from "@fuelwright/table-core";
import { deficiencyMatrices } from "./colour-vision-matrices.ts";
import { luminance } from "./contrast.ts";
import { times } from "./lab.ts";
import { fromLinear, type LinearRgb, toLinear } from "./srgb.ts";

/** A colour-vision deficiency: of the red, the green or the blue receptor. */
export type Deficiency = "protan" | "deutan" | "tritan";

/** How a page can be seen: as it is, with a deficiency, or printed in black and white. */
export type Sight = "normal" | Deficiency | "grey";

/** Every {@link Sight} with the words for it. */
export const sights: Readonly<Record<Sight, string>> = {
  normal: "Usual sight",
  protan: "Red-blind (protan)",
  deutan: "Green-blind (deutan)",
  tritan: "Blue-blind (tritan)",
  grey: "Black-and-white print",
};

/**
 * Linear light as a reader with the deficiency sees it; it may lie slightly outside 0..1.
 *
 * @param severity - 0 (none) to 1 (the receptor is missing); between the published tenths by straight lines, as the
 *   paper proposes
 * @throws FuelwrightError `out-of-range` for another severity
 * @see Machado, Oliveira & Fernandes 2009
 */
export function deficientLight(light: LinearRgb, deficiency: Deficiency, severity = 1): LinearRgb {
  if (!(severity >= 0 && severity <= 1))
    throw new FuelwrightError(
      "out-of-range",
      `deficientLight: severity must be 0 to 1, got ${severity}; give a share`,
      {
        severity,
      },
    );
  const matrices = deficiencyMatrices[deficiency];
  const tenths = severity * 10;
  const below = Math.min(9, Math.floor(tenths));
  const share = tenths - below;
  const at = (index: number) => (index === 0 ? IDENTITY : matrices[index - 1]!);
  const mixed = at(below).map((value, i) => value * (1 - share) + at(below + 1)[i]! * share);
  return times([row(mixed, 0), row(mixed, 3), row(mixed, 6)], light);
}

/** A colour as it is seen, as `#rrggbb`. */
export function seenAs(colour: string, sight: Sight, severity = 1): string {
  if (sight === "normal") return colour;
  if (sight === "grey") {
    const light = luminance(colour);
    return fromLinear([light, light, light]);
  }
  return fromLinear(deficientLight(toLinear(colour), sight, severity));
}

const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const row = (matrix: readonly number[], at: number) => [matrix[at]!, matrix[at + 1]!, matrix[at + 2]!] as const;
