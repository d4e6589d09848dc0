import { round } from "./picture.ts";

/** Length of a sign's arm, in px. */
export const SIGN = 5;

/** Path data of a plus or a minus around a point: drawn, so that it is not read as the sign of a figure. */
export function signPath(x: number, y: number, percent: number): string {
  const half = SIGN / 2;
  const bar = `M${round(x - half)},${round(y)}H${round(x + half)}`;
  return percent > 0 ? `${bar}M${round(x)},${round(y - half)}V${round(y + half)}` : bar;
}
