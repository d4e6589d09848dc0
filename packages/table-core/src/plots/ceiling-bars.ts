import type { PartId, PartVerdict } from "../build/ceiling.ts";
import type { CeilingReport } from "../build/check-ceilings.ts";
import { hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type PictureNode } from "./picture.ts";
import { MARGIN } from "./sheet.ts";

export const partNames: Readonly<Record<PartId, string>> = {
  injectors: "Injectors",
  pump: "Pump",
  intake: "Intake",
  storage: "Storage",
};

/** What a part is asked, in percent of what it can give; infinite where it gives nothing, null where that can't be said. */
export const takenPercent = ({ inHandPercent }: Pick<PartVerdict, "inHandPercent">): number | null =>
  inHandPercent === null ? null : inHandPercent <= -100 ? Number.POSITIVE_INFINITY : 10_000 / (100 + inHandPercent);

/** Bars run to this at most, in percent; beyond it the figure says "more than". */
const MOST_PERCENT = 150;

const ROW = 18;

/** A bar a part: what it is asked of what there is, hatched beyond that; the part that gives out first is set bold. */
export function drawCeilingBars(
  { parts, first }: Pick<CeilingReport, "parts" | "first">,
  { top, width }: { readonly top: number; readonly width: number },
  inks: Inks,
): { readonly nodes: readonly PictureNode[]; readonly bottom: number } {
  const known = parts.filter((verdict) => takenPercent(verdict) !== null);
  const unknown = parts.filter((verdict) => takenPercent(verdict) === null);
  const left = MARGIN + Math.max(...Object.values(partNames).map((name) => textWidth(name, lettering.text, true))) + 8;
  const right = width - MARGIN - textWidth(`> ${MOST_PERCENT} %`, lettering.text, true) - 8;
  const place = (percent: number) => left + ((right - left) * Math.min(percent, MOST_PERCENT)) / MOST_PERCENT;
  const limit = place(100);
  const start = top + (known.length > 0 ? lettering.lead : 0);
  const nodes = known.flatMap((verdict, at) => {
    const taken = takenPercent(verdict)!;
    const y = start + at * ROW;
    const look = { y: y + 13, "font-weight": verdict.part === first?.part ? "bold" : undefined, fill: inks.ink };
    const box = { x: left, y: y + 4, width: place(taken) - left, height: ROW - 8 };
    const words = taken > MOST_PERCENT ? `> ${MOST_PERCENT} %` : `${Math.round(taken)} %`;
    const over = { ...box, x: limit, width: place(taken) - limit };
    return [
      node("text", { class: "part", x: MARGIN, ...look }, partNames[verdict.part]),
      node("rect", { class: "taken", ...box, fill: inks.rule, stroke: inks.axis }),
      ...(taken > 100
        ? [node("path", { class: "hatch", d: hatchPath(over, "rising-dense"), stroke: inks.ink, fill: "none" })]
        : []),
      node("text", { class: "share", x: width - MARGIN, "text-anchor": "end", ...look }, words),
    ];
  });
  let bottom = start + known.length * ROW;
  if (known.length > 0)
    nodes.push(
      node("line", { class: "limit", x1: limit, x2: limit, y1: start - 2, y2: bottom, stroke: inks.ink }),
      node("text", { class: "head", x: limit, y: top + 10, "text-anchor": "middle", fill: inks.quiet }, "all there is"),
    );
  if (unknown.length > 0) {
    bottom += lettering.lead;
    const words = `Not known: ${unknown.map(({ part }) => partNames[part].toLowerCase()).join(", ")}`;
    nodes.push(node("text", { class: "unknown", x: MARGIN, y: bottom - 2, fill: inks.quiet }, words));
  }
  return { nodes, bottom };
}
