import type { PartId, PartVerdict } from "../build/ceiling.ts";
import type { CeilingReport } from "../build/check-ceilings.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { ceilingNote, hatchOf, sayCeiling } from "./ceiling-hatches.ts";
import { type AxesShownAs, breakpointTexts } from "./figures.ts";
import { hatchPath } from "./hatch.ts";
import { type Inks, lightInks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type Picture, type PictureNode } from "./picture.ts";
import { type PlotOptions, requireWidth } from "./plot-options.ts";
import { laySheet, MARGIN } from "./sheet.ts";

export interface PlotCeilings extends PlotOptions {
  /** The table that the report is of. */
  readonly table: FuelTable;
  readonly axes?: AxesShownAs;
  /** Height of the map of cells in px, 40..2000; left out: 150. */
  readonly height?: number;
}

const names: Readonly<Record<PartId, string>> = {
  injectors: "Injectors",
  pump: "Pump",
  intake: "Intake",
  storage: "Storage",
};

/**
 * What each part is asked of what it can give, what gives out first, and which cells are at which ceiling.
 *
 * @example plotCeilings(checkCeilings({ build, table, target: 0.88 }), { table })
 * @throws FuelwrightError `not-finite`, `out-of-range`
 */
export function plotCeilings(
  report: Pick<CeilingReport, "parts" | "ceilings" | "first">,
  options: PlotCeilings,
): Picture {
  const { table, inks = lightInks, axes = {} } = options;
  const width = requireWidth("plotCeilings", options.width, 420);
  const height = requireWithin("plotCeilings: height", options.height ?? 150, 40, 2000);
  const { ceilings, first } = report;
  const hit = ceilings.filter(({ cells }) => cells.length > 0);
  return laySheet(
    {
      title: options.title ?? `${table.name}, ceilings`,
      subtitle: first ? `${names[first.part]} give${plural(first.part)} out first` : "No part is described",
      description: describe(report, table, axes),
      width,
      body: (top) => {
        const bars = drawBars(report, top, width, inks);
        const map = drawMap(hit, table, axes, { top: bars.bottom + 10, width, height }, inks);
        return { nodes: [...bars.nodes, ...map.nodes], bottom: map.bottom };
      },
      notes:
        hit.length > 0
          ? hit.map((ceiling, at) => ceilingNote(table, ceiling, at, inks, axes))
          : [{ text: "No cell is at a ceiling." }],
    },
    options,
  );
}

const plural = (part: PartId) => (part === "injectors" ? "" : "s");

/** What a part is asked, in percent of what it can give; null where that can't be said. */
export const takenPercent = ({ inHandPercent }: Pick<PartVerdict, "inHandPercent">): number | null =>
  inHandPercent === null ? null : inHandPercent <= -100 ? Number.POSITIVE_INFINITY : 10_000 / (100 + inHandPercent);

/** Bars run to this at most, in percent; what is beyond has an arrow. */
const MOST_PERCENT = 150;

function drawBars({ parts, first }: Pick<CeilingReport, "parts" | "first">, top: number, width: number, inks: Inks) {
  const rows = parts.filter(({ inHandPercent }) => inHandPercent !== null);
  const unknown = parts.filter(({ inHandPercent }) => inHandPercent === null);
  const left = MARGIN + Math.max(...Object.values(names).map((name) => textWidth(name, lettering.text, true))) + 8;
  const right = width - MARGIN - textWidth("> 150 %", lettering.text, true) - 8;
  const place = (percent: number) => left + ((right - left) * Math.min(percent, MOST_PERCENT)) / MOST_PERCENT;
  const nodes: PictureNode[] = [];
  const lead = 18;
  let y = top + (rows.length > 0 ? lettering.lead : 0);
  for (const verdict of rows) {
    const taken = takenPercent(verdict)!;
    const bold = verdict.part === first?.part ? "bold" : undefined;
    const box = { x: left, y: y + 4, width: place(taken) - left, height: lead - 8 };
    const limit = place(100);
    nodes.push(
      node("text", { class: "part", x: MARGIN, y: y + 13, "font-weight": bold, fill: inks.ink }, names[verdict.part]),
      node("rect", { class: "taken", ...box, fill: inks.rule, stroke: inks.axis }),
    );
    // What is above the limit is hatched, as every ceiling is.
    if (taken > 100) {
      const over = { ...box, x: limit, width: place(taken) - limit };
      nodes.push(node("path", { class: "hatch", d: hatchPath(over, "rising-dense"), stroke: inks.ink, fill: "none" }));
    }
    const words = taken > MOST_PERCENT ? `> ${MOST_PERCENT} %` : `${Math.round(taken)} %`;
    nodes.push(
      node(
        "text",
        { class: "share", x: width - MARGIN, y: y + 13, "text-anchor": "end", "font-weight": bold, fill: inks.ink },
        words,
      ),
    );
    y += lead;
  }
  if (rows.length > 0) {
    const limit = place(100);
    nodes.push(
      node("line", { class: "limit", x1: limit, x2: limit, y1: top + lettering.lead - 2, y2: y, stroke: inks.ink }),
      node("text", { class: "head", x: limit, y: top + 10, "text-anchor": "middle", fill: inks.quiet }, "all there is"),
    );
  }
  if (unknown.length > 0) {
    y += lettering.lead;
    const words = `Not known: ${unknown.map(({ part }) => names[part].toLowerCase()).join(", ")}`;
    nodes.push(node("text", { class: "unknown", x: MARGIN, y: y - 2, fill: inks.quiet }, words));
  }
  return { nodes, bottom: y };
}

