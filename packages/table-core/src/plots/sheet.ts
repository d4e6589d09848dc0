import { lightInks } from "./inks.ts";
import { lettering, textWidth, wrapText } from "./lettering.ts";
import { node, type Picture, type PictureNode, round } from "./picture.ts";
import type { PlotOptions } from "./plot-options.ts";

/** Around every picture, in px. */
export const MARGIN = 10;

/** Width of a sample before a note, with the space behind it. */
const SAMPLE = 30;

/** Between two notes in one line. */
const BETWEEN = 18;

/** A line under the picture: what a sign, hatch or stroke in it means, with a sample of it. */
export interface Note {
  readonly text: string;
  /** Drawn in the 22 px from x, around the middle height y. */
  readonly sample?: (x: number, y: number) => readonly PictureNode[];
}

/** What stands in a picture from top to bottom. */
export interface Sheet {
  readonly title: string;
  /** Under the title, quiet: quantity and unit, what it is compared with. */
  readonly subtitle?: string;
  readonly description: string;
  readonly width: number;
  /** Drawn from y = `top` on; tells how high it came. */
  readonly body: (top: number) => { readonly nodes: readonly PictureNode[]; readonly bottom: number };
  readonly notes?: readonly Note[];
}

/** Lays heading, body and notes out under each other: the one way in which pictures come about, so that all look alike. */
export function laySheet(sheet: Sheet, { inks = lightInks, heading = true }: PlotOptions): Picture {
  const { title, subtitle, description, width } = sheet;
  const nodes: PictureNode[] = [];
  let y = MARGIN;
  const room = width - 2 * MARGIN;
  if (heading) {
    const look = { class: "title", "font-size": lettering.title, "font-weight": "bold", fill: inks.ink };
    for (const line of wrapText(title, room, lettering.title, true)) {
      y += lettering.title + 2;
      nodes.push(node("text", { ...look, x: MARGIN, y: y - 2 }, line));
    }
    y += 2;
  }
  if (subtitle)
    for (const line of wrapText(subtitle, room)) {
      y += lettering.lead;
      nodes.push(node("text", { class: "subtitle", x: MARGIN, y: y - 3, fill: inks.quiet }, line));
    }
  const body = sheet.body(y + (heading || subtitle ? 6 : 0));
  nodes.push(...body.nodes);
  y = body.bottom;
  let x = MARGIN;
  let right = MARGIN;
  for (const { text, sample } of sheet.notes ?? []) {
    const indent = sample ? SAMPLE : 0;
    const length = indent + textWidth(text);
    // Short notes share a line.
    const beside = right > MARGIN && right + BETWEEN + length <= width - MARGIN;
    x = beside ? right + BETWEEN : MARGIN;
    if (!beside) y += 4;
    else y -= lettering.lead;
    if (sample) nodes.push(...sample(x, y + lettering.lead / 2));
    const lines = wrapText(text, width - MARGIN - x - indent);
    for (const line of lines) {
      y += lettering.lead;
      nodes.push(node("text", { class: "note", x: x + indent, y: y - 3.5, fill: inks.quiet }, line));
    }
    right = lines.length > 1 ? MARGIN : x + length;
  }
  return Object.freeze({
    width: round(width),
    height: Math.ceil(y + MARGIN),
    title,
    description,
    ground: inks.paper,
    nodes: Object.freeze(nodes),
  });
}
