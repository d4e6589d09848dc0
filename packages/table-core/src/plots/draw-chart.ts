import { type AxisScale, axisScale } from "./axis-scale.ts";
import { hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { linePath } from "./line-path.ts";
import { node, type PictureNode } from "./picture.ts";
import { type Chart, type ChartSeries, coordinates, lookOf, type SeriesLook, valueAt } from "./series.ts";

/** Sides of the field in which lines run, in px; figures stand left of it and below. */
export interface ChartField {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Left out where another chart stands right under this one; true if not said. */
  readonly xFigures?: boolean;
}

export interface ChartScales {
  readonly x: AxisScale;
  readonly y: AxisScale;
}

/** Room below the field for the figures of the x axis, in px. */
export const FIGURES_HEIGHT = 20;

/** Both axes of a chart in a field. */
export function chartScales({ x, y, series, mark, rules = [] }: Chart, field: ChartField): ChartScales {
  const along = function* (side: "x" | "y") {
    for (const line of series) {
      const values = coordinates(line)[side];
      for (let at = 0; at < values.length; at++) yield values[at]!;
    }
    for (const { axis, at } of rules) if (axis === side) yield at;
    if (mark && side === "x") yield mark.x;
  };
  return {
    x: axisScale(x, along("x"), [field.left, field.right], "x"),
    y: axisScale(y, along("y"), [field.bottom, field.top], "y"),
  };
}

/** The chart in its field: hatches, axes, lines, mark, from back to front. */
export function drawChart(chart: Chart, scales: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  return [
    ...drawHatches(chart, scales, field, inks),
    ...drawAxes(chart, scales, field, inks),
    ...chart.series.map((line, at) => drawSeries(line, at, scales, inks)),
    ...drawRules(chart, scales, field, inks),
    ...drawMark(chart, scales, field, inks),
  ];
}

/** How a look is stroked. */
export function strokeOf(look: SeriesLook, tint: ChartSeries["tint"], inks: Inks) {
  const base = { class: `look ${look}${tint ? ` ${tint}` : ""}`, fill: "none", "stroke-linejoin": "round" } as const;
  const stroke = tint ? inks[tint] : look === "thin" ? inks.quiet : inks.ink;
  switch (look) {
    case "line":
      return { ...base, stroke, "stroke-width": lettering.line };
    case "dashed":
      return { ...base, stroke, "stroke-width": 1.6, "stroke-dasharray": "6 4" };
    case "dotted":
      return { ...base, stroke, "stroke-width": 1.8, "stroke-linecap": "round", "stroke-dasharray": "0.1 4.5" };
    case "thin":
      return { ...base, stroke, "stroke-width": lettering.thin };
    case "dots":
      return { ...base, stroke, "stroke-width": 4, "stroke-linecap": "round" };
  }
}

/** A short piece of a line, for keys: 22 px from x, at y. */
export function strokeSample(line: ChartSeries, at: number, inks: Inks) {
  const look = lookOf(line, at);
  return (x: number, y: number): PictureNode[] => {
    const path =
      look === "dots"
        ? `M${x + 4},${y}H${x + 4}M${x + 11},${y}H${x + 11}M${x + 18},${y}H${x + 18}`
        : `M${x},${y}H${x + 22}`;
    return [node("path", { ...strokeOf(look, line.tint, inks), d: path })];
  };
}

function drawSeries(line: ChartSeries, at: number, { x, y }: ChartScales, inks: Inks): PictureNode {
  const points = coordinates(line);
  const look = lookOf(line, at);
  const px = (i: number) => x.place(points.x[i]!);
  const py = (i: number) => y.place(points.y[i]!);
  let path = "";
  if (look === "dots") {
    for (let i = 0; i < points.x.length; i++)
      if (Number.isFinite(px(i) + py(i))) path += `M${px(i).toFixed(1)},${py(i).toFixed(1)}H${px(i).toFixed(1)}`;
  } else path = linePath(points.x.length, px, py, line.steps);
  return node("path", { ...strokeOf(look, line.tint, inks), d: path });
}

function drawAxes(chart: Chart, { x, y }: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, bottom, xFigures = true } = field;
  const name = [chart.x.label, chart.x.unit].filter(Boolean).join(", ");
  // A long name would leave too few figures their place.
  const unit = chart.x.unit && textWidth(name) > 0.25 * (right - left) ? chart.x.unit : name;
  // The axis' name stands at the end of its figures; those that would touch it are left out.
  const free = right - (unit ? textWidth(unit) + 8 : -14);
  const said = xFigures ? x.ticks.filter((tick) => x.place(tick) + textWidth(x.say(tick)) / 2 < free) : [];
  const below = bottom + 15;
  return [
    ...y.ticks.flatMap((tick) => {
      const at = y.place(tick);
      return [
        node("line", { class: "grid", x1: left, x2: right, y1: at, y2: at, stroke: inks.rule }),
        node("text", { x: left - 7, y: at + 4, "text-anchor": "end", fill: inks.quiet }, y.say(tick)),
      ];
    }),
    node("line", { class: "axis", x1: left, x2: right, y1: bottom, y2: bottom, stroke: inks.axis }),
    ...x.ticks.map((tick) =>
      node("line", {
        class: "axis",
        x1: x.place(tick),
        x2: x.place(tick),
        y1: bottom,
        y2: bottom + 4,
        stroke: inks.axis,
      }),
    ),
    ...said.map((tick) =>
      node("text", { x: x.place(tick), y: below, "text-anchor": "middle", fill: inks.quiet }, x.say(tick)),
    ),
    ...(xFigures && unit ? [node("text", { x: right, y: below, "text-anchor": "end", fill: inks.quiet }, unit)] : []),
  ];
}

