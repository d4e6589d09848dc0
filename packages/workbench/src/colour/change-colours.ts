import { type ColourScheme, FuelwrightError } from "@fuelwright/table-core";
import { interpolateLab, piecewise } from "d3-interpolate";
import { scaleDiverging, scaleQuantize } from "d3-scale";
import { bestInk, readableTint } from "./readable-tint.ts";
import type { Span } from "./resolve-span.ts";

/** The colour of a cell and an ink that reads on it at 4.5:1 or better, both `#rrggbb`. */
export interface Tint {
  readonly background: string;
  readonly ink: string;
}

/** A scheme worked out for one sheet: what a grid, a legend or a printed card paints. */
export interface ChangeColours {
  readonly scheme: ColourScheme;
  readonly span: Span;
  /** From the greatest fall over no change (the one in the middle) to the greatest rise; all with the same ink. */
  readonly tints: readonly Tint[];
  /** The index in `tints` of a change in percent. Changes beyond the span take its ends; NaN counts as no change. */
  place(percent: number): number;
  /** The tint of a change in percent. */
  tintAt(percent: number): Tint;
}

/** What lies under the cells, and the inks there are; all `#rrggbb`. */
export interface Ground {
  readonly paper: string;
  /** The ink of the page on its paper first, then others; by default the paper's own colour. */
  readonly ink: string;
  readonly otherInk?: string;
}

/** Tints a side of a smooth ramp: neighbours then differ by less than one CIEDE2000 unit, so no edge is seen. */
const SMOOTH = 128;

/**
 * The tints of a scheme on a sheet, and which of them a change takes.
 *
 * The ink is chosen once, by its contrast on the middle. Each end is then made lighter or darker only as far as that ink
 * needs for 4.5:1, hue kept, so that one ink reads on the whole ramp and the same scheme serves light and dark.
 * Between them colours run straight through CIELAB: equal changes look about equally far apart, lightness runs one way
 * on each side, and the hue of an end stays its own down to the paper. (In polar spaces such as HCL the paper's faint
 * hue would be passed through on the way, and other hues with it.)
 *
 * Stepped schemes have `steps` tints a side; any change, however small, takes at least the first.
 *
 * @param span - as {@link resolveSpan} gives it
 * @throws FuelwrightError `out-of-range` if a side of the span is not above zero
 * @example changeColours(scheme, { span: { less: 30, more: 30 }, paper: "#fffdf7", ink: "#25221c" }).tintAt(-12)
 */
export function changeColours(
  scheme: ColourScheme,
  { span, paper, ink, otherInk = paper }: Ground & { readonly span: Span },
): ChangeColours {
  for (const side of ["less", "more"] as const)
    if (!(span[side] > 0 && span[side] < Infinity))
      throw new FuelwrightError(
        "out-of-range",
        `changeColours: span.${side} must be a percentage above 0, got ${span[side]}; take it from resolveSpan`,
        { span },
      );
  const wanted = scheme.middle === "paper" ? paper : scheme.middle;
  const chosen = bestInk(wanted, [ink, otherInk]);
  const [less, middle, more] = [scheme.less, wanted, scheme.more].map((colour) => readableTint(colour, chosen)) as [
    string,
    string,
    string,
  ];
  const ramp = piecewise(interpolateLab, [less, middle, more]);
  const each = scheme.steps || SMOOTH;
  const tints = Array.from({ length: 2 * each + 1 }, (_, at) =>
    // A straight line between two colours of a screen can leave what it shows by a hair; so each tint is checked.
    Object.freeze({ background: readableTint(toHex(ramp(at / (2 * each))), chosen), ink: chosen }),
  );
  const place = scheme.steps ? placeStepped(span, each) : placeSmooth(span, each);
  return Object.freeze({
    scheme,
    span: Object.freeze({ ...span }),
    tints: Object.freeze(tints),
    place,
    tintAt: (percent: number) => tints[place(percent)]!,
  });
}

function placeSmooth({ less, more }: Span, each: number): (percent: number) => number {
  const scale = scaleDiverging((share) => share)
    .domain([-less, 0, more])
    .clamp(true)
    .unknown(0.5);
  return (percent) => Math.round(scale(percent) * 2 * each);
}

function placeStepped({ less, more }: Span, each: number): (percent: number) => number {
  const steps = Array.from({ length: each }, (_, at) => at + 1);
  const fall = scaleQuantize<number>().domain([0, less]).range(steps);
  const rise = scaleQuantize<number>().domain([0, more]).range(steps);
  return (percent) => each + (percent > 0 ? rise(percent) : percent < 0 ? -fall(-percent) : 0);
}

/** `rgb(r, g, b)` as d3 writes it, as `#rrggbb`. */
function toHex(rgb: string): string {
  const [red, green, blue] = rgb.match(/\d+/g)!.map(Number);
  return `#${((red! << 16) | (green! << 8) | blue!).toString(16).padStart(6, "0")}`;
}