function drawMap(
  ceilings: CeilingReport["ceilings"],
  table: FuelTable,
  axes: AxesShownAs,
  { top, width, height }: { readonly top: number; readonly width: number; readonly height: number },
  inks: Inks,
) {
  const columns = table.rpm.breakpoints.length;
  const rows = table.load.breakpoints.length;
  const oneRow = table.load.quantity === "single-row";
  const rpm = breakpointTexts(table.rpm, axes.rpm);
  const load = oneRow ? ["", ""] : breakpointTexts(table.load, axes.load);
  const loadUnit = oneRow ? "" : (axes.load?.unit ?? table.load.unit);
  const left = MARGIN + Math.ceil(Math.max(...[load[0]!, load.at(-1)!, loadUnit].map((text) => textWidth(text)))) + 6;
  const field = { left, right: width - MARGIN, top, bottom: top + height };
  const cell = { width: (field.right - left) / columns, height: height / rows };
  const nodes: PictureNode[] = [];
  ceilings.forEach(({ cells }, kind) => {
    const d = runsOf(cells, columns)
      .map(({ at, length }) =>
        hatchPath(
          {
            x: left + (at % columns) * cell.width,
            y: field.bottom - (Math.floor(at / columns) + 1) * cell.height,
            width: cell.width * length,
            height: cell.height,
          },
          hatchOf(kind),
        ),
      )
      .join("");
    nodes.push(node("path", { class: "hatch", d, stroke: inks.hatch, fill: "none" }));
  });
  // Lines between cells would fill the field where cells are small.
  if (cell.width >= 8 && cell.height >= 8) {
    let d = "";
    for (let row = 1; row < rows; row++) d += `M${left},${y2(field.bottom - row * cell.height)}H${field.right}`;
    for (let column = 1; column < columns; column++) d += `M${y2(left + column * cell.width)},${top}V${field.bottom}`;
    if (d) nodes.push(node("path", { class: "grid", d, stroke: inks.rule, fill: "none" }));
  }
  const text = (x: number, y: number, words: string, anchor?: "end" | "middle") =>
    node("text", { class: "head", x, y, "text-anchor": anchor, fill: inks.quiet }, words);
  const below = field.bottom + lettering.lead;
  nodes.push(
    node("rect", {
      class: "axis",
      x: left,
      y: top,
      width: field.right - left,
      height,
      fill: "none",
      stroke: inks.axis,
    }),
    text(left, below, rpm[0]!),
    text(field.right, below, `${rpm.at(-1)} ${axes.rpm?.unit ?? table.rpm.unit}`, "end"),
  );
  if (!oneRow)
    nodes.push(
      text(left - 6, field.bottom, load[0]!, "end"),
      text(left - 6, (top + field.bottom) / 2 + 4, loadUnit, "end"),
      text(left - 6, top + 9, load.at(-1)!, "end"),
    );
  return { nodes, bottom: below + 4 };
}

const y2 = (px: number) => Math.round(px * 100) / 100;

/** Cells side by side joined, so that a wide ceiling is a few hatches and not thousands. */
function runsOf(cells: readonly { readonly at: number }[], columns: number) {
  const runs: { at: number; length: number }[] = [];
  for (const { at } of [...cells].sort((a, b) => a.at - b.at)) {
    const last = runs.at(-1);
    if (last && last.at + last.length === at && at % columns !== 0) last.length++;
    else runs.push({ at, length: 1 });
  }
  return runs;
}

function describe(
  { parts, ceilings, first }: Pick<CeilingReport, "parts" | "ceilings" | "first">,
  table: FuelTable,
  axes: AxesShownAs,
): string {
  const hit = ceilings.filter(({ cells }) => cells.length > 0);
  return [
    `Ceilings of ${table.name}.`,
    first
      ? `${names[first.part]} give${plural(first.part)} out first${takenPercent(first)! > 100 ? "" : ", if anything does"}.`
      : "No part is described.",
    ...parts.map((verdict) => {
      const taken = takenPercent(verdict);
      const share =
        taken === null
          ? "not known"
          : taken === Number.POSITIVE_INFINITY
            ? "beyond all there is"
            : `${Math.round(taken)} % of what there is`;
      return `${names[verdict.part]}: ${share}. ${verdict.sentence}`;
    }),
    ...(hit.length > 0 ? hit.map((ceiling) => sayCeiling(table, ceiling, axes)) : ["No cell is at a ceiling."]),
  ].join(" ");
}
