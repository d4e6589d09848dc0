/** The few shapes that pictures are made of. Paths use absolute M, L, H, V and Z alone; nothing is transformed. */
export type PictureTag = "g" | "path" | "line" | "rect" | "circle" | "text";

/** One shape, with its SVG attributes; `class` says what it stands for. Only `g` has children, only `text` has text. */
export interface PictureNode {
  readonly tag: PictureTag;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly PictureNode[];
  readonly text: string;
}

/**
 * A drawing as plain data: for `writeSvg`, for a component, for a test. Sizes and places in px of 1/96 inch.
 *
 * It holds no ids, so that several can stand in one page, and no style sheet, so that converters without one show it alike.
 */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** What is drawn, in sentences computed from the values: for those who don't see it. */
  readonly description: string;
  /** What it is drawn on, or `none`. */
  readonly ground: string;
  readonly nodes: readonly PictureNode[];
}

type Attributes = Readonly<Record<string, string | number | undefined>>;

const nothing: readonly PictureNode[] = Object.freeze([]);

/** A frozen node. Attributes that are undefined are left out; numbers are rounded to hundredths of a px. */
export function node(tag: PictureTag, attributes: Attributes, content?: string | readonly PictureNode[]): PictureNode {
  const kept: Record<string, string | number> = {};
  for (const name in attributes) {
    const value = attributes[name];
    if (value !== undefined) kept[name] = typeof value === "number" ? round(value) : value;
  }
  const text = typeof content === "string" ? content : "";
  const children = typeof content === "object" ? Object.freeze([...content]) : nothing;
  return Object.freeze({ tag, attributes: Object.freeze(kept), children, text });
}

/** To hundredths of a px, as figures in paths are written. */
export const round = (px: number): number => Math.round(px * 100) / 100 + 0;
