import { round } from "./picture.ts";

/** A part of the drawing in px. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Ways of hatching that can be told apart, and stay so where two lie over each other. */
export const hatches = [
  "rising",
  "falling",
  "level",
  "upright",
  "rising-dense",
  "falling-dense",
  "level-dense",
] as const;
export type Hatch = (typeof hatches)[number];

const SPACING = 6;

/**
 * Path data of the hatch lines within a box; their places hang on the drawing alone, so that boxes side by side join.
 *
 * Lines instead of a pattern: patterns need ids, and not every converter knows them.
 */
export function hatchPath({ x, y, width, height }: Box, hatch: Hatch = "rising"): string {
  const [kind, dense] = hatch.split("-");
  const spacing = dense ? SPACING / 2 : SPACING;
  const [right, bottom] = [x + width, y + height];
  let path = "";
  const line = (x1: number, y1: number, x2: number, y2: number) => {
    path += `M${round(x1)},${round(y1)}L${round(x2)},${round(y2)}`;
  };
  const each = (from: number, to: number, draw: (at: number) => void) => {
    for (let k = Math.ceil(from / spacing); k * spacing <= to; k++) draw(k * spacing);
  };
  if (kind === "level") each(y, bottom, (at) => line(x, at, right, at));
  else if (kind === "upright") each(x, right, (at) => line(at, y, at, bottom));
  else {
    // Rising lines have x + y = k, falling ones x − y = k; √2 keeps the distance between lines.
    const step = spacing * Math.SQRT2;
    const rising = kind === "rising";
    const [from, to] = rising ? [x + y, right + bottom] : [x - bottom, right - y];
    for (let k = Math.ceil(from / step); k * step < to; k++) {
      const sum = k * step;
      const x1 = rising ? Math.max(x, sum - bottom) : Math.max(x, sum + y);
      const x2 = rising ? Math.min(right, sum - y) : Math.min(right, sum + bottom);
      if (x2 - x1 < 0.05) continue;
      line(x1, rising ? sum - x1 : x1 - sum, x2, rising ? sum - x2 : x2 - sum);
    }
  }
  return path;
}
