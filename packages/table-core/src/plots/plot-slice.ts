import type { FuelTable } from "../values/fuel-table.ts";
import { axisQuantities, cellQuantities } from "../values/quantities.ts";
import { requireFinite, requireWithin } from "../values/require.ts";
import { changesOf, exceeds } from "./changes.ts";
import { type ChartField, chartScales, drawChart, FIGURES_HEIGHT } from "./draw-chart.ts";
import { drawSlice } from "./draw-slice.ts";
import { extremes } from "./extremes.ts";
import { breakpointTexts, capital, ownUnit, sayChange } from "./figures.ts";
import { lightInks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type Picture } from "./picture.ts";
import { type PlotOptions, requireWidth, type ShownOptions } from "./plot-options.ts";
import { sayCut, saySlice } from "./say-slice.ts";
import type { Chart } from "./series.ts";
import { laySheet, MARGIN, type Note } from "./sheet.ts";
import { type SliceDirection, sliceCells } from "./slice.ts";

export interface PlotSlice extends PlotOptions, ShownOptions {
  /** `rpm`: a row; `load`: a column. Left out: a row. */
  readonly along?: SliceDirection;
  /**
   * Where it is cut, in the unit of the other axis; the nearest breakpoint counts. Left out: through the cell that
   * changed most, or through the middle where none did.
   */
  readonly at?: number;
  /** What it was: a dashed line. Of the same quantity; other breakpoints are read between. */
  readonly before?: FuelTable;
  /**
   * Ends of the scale of values, in the table's own unit. Left out: what both tables hold altogether, so that slices of one
   * table can be compared.
   */
  readonly domain?: readonly [from: number, to: number];
  /** Height of the field in which the lines run, in px, 40..2000; left out: 130. */
  readonly height?: number;
}

/**
 * One row or column of a table as a line over its axis, with what it was as a dashed one.
 *
 * @example plotSlice(table, { before, along: "rpm", at: 60 }).description
 * @throws FuelwrightError `quantities-differ`, `axes-do-not-match`, `not-finite`, `out-of-range`
 */
export function plotSlice(table: FuelTable, options: PlotSlice = {}): Picture {
  const { inks = lightInks, along = "rpm", shown = ownUnit(table.quantity), axes = {} } = options;
  const width = requireWidth("plotSlice", options.width, 320);
  const height = requireWithin("plotSlice: height", options.height ?? 130, 40, 2000);
  const changes = options.before ? changesOf(table, options.before, "plotSlice") : null;
  const cell = cellToCut(table, along, options.at, changes?.largest ?? -1);
  const cells = sliceCells(table, along, cell);
  const differs = changes !== null && cells.some((at) => changes.percent[at] !== 0);
  const now = cells.map((at) => table.cells[at]!);
  const was = differs ? cells.map((at) => changes.before.cells[at]!) : null;

  const axis = table[along];
  const texts = breakpointTexts(axis, axes[along]);
  const place = axes[along]?.show ?? ((value: number) => value);
  const all = [...(options.domain ?? [...table.cells, ...(changes?.before.cells ?? [])])].map(shown.show);
  const finite = all.filter(Number.isFinite);
  const domain = extremes(finite);
  const points = (values: readonly number[]) =>
    values.map((value, at) => [place(axis.breakpoints[at]!), shown.show(value)] as const);
  const [first, last] = [axis.breakpoints[0]!, axis.breakpoints.at(-1)!];
  const chart: Chart = {
    label: "",
    x: { label: "", unit: axes[along]?.unit ?? axis.unit },
    y: { label: "", leastSpan: 0.05 * Math.max(Math.abs(domain[0]), Math.abs(domain[1]), 1e-9) },
    // Laid out by the corners alone: the lines are drawn as every slice is.
    series: [{ name: "", points: [first, last].map((value, at) => [place(value), domain[at]!]) }],
  };
  const cut = { table, along, cell, axes };
  const label = cellQuantities[table.quantity].label;
  const title = options.title ?? `${capital(label)} over ${axisQuantities[axis.quantity].label}, ${sayCut(cut)}`;
  const most = differs ? largestOf(cells, changes.percent) : -1;
  const told =
    most < 0
      ? changes
        ? " Nothing changed here."
        : ""
      : ` Largest change here ${sayChange(changes!.percent[cells[most]!]!)} at ${texts[most]} ${axes[along]?.unit ?? axis.unit}.`;
  const fieldAt = (top: number, left: number): ChartField => ({
    left,
    right: width - MARGIN - 6,
    top: top + 6,
    bottom: top + 6 + height,
  });
  const draft = chartScales(chart, fieldAt(0, MARGIN));
  const gutter = MARGIN + 8 + Math.max(...draft.y.ticks.map((tick) => textWidth(draft.y.say(tick))), 14);
  return laySheet(
    {
      title,
      subtitle: [table.name, shown.unit].filter(Boolean).join(", "),
      description: `${table.name}: ${saySlice({ ...cut, now, was, shown })}.${told}${
        changes?.interpolated ? " The breakpoints differ: what it was is read between its own." : ""
      }`,
      width,
      body: (top) => {
        const field = fieldAt(top, gutter);
        const scales = chartScales(chart, field);
        const px = (values: readonly number[]) =>
          points(values).map(([x, y]) => {
            const at = scales.y.place(y);
            return [scales.x.place(x), at >= field.top - 0.5 && at <= field.bottom + 0.5 ? at : Number.NaN] as const;
          });
        const frame = drawChart({ ...chart, series: [] }, scales, field, inks);
        return {
          nodes: [...frame, ...drawSlice({ was: was && px(was), now: px(now) }, inks)],
          bottom: field.bottom + FIGURES_HEIGHT,
        };
      },
      notes: was ? keys(inks) : [],
    },
    options,
  );
}

const keys = (inks: Parameters<typeof drawSlice>[1]): Note[] => [
  {
    text: "after",
    sample: (x, y) => [
      node("path", { d: `M${x},${y}H${x + 22}`, stroke: inks.after, "stroke-width": lettering.line, fill: "none" }),
    ],
  },
  {
    text: "before",
    sample: (x, y) => [
      node("path", { d: `M${x},${y}H${x + 22}`, stroke: inks.before, "stroke-dasharray": "3 3", fill: "none" }),
    ],
  },
];

/** The cell of a slice that is nearest to `at`, or that changed most, or in the middle. */
function cellToCut(table: FuelTable, along: SliceDirection, at: number | undefined, largest: number): number {
  const columns = table.rpm.breakpoints.length;
  const middle = Math.floor(table.load.breakpoints.length / 2) * columns + Math.floor(columns / 2);
  const start = largest < 0 ? middle : largest;
  if (at === undefined) return start;
  requireFinite("plotSlice: at", at);
  const across = table[along === "rpm" ? "load" : "rpm"].breakpoints;
  const nearest = across.reduce(
    (best, value, i) => (Math.abs(value - at) < Math.abs(across[best]! - at) ? i : best),
    0,
  );
  return along === "rpm" ? nearest * columns + (start % columns) : Math.floor(start / columns) * columns + nearest;
}

function largestOf(cells: readonly number[], percent: Float64Array): number {
  return cells.reduce((best, at, i) => (exceeds(percent[at]!, percent[cells[best]!]!) ? i : best), 0);
}
