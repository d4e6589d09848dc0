import { requireWithin } from "../values/require.ts";
import type { AxisScale } from "./axis-scale.ts";
import {
  type ChartField,
  type ChartScales,
  chartScales,
  drawChart,
  FIGURES_HEIGHT,
  strokeSample,
} from "./draw-chart.ts";
import { lightInks } from "./inks.ts";
import { textWidth } from "./lettering.ts";
import type { Picture } from "./picture.ts";
import { type PlotOptions, requireWidth } from "./plot-options.ts";
import { sayChart } from "./say-chart.ts";
import { type Chart, coordinates } from "./series.ts";
import { laySheet, MARGIN, type Note } from "./sheet.ts";

export interface PlotChart extends PlotOptions {
  /** Height of the field in which the lines run, in px, 40..2000; left out: 150. */
  readonly height?: number;
  /** Sentences instead of the usual ones, which tell each line's extremes. */
  readonly description?: string;
  readonly notes?: readonly Note[];
}

/**
 * Lines over an axis, told apart by their strokes, with a marked point, hatched ranges and rules.
 *
 * @throws FuelwrightError `not-finite`, `out-of-range` for sizes and domains that can't be drawn
 */
export function plotChart(chart: Chart, options: PlotChart = {}): Picture {
  const { inks = lightInks } = options;
  const width = requireWidth("plotChart", options.width, 420);
  const height = requireWithin("plotChart: height", options.height ?? 150, 40, 2000);
  const fieldAt = (top: number, left: number): ChartField => ({
    left,
    right: width - MARGIN - 4,
    top: top + 6,
    bottom: top + 6 + height,
  });
  // How wide the figures of the y axis are shows only once they are known.
  const draft = chartScales(chart, fieldAt(0, MARGIN));
  const gutter = MARGIN + 8 + Math.max(...draft.y.ticks.map((tick) => textWidth(draft.y.say(tick))), 14);
  const title = options.title ?? (chart.label || chart.y.label);
  const what = [chart.y.label === title ? "" : chart.y.label, chart.y.unit].filter(Boolean).join(", ");
  const keys: Note[] =
    chart.series.length > 1
      ? chart.series.map((line, at) => ({ text: line.name, sample: strokeSample(line, at, inks) }))
      : [];
  return laySheet(
    {
      title,
      subtitle: what,
      description: options.description ?? sayChart(chart, draft),
      width,
      body: (top) => {
        const field = fieldAt(top, gutter);
        const scales = chartScales(chart, field);
        return {
          nodes: drawChart(withinView(chart, scales), scales, field, inks),
          bottom: field.bottom + FIGURES_HEIGHT,
        };
      },
      notes: [...keys, ...(options.notes ?? [])],
    },
    options,
  );
}

/** The chart without points beyond the ends of an axis that was given: they would lie outside the picture. */
function withinView(chart: Chart, { x, y }: ChartScales): Chart {
  if (!chart.x.domain && !chart.y.domain) return chart;
  const inside = ({ domain: [a, b] }: AxisScale, value: number) => value >= Math.min(a, b) && value <= Math.max(a, b);
  const series = chart.series.map((line) => {
    const points = coordinates(line);
    const seen = Array.from(points.y, (value, at) =>
      inside(x, points.x[at]!) && inside(y, value) ? value : Number.NaN,
    );
    return { ...line, points: { x: points.x, y: seen } };
  });
  return { ...chart, series };
}