function drawRules(chart: Chart, scales: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  return (chart.rules ?? []).flatMap(({ axis, at, label }) => {
    const px = (axis === "x" ? scales.x : scales.y).place(at);
    const ends = axis === "x" ? { x1: px, x2: px, y1: top, y2: bottom } : { x1: left, x2: right, y1: px, y2: px };
    const x = axis === "x" ? px + 4 : left + 4;
    const heights = axis === "x" ? [top + 8, bottom - 6] : [px - 4, px + 12];
    return [
      node("line", { class: "rule", ...ends, stroke: inks.quiet, "stroke-dasharray": "2 3" }),
      ...drawLabel(label, { x, anchor: "start", heights }, chart, scales, inks),
    ];
  });
}

function drawHatches(chart: Chart, scales: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  return (chart.ranges ?? []).flatMap(({ axis, from, to, label }) => {
    const [low, high] = axis === "x" ? [left, right] : [top, bottom];
    const scale = axis === "x" ? scales.x : scales.y;
    const inside = (value: number) => Math.min(high, Math.max(low, scale.place(value)));
    const [near, far] = [inside(from), inside(to)].sort((a, b) => a - b) as [number, number];
    if (!(far - near >= 0.5)) return [];
    const box =
      axis === "x"
        ? { x: near, y: top, width: far - near, height: bottom - top }
        : { x: left, y: near, width: right - left, height: far - near };
    const end = box.x + box.width;
    // Beside a range at the left there is no room to the left of its words.
    const anchor = end - textWidth(label) - 8 < left ? "start" : "end";
    const place = { x: anchor === "end" ? end - 4 : box.x + 4, anchor, heights: [box.y + 12, box.y + box.height - 6] };
    return [
      node("path", { class: "hatch", d: hatchPath(box), stroke: inks.hatch, fill: "none" }),
      ...drawLabel(label, place, chart, scales, inks),
    ];
  });
}

/** Words on a ground of their own, at the first of the heights at which no line runs through them. */
function drawLabel(
  label: string,
  { x, anchor, heights }: { readonly x: number; readonly anchor: string; readonly heights: readonly number[] },
  { series }: Chart,
  scales: ChartScales,
  inks: Inks,
): PictureNode[] {
  if (label === "") return [];
  const width = textWidth(label);
  const left = anchor === "end" ? x - width : x;
  const crossed = (y: number) =>
    series.some((line) =>
      [0, 0.25, 0.5, 0.75, 1].some((share) => {
        const py = scales.y.place(valueAt(line, scales.x.valueAt(left + share * width)));
        return py > y - 12 && py < y + 5;
      }),
    );
  const y = heights.find((height) => !crossed(height)) ?? heights[0]!;
  return [
    node("rect", { class: "plaque", x: left - 2, y: y - 9, width: width + 4, height: 12, fill: inks.paper }),
    node("text", { class: "say", x, y, "text-anchor": anchor === "end" ? "end" : undefined, fill: inks.ink }, label),
  ];
}

function drawMark(chart: Chart, scales: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { mark, series } = chart;
  const { x, y } = scales;
  const { left, right, top, bottom } = field;
  const px = mark ? x.place(mark.x) : Number.NaN;
  if (!mark || !(px >= left - 0.5 && px <= right + 0.5)) return [];
  const after = px < (left + right) / 2;
  return [
    node("line", { class: "mark", x1: px, x2: px, y1: top - 4, y2: bottom, stroke: inks.ink }),
    ...series.flatMap((line) => {
      const py = y.place(valueAt(line, mark.x));
      if (!Number.isFinite(py)) return [];
      return [
        node("circle", { class: "dot", cx: px, cy: py, r: 4, fill: inks.ink, stroke: inks.paper, "stroke-width": 1.5 }),
      ];
    }),
    ...drawLabel(
      mark.text ?? "",
      { x: px + (after ? 6 : -6), anchor: after ? "start" : "end", heights: [top + 4, bottom - 6] },
      chart,
      scales,
      inks,
    ),
  ];
}
