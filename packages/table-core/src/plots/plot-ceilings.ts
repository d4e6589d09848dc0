import type { CeilingReport } from "../build/check-ceilings.ts";
import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { drawCeilingBars, partNames, takenPercent } from "./ceiling-bars.ts";
import { ceilingNote, sayCeiling } from "./ceiling-hatches.ts";
import type { AxesShownAs } from "./figures.ts";
import { type Inks, lightInks } from "./inks.ts";
import { drawMapFrame, hatchMap, type MapField, mapBottom, mapField } from "./map-field.ts";
import { node, type Picture, type PictureNode, round } from "./picture.ts";
import { type PlotOptions, requireWidth } from "./plot-options.ts";
import { laySheet } from "./sheet.ts";

export interface PlotCeilings extends PlotOptions {
  /** The table that the report is of. */
  readonly table: FuelTable;
  readonly axes?: AxesShownAs;
  /** Height of the map of cells in px, 40..2000; left out: 150. */
  readonly height?: number;
}

/** @inline */
type Report = Pick<CeilingReport, "parts" | "ceilings" | "first">;

/**
 * What each part is asked of what it can give, which gives out first, and which cells are at which ceiling.
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
  const hit = report.ceilings.filter(({ cells }) => cells.length > 0);
  return laySheet(
    {
      title: options.title ?? `${table.name}, ceilings`,
      subtitle: sayFirst(report),
      description: describe(report, table, axes),
      width,
      body: (top) => {
        const bars = drawCeilingBars(report, { top, width }, inks);
        const field = mapField(table, axes, { width, height, top: bars.bottom + 10 });
        const map = [
          ...hatchMap(hit, field, inks),
          ...drawCells(field, inks),
          ...drawMapFrame(table, axes, field, inks),
        ];
        return { nodes: [...bars.nodes, ...map], bottom: mapBottom(field) };
      },
      notes:
        hit.length > 0
          ? hit.map((ceiling, at) => ceilingNote(table, ceiling, at, inks, axes))
          : [{ text: "No cell is at a ceiling." }],
    },
    options,
  );
}

/** Lines between cells, where they would not fill the field. */
function drawCells({ x, y, width, height, columns, rows, cellWidth, cellHeight }: MapField, inks: Inks): PictureNode[] {
  if (cellWidth < 8 || cellHeight < 8) return [];
  let d = "";
  for (let row = 1; row < rows; row++) d += `M${round(x)},${round(y + row * cellHeight)}H${round(x + width)}`;
  for (let column = 1; column < columns; column++)
    d += `M${round(x + column * cellWidth)},${round(y)}V${round(y + height)}`;
  return d ? [node("path", { class: "grid", d, stroke: inks.rule, fill: "none" })] : [];
}

/** "Injectors give out first", "Pump would give out first". */
function sayFirst({ first }: Pick<Report, "first">): string {
  if (!first) return "No part is described";
  const verb = takenPercent(first)! <= 100 ? "would give" : first.part === "injectors" ? "give" : "gives";
  return `${partNames[first.part]} ${verb} out first`;
}

function describe(report: Report, table: FuelTable, axes: AxesShownAs): string {
  const hit = report.ceilings.filter(({ cells }) => cells.length > 0);
  return [
    `Ceilings of ${table.name}.`,
    `${sayFirst(report)}.`,
    ...report.parts.map((verdict) => {
      const taken = takenPercent(verdict);
      const share = taken === null ? "not known" : Number.isFinite(taken) ? `${Math.round(taken)} %` : "beyond all";
      return `${partNames[verdict.part]}: ${share}${taken === null ? "" : " of what there is"}. ${verdict.sentence}`;
    }),
    ...(hit.length > 0 ? hit.map((ceiling) => sayCeiling(table, ceiling, axes)) : ["No cell is at a ceiling."]),
  ].join(" ");
}
