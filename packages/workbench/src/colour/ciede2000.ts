import type { Lab } from "./lab.ts";

const DEGREE = Math.PI / 180;

/**
 * The CIEDE2000 difference of two colours: 0 for the same, about 1 for one that is just seen side by side.
 *
 * Symmetrical; all weights (kL, kC, kH) are 1. Where a colour has no hue, or two hues lie opposite, the mean hue is that
 * of the paper.
 *
 * @see G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30 (2005) 21–30
 */
export function ciede2000([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  const stretch = 1.5 - 0.5 * chromaShare((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2);
  const [c1, c2] = [Math.hypot(a1 * stretch, b1), Math.hypot(a2 * stretch, b2)];
  const [h1, h2] = [hue(a1 * stretch, b1), hue(a2 * stretch, b2)];
  const hueless = c1 * c2 === 0;

  const lightness = l2 - l1;
  const chroma = c2 - c1;
  const turn = hueless ? 0 : h2 - h1 > 180 ? h2 - h1 - 360 : h2 - h1 < -180 ? h2 - h1 + 360 : h2 - h1;
  const hueDifference = 2 * Math.sqrt(c1 * c2) * Math.sin((turn / 2) * DEGREE);

  const lMean = (l1 + l2) / 2;
  const cMean = (c1 + c2) / 2;
  const hMean = hueless ? h1 + h2 : meanHue(h1, h2);
  const t =
    1 -
    0.17 * Math.cos((hMean - 30) * DEGREE) +
    0.24 * Math.cos(2 * hMean * DEGREE) +
    0.32 * Math.cos((3 * hMean + 6) * DEGREE) -
    0.2 * Math.cos((4 * hMean - 63) * DEGREE);
  const lWeight = 1 + (0.015 * (lMean - 50) ** 2) / Math.sqrt(20 + (lMean - 50) ** 2);
  const cWeight = 1 + 0.045 * cMean;
  const hWeight = 1 + 0.015 * cMean * t;
  const rotation = -Math.sin(60 * Math.exp(-(((hMean - 275) / 25) ** 2)) * DEGREE) * 2 * chromaShare(cMean);

  const [l, c, h] = [lightness / lWeight, chroma / cWeight, hueDifference / hWeight];
  return Math.sqrt(l * l + c * c + h * h + rotation * c * h);
}

/** How near a chroma is to the saturated end: √(c⁷ / (c⁷ + 25⁷)), 0..1. */
const chromaShare = (chroma: number) => Math.sqrt(chroma ** 7 / (chroma ** 7 + 25 ** 7));

/** Hue angle 0..360°, 0 for a grey. */
function hue(a: number, b: number): number {
  const degrees = a === 0 && b === 0 ? 0 : Math.atan2(b, a) / DEGREE;
  return degrees < 0 ? degrees + 360 : degrees;
}

/** The mean on the shorter arc; of two opposite hues, the half of their sum. */
function meanHue(h1: number, h2: number): number {
  if (Math.abs(h1 - h2) <= 180) return (h1 + h2) / 2;
  return h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
}
