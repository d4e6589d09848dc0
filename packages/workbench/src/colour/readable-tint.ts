import { contrastRatio, luminance, READABLE } from "./contrast.ts";
import { type Lab, lightnessOfLuminance, linearOfLab, toLab } from "./lab.ts";
import { fromLinear, isShowable } from "./srgb.ts";

/** The one of `inks` that reads best on a background; the first of equals. */
export function bestInk(background: string, inks: readonly string[]): string {
  return inks.reduce((best, ink) => (contrastRatio(ink, background) > contrastRatio(best, background) ? ink : best));
}

/**
 * The background nearest to the given one on which `ink` reads at 4.5:1 or better.
 *
 * One that is readable already comes back as it is. Otherwise it is made lighter or darker, whichever is the shorter way,
 * and keeps its hue; its chroma falls only as far as a screen needs. Any ink reads on white or on black, so there is
 * always such a background.
 */
export function readableTint(background: string, ink: string): string {
  if (contrastRatio(background, ink) >= READABLE) return background;
  const lab = toLab(background);
  const inkLight = luminance(ink) + 0.05;
  const lighter = READABLE * inkLight - 0.05;
  const darker = inkLight / READABLE - 0.05;
  const ways = [
    ...(lighter <= 1 ? [{ lightness: lightnessOfLuminance(lighter), step: 0.1 }] : []),
    ...(darker >= 0 ? [{ lightness: lightnessOfLuminance(darker), step: -0.1 }] : []),
  ];
  const way = ways.reduce((a, b) => (Math.abs(b.lightness - lab[0]) < Math.abs(a.lightness - lab[0]) ? b : a));
  let { lightness } = way;
  let tint = withLightness(lab, lightness);
  // Rounding to 8 bits can cost the last hundredth of contrast.
  while (contrastRatio(tint, ink) < READABLE) tint = withLightness(lab, (lightness += way.step));
  return tint;
}

/** A colour at another lightness: the same hue, and as much of its chroma as a screen can show there. */
export function withLightness([, a, b]: Lab, lightness: number): string {
  const at = Math.min(100, Math.max(0, lightness));
  // The ends are white and black alone: a trace of chroma there would cost contrast that no step brings back.
  if (at === 100) return "#ffffff";
  if (at === 0) return "#000000";
  const light = (share: number) => linearOfLab([at, a * share, b * share]);
  let [shown, beyond] = [isShowable(light(1)) ? 1 : 0, 1];
  while (shown < 1 && beyond - shown > 1e-3) {
    const middle = (shown + beyond) / 2;
    if (isShowable(light(middle))) shown = middle;
    else beyond = middle;
  }
  return fromLinear(light(shown));
}
