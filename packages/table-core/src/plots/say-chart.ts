import type { AxisScale } from "./axis-scale.ts";
import { type Chart, type ChartMark, type ChartSeries, coordinates, valueAt } from "./series.ts";

const withUnit = (text: string, unit = "") => (unit ? `${text} ${unit}` : text);

/** The chart in sentences, for those who don't see it: what runs over what, each line's ends, extremes and marked value. */
export function sayChart(chart: Chart, scales: { readonly x: AxisScale; readonly y: AxisScale }): string {
  const { label, x: across, y: up, series, mark } = chart;
  const sayX = (value: number) => withUnit(scales.x.sayFinely(value), across.unit);
  const sayY = (value: number) => withUnit(scales.y.sayFinely(value), up.unit);
  const lines = series.map((line) => {
    const { x, y } = coordinates(line);
    let low = -1;
    let high = -1;
    for (let at = 0; at < y.length; at++) {
      if (!Number.isFinite(y[at]!)) continue;
      if (low < 0 || y[at]! < y[low]!) low = at;
      if (high < 0 || y[at]! > y[high]!) high = at;
    }
    if (low < 0) return `${line.name}: nothing to show`;
    const here = mark ? valueAt(line, mark.x) : Number.NaN;
    const flat = y[low] === y[high];
    return (
      `${line.name}: ` +
      (flat
        ? `${sayY(y[low]!)} throughout`
        : `least ${sayY(y[low]!)} at ${sayX(x[low]!)}, most ${sayY(y[high]!)} at ${sayX(x[high]!)}`) +
      (Number.isFinite(here) && !flat ? `, ${sayY(here)} at the mark` : "")
    );
  });
  const marked = mark ? ` Marked: ${mark.text ?? sayX(mark.x)}.` : "";
  return `${label || up.label}, over ${across.label.toLowerCase()}. ${lines.join("; ")}.${marked}`;
}

/** The places at which the chart is told as a table: the ticks within the lines, and the mark. */
export function tablePlaces(scale: AxisScale, series: readonly ChartSeries[], mark: ChartMark | null): number[] {
  const within = (x: number) => series.some((line) => Number.isFinite(valueAt(line, x)));
  const places = new Set(scale.ticks.filter(within));
  if (mark && within(mark.x)) places.add(mark.x);
  return [...places].sort((a, b) => a - b);
}
