import type { Inks } from "./inks.ts";
import { node, type PictureNode } from "./picture.ts";
import { type SliceScale, slicePath, sliceScale } from "./slice.ts";

type Point = readonly [x: number, y: number];

/** A slice as points in px, from back to front: what it was, what it is, the chosen cell. */
export interface SlicePoints {
  /** Null or left out: nothing to compare with. */
  readonly was?: readonly Point[] | null;
  readonly now: readonly Point[];
  readonly chosen?: Point | null;
}

/** Before as a dashed line, after as a solid one, the chosen cell as a dot. */
export function drawSlice(
  { was, now, chosen }: SlicePoints,
  inks: Pick<Inks, "before" | "after" | "paper">,
): PictureNode[] {
  const line = { fill: "none", "stroke-linejoin": "round" } as const;
  const nodes: PictureNode[] = [];
  if (was)
    nodes.push(
      node("path", { class: "was", ...line, stroke: inks.before, "stroke-dasharray": "3 3", d: slicePath(was) }),
    );
  nodes.push(node("path", { class: "now", ...line, stroke: inks.after, "stroke-width": 1.8, d: slicePath(now) }));
  if (chosen && Number.isFinite(chosen[0] + chosen[1]))
    nodes.push(
      node("circle", { class: "dot", cx: chosen[0], cy: chosen[1], r: 3.5, fill: inks.after, stroke: inks.paper }),
    );
  return nodes;
}

/** A slice beside the cells that it is cut from, each point in line with its cell. */
export interface SliceStrip {
  /** Shown values in order of the slice's axis. */
  readonly now: readonly number[];
  /** The same before; null or left out: not drawn. */
  readonly was?: readonly number[] | null;
  /** Which of them is the chosen cell's. */
  readonly chosen: number;
  /** `rpm`: lies along the foot of the strip, values upward. `load`: stands, values to the right. */
  readonly along: "rpm" | "load";
  /** Middle of each cell along the strip, in px. */
  readonly middles: readonly number[];
  /** In px. */
  readonly width: number;
  /** In px. */
  readonly height: number;
}

/** Room for the axis, and on the far side for words, in px. */
const BASE = 7.5;
const FAR = { rpm: 20, load: 10 };

/** The strip with its axis, and the scale that its values lie on. */
export function drawSliceStrip(
  { now, was, chosen, along, middles, width, height }: SliceStrip,
  inks: Pick<Inks, "before" | "after" | "paper" | "axis">,
): { readonly nodes: readonly PictureNode[]; readonly scale: SliceScale } {
  const scale = sliceScale(was ? [...now, ...was] : now);
  const upright = along === "load";
  const room = (upright ? width : height) - BASE - 3 - FAR[along];
  const place = (value: number, at: number): Point => {
    const across = BASE + 3 + scale.share(value) * room;
    return upright ? [across, middles[at]!] : [middles[at]!, height - across];
  };
  const differs = was?.some((value, at) => value !== now[at]) ?? false;
  const ends = upright
    ? { x1: BASE, x2: BASE, y1: 0, y2: height }
    : { x1: 0, x2: width, y1: height - BASE, y2: height - BASE };
  return {
    nodes: [
      node("line", { class: "axis", ...ends, stroke: inks.axis }),
      ...drawSlice(
        { was: differs ? was!.map(place) : null, now: now.map(place), chosen: place(now[chosen]!, chosen) },
        inks,
      ),
    ],
    scale,
  };
}
