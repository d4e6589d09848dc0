import type { ChangeColours } from "./change-colours.ts";
import { ciede2000 } from "./ciede2000.ts";
import { type Sight, seenAs, sights } from "./colour-vision.ts";
import { toLab } from "./lab.ts";

/**
 * Whether two tints can be told apart: at a glance, only on a close look, or not.
 *
 * The limits are common practice, not a standard: a CIEDE2000 difference of about 1 is just seen where two fields touch
 * in good light; cells stand apart, are small and carry text, so 2 is asked for a close look and 5 for a glance.
 */
export type Verdict = "clear" | "close" | "alike";

export const CLOSE_LOOK = 2;
export const AT_A_GLANCE = 5;

/** Two changes, in percent, and how far apart their tints are. */
export interface TintPair {
  readonly from: number;
  readonly to: number;
  /** CIEDE2000. */
  readonly difference: number;
  readonly verdict: Verdict;
}

/** How one way of seeing tells the tints apart. */
export interface SightReport {
  readonly sight: Sight;
  /** Neighbours from the greatest fall to the greatest rise. */
  readonly neighbours: readonly TintPair[];
  /** A fall against a rise of the same size, smallest first. */
  readonly sides: readonly TintPair[];
  /** The pair nearest to one another. */
  readonly nearest: TintPair;
  /** The verdict on that pair. */
  readonly verdict: Verdict;
}

/**
 * How well the tints of a scheme are told apart, for usual sight, under each deficiency in full, and printed in grey.
 *
 * Compared are neighbouring changes and each fall with the rise of its size: the steps of a stepped scheme, otherwise
 * 5, 10, 20, 50, … percent up to the span.
 *
 * @param severity - of the deficiencies, 0..1
 */
export function tellApart(
  colours: ChangeColours,
  { severity = 1 }: { severity?: number } = {},
): readonly SightReport[] {
  const { less, more } = sampleSizes(colours);
  const percents = [...less.map((size) => -size).reverse(), 0, ...more];
  return (Object.keys(sights) as Sight[]).map((sight) => {
    const seen = (percent: number) => toLab(seenAs(colours.tintAt(percent).background, sight, severity));
    const pair = (from: number, to: number): TintPair => {
      const difference = ciede2000(seen(from), seen(to));
      return { from, to, difference, verdict: verdictOf(difference) };
    };
    const neighbours = percents.slice(1).map((to, at) => pair(percents[at]!, to));
    const sides = less.slice(0, more.length).map((size, at) => pair(-size, more[at]!));
    const nearest = [...neighbours, ...sides].reduce((a, b) => (b.difference < a.difference ? b : a));
    return { sight, neighbours, sides, nearest, verdict: nearest.verdict };
  });
}

/** Sizes of change worth showing, in percent, rising, for each side of the span. */
export function sampleSizes({ scheme, span }: Pick<ChangeColours, "scheme" | "span">): {
  readonly less: readonly number[];
  readonly more: readonly number[];
} {
  const of = (side: number) =>
    scheme.steps > 0
      ? Array.from({ length: scheme.steps }, (_, at) => ((at + 0.5) / scheme.steps) * side)
      : [...ROUND_SIZES.filter((size) => size < 0.75 * side), side];
  return { less: of(span.less), more: of(span.more) };
}

const ROUND_SIZES = [5, 10, 20, 50, 100, 200, 500];

function verdictOf(difference: number): Verdict {
  return difference >= AT_A_GLANCE ? "clear" : difference >= CLOSE_LOOK ? "close" : "alike";
}
