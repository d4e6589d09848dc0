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
/** How much of an end colour lies over the sheet at most: the sheet's own ink stays readable on all of it. */
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
    return readable(mixColours(palette.sheet, end, Math.abs(share) * STRENGTH), palette);
  });
  const scale = HALF / spanPercent;
  return { tints, place: (percent) => Math.round(Math.min(HALF, Math.max(-HALF, percent * scale))) + HALF };
}

/** Shades of the one ink for the share 0..1 of a value between the table's least and greatest; quiet, always readable. */
export function valueShades(palette: PlainPalette): readonly CellTint[] {
  return Array.from({ length: HALF + 1 }, (_, at) =>
    readable(mixColours(palette.sheet, palette.ink, (at / HALF) * 0.3), palette),
  );
}

/** The tint with whichever of the palette's ink and sheet can be read on it better, the ink where it will do. */
function readable(background: string, { ink, sheet }: PlainPalette): CellTint {
  const enough = contrast(background, ink) >= 4.5 || contrast(background, ink) >= contrast(background, sheet);
  return { background, ink: enough ? ink : sheet };
}

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

/** Contrast ratio 1..21 of two colours. @see WCAG 2.2, "contrast ratio" and "relative luminance" */
export function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light! + 0.05) / (dark! + 0.05);
}

function luminance(colour: string): number {
  const [r, g, b] = channels(colour).map((value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** Red, green and blue 0..255 of `#rrggbb`. */
export function channels(colour: string): [number, number, number] {
  const bits = Number.parseInt(colour.slice(1, 7), 16);
  return [(bits >> 16) & 255, (bits >> 8) & 255, bits & 255];
}
