import type { Inks } from "./inks.ts";
import { lettering } from "./lettering.ts";
import { node, type PictureNode } from "./picture.ts";
import { slicePath } from "./slice.ts";

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
  nodes.push(
    node("path", { class: "now", ...line, stroke: inks.after, "stroke-width": lettering.line, d: slicePath(now) }),
  );
  if (chosen && Number.isFinite(chosen[0] + chosen[1]))
    nodes.push(
      node("circle", { class: "dot", cx: chosen[0], cy: chosen[1], r: 3.5, fill: inks.after, stroke: inks.paper }),
    );
  return nodes;
}
