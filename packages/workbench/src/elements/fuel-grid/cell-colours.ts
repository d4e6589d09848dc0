import { readableTint } from "../../colour/readable-tint.ts";

/** One colour a cell can have, with the ink that can be read on it (4.5:1 or better); both `#rrggbb`. */
export interface CellTint {
  readonly background: string;
  readonly ink: string;
}

/**
 * Colours that show change: a ramp worked out beforehand, and where on it a change lies.
 *
 * A grid asks `place` once a cell, so it should be a few operations; it reads `tints` once for each object of colours,
 * so a changed ramp is a new object. Few different inks (one or two) keep a grid quick.
 */
export interface CellColours {
  /** From the greatest fall over no change to the greatest rise; at most 4,096 of them. */
  readonly tints: readonly CellTint[];
  /** The index in `tints` of a change in percent; any finite or infinite number gives a valid index. */
  place(percent: number): number;
}

/** What the built-in colours are made of, as `#rrggbb`. */
export interface PlainPalette {
  readonly sheet: string;
  readonly ink: string;
  readonly less: string;
  readonly more: string;
}

const HALF = 128;
/** How much of an end colour lies over the sheet at most. */
const STRENGTH = 0.62;

/**
 * The built-in colours of an element that is given none: from `less` over the sheet to `more`, full at `spanPercent`.
 *
 * A host with a colour scheme gives its own; this one mixes in plain sRGB.
 */
export function plainColours(palette: PlainPalette, spanPercent = 30): CellColours {
  const tints = Array.from({ length: 2 * HALF + 1 }, (_, at) => {
    const share = (at - HALF) / HALF;
    const end = share < 0 ? palette.less : palette.more;
    return readable(mixColours(palette.sheet, end, Math.abs(share) * STRENGTH), palette.ink);
  });
  const scale = HALF / spanPercent;
  return { tints, place: (percent) => Math.round(Math.min(HALF, Math.max(-HALF, percent * scale))) + HALF };
}

/** Shades of the one ink for the share 0..1 of a value between the table's least and greatest; quiet, always readable. */
export function valueShades(palette: PlainPalette): readonly CellTint[] {
  return Array.from({ length: HALF + 1 }, (_, at) =>
    readable(mixColours(palette.sheet, palette.ink, (at / HALF) * 0.3), palette.ink),
  );
}

/** The nearest tint on which the page's one ink is read. */
const readable = (background: string, ink: string): CellTint => ({ background: readableTint(background, ink), ink });

/** `share` of `b` over `a`, in sRGB. */
export function mixColours(a: string, b: string, share: number): string {
  const from = channels(a);
  const to = channels(b);
  return `#${from
    .map((value, at) =>
      Math.round(value + (to[at]! - value) * share)
        .toString(16)
        .padStart(2, "0"),
    )
    .join("")}`;
}

/** Red, green and blue 0..255 of `#rrggbb`. */
export function channels(colour: string): [number, number, number] {
  const bits = Number.parseInt(colour.slice(1, 7), 16);
  return [(bits >> 16) & 255, (bits >> 8) & 255, bits & 255];
}
