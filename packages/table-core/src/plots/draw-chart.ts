import { type AxisScale, axisScale } from "./axis-scale.ts";
import { hatchPath } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { linePath } from "./line-path.ts";
import { node, type PictureNode } from "./picture.ts";
import { type Chart, type ChartSeries, coordinates, lookOf, type SeriesLook, valueAt } from "./series.ts";
import { plaque } from "./sheet.ts";

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
  const unit = [chart.x.label, chart.x.unit].filter(Boolean).join(", ");
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

function drawRules({ rules = [] }: Chart, { x, y }: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  return rules.flatMap(({ axis, at, label }) => {
    const px = (axis === "x" ? x : y).place(at);
    const ends = axis === "x" ? { x1: px, x2: px, y1: top, y2: bottom } : { x1: left, x2: right, y1: px, y2: px };
    const where = axis === "x" ? { x: px + 4, y: top + 8 } : { x: left + 4, y: px - 4 };
    return [
      node("line", { class: "rule", ...ends, stroke: inks.quiet, "stroke-dasharray": "2 3" }),
      ...plaque(label, { ...where, fill: inks.ink }, inks, textWidth(label)),
    ];
  });
}

function drawHatches({ ranges = [] }: Chart, { x, y }: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  return ranges.flatMap(({ axis, from, to, label }) => {
    const [low, high] = axis === "x" ? [left, right] : [top, bottom];
    const scale = axis === "x" ? x : y;
    const inside = (value: number) => Math.min(high, Math.max(low, scale.place(value)));
    const [near, far] = [inside(from), inside(to)].sort((a, b) => a - b) as [number, number];
    if (!(far - near >= 0.5)) return [];
    const box =
      axis === "x"
        ? { x: near, y: top, width: far - near, height: bottom - top }
        : { x: left, y: near, width: right - left, height: far - near };
    const where = { x: box.x + box.width - 4, y: box.y + 12, anchor: "end", fill: inks.ink } as const;
    return [
      node("path", { class: "hatch", d: hatchPath(box), stroke: inks.hatch, fill: "none" }),
      ...plaque(label, where, inks, textWidth(label)),
    ];
  });
}

function drawMark({ mark, series }: Chart, { x, y }: ChartScales, field: ChartField, inks: Inks): PictureNode[] {
  const { left, right, top, bottom } = field;
  const px = mark ? x.place(mark.x) : Number.NaN;
  if (!mark || !(px >= left - 0.5 && px <= right + 0.5)) return [];
  const after = px < (left + right) / 2;
  const text = mark.text;
  return [
    node("line", { class: "mark", x1: px, x2: px, y1: top - 4, y2: bottom, stroke: inks.ink }),
    ...series.flatMap((line) => {
      const py = y.place(valueAt(line, mark.x));
      if (!Number.isFinite(py)) return [];
      return [
        node("circle", { class: "dot", cx: px, cy: py, r: 4, fill: inks.ink, stroke: inks.paper, "stroke-width": 1.5 }),
      ];
    }),
    ...(text
      ? plaque(
          text,
          { x: px + (after ? 6 : -6), y: top + 4, anchor: after ? "start" : "end", fill: inks.ink },
          inks,
          textWidth(text),
        )
      : []),
  ];
}
