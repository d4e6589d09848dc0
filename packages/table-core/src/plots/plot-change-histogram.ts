import type { FuelTable } from "../values/fuel-table.ts";
import { requireWithin } from "../values/require.ts";
import { axisScale } from "./axis-scale.ts";
import { changesOf, sayChanges } from "./changes.ts";
import { type ChangeBin, countChanges } from "./count-changes.ts";
import { ownUnit } from "./figures.ts";
import { type Inks, lightInks } from "./inks.ts";
import { lettering, textWidth } from "./lettering.ts";
import { node, type Picture, type PictureNode } from "./picture.ts";
import { type PlotOptions, requireWidth, type ShownOptions } from "./plot-options.ts";
import { laySheet, MARGIN } from "./sheet.ts";

export interface PlotChangeHistogram extends PlotOptions, ShownOptions {
  /** Height of the field of bars in px, 40..2000; left out: 110. */
  readonly height?: number;
}

/**
 * How many cells changed by how much: a bar for each stretch of percent, open for falls and filled for rises.
 *
 * Unchanged cells are told in words; as a bar they would make all others small.
 *
 * @example plotChangeHistogram({ before, after }).description
 * @throws FuelwrightError `quantities-differ`, `axes-do-not-match`, `not-finite`, `out-of-range`
 */
export function plotChangeHistogram(
  { before, after }: { readonly before: FuelTable; readonly after: FuelTable },
  options: PlotChangeHistogram = {},
): Picture {
  const { inks = lightInks, shown = ownUnit(after.quantity), axes = {} } = options;
  const width = requireWidth("plotChangeHistogram", options.width, 320);
  const height = requireWithin("plotChangeHistogram: height", options.height ?? 110, 40, 2000);
  const changes = changesOf(after, before, "plotChangeHistogram");
  const { bins, unchanged, step } = countChanges(changes);
  const most = Math.max(1, ...bins.map(({ count }) => count));
  const told = bins.filter(({ count }) => count > 0).map((bin) => `${sayBin(bin)}: ${bin.count}`);
  return laySheet(
    {
      title: options.title ?? `${after.name}, cells by change`,
      subtitle: `cells for each ${step} % of change; ${unchanged} of ${after.cells.length} unchanged`,
      description:
        `${after.name}: ${sayChanges(after, changes, shown, axes)}` +
        (told.length > 0 ? ` Cells by change: ${told.join("; ")}; unchanged: ${unchanged}.` : ""),
      width,
      body: (top) => {
        const y = axisScale({ label: "", zero: true }, [most], [top + 16 + height, top + 16], "y");
        // Whole cells alone: half of one is never counted.
        const ticks = y.ticks.filter(Number.isInteger);
        const left = MARGIN + 8 + Math.max(...ticks.map((tick) => textWidth(String(tick))));
        const field = { left, right: width - MARGIN, bottom: top + 16 + height };
        const nodes: PictureNode[] = ticks.flatMap((tick) => [
          node("line", {
            class: "grid",
            x1: left,
            x2: field.right,
            y1: y.place(tick),
            y2: y.place(tick),
            stroke: inks.rule,
          }),
          node("text", { x: left - 6, y: y.place(tick) + 4, "text-anchor": "end", fill: inks.quiet }, String(tick)),
        ]);
        nodes.push(...drawBars(bins, y.place, field, inks), ...drawEdges(bins, field, inks));
        return { nodes, bottom: field.bottom + lettering.lead + 4 };
      },
    },
    options,
  );
}

interface Field {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
}

/** So that two bars of a few changes don't fill the whole field. */
const WIDEST_BAR = 36;

function barsAt(count: number, { left, right }: Field) {
  const width = Math.min(WIDEST_BAR, (right - left - 12) / Math.max(1, count));
  const start = (left + right - width * count) / 2;
  return { width, at: (bar: number) => start + bar * width };
}

function drawBars(bins: readonly ChangeBin[], y: (count: number) => number, field: Field, inks: Inks): PictureNode[] {
  const bars = barsAt(bins.length, field);
  return bins.flatMap(({ to, count }, bar) => {
    if (count === 0) return [];
    const rise = to > 0;
    const [x, top] = [bars.at(bar) + 1.5, y(count)];
    const box = { x, y: top, width: Math.max(1, bars.width - 3), height: field.bottom - top };
    const label = String(count);
    return [
      node("rect", {
        class: rise ? "more" : "less",
        ...box,
        fill: rise ? inks.more : inks.paper,
        stroke: rise ? inks.more : inks.less,
      }),
      ...(textWidth(label) <= bars.width
        ? [
            node(
              "text",
              { class: "count", x: x + box.width / 2, y: top - 4, "text-anchor": "middle", fill: inks.ink },
              label,
            ),
          ]
        : []),
    ];
  });
}

/** The axis with the edges of bins, as many as have room; zero always. */
function drawEdges(bins: readonly ChangeBin[], field: Field, inks: Inks): PictureNode[] {
  const { left, right, bottom } = field;
  const bars = barsAt(bins.length, field);
  const axis = node("line", { class: "axis", x1: left, x2: right, y1: bottom, y2: bottom, stroke: inks.axis });
  if (bins.length === 0) return [axis];
  const edges = [...bins.map(({ from }) => from), bins.at(-1)!.to].map((percent, at) => ({
    percent,
    x: bars.at(at),
    text: `${percent < 0 ? "−" : percent > 0 ? "+" : ""}${Math.abs(percent)}`,
  }));
  const finite = edges.filter(({ percent }) => Number.isFinite(percent));
  const zero = finite.findIndex(({ percent }) => percent === 0);
  const room = Math.max(...finite.map(({ text }) => textWidth(text))) + 6;
  const every = Math.max(1, Math.ceil(room / bars.width));
  const below = bottom + lettering.lead;
  const unit = "%";
  const said = finite.filter((_, at) => (at - zero) % every === 0);
  const last = said.at(-1)!;
  return [
    axis,
    ...said.flatMap(({ x, text }) => [
      node("line", { class: "axis", x1: x, x2: x, y1: bottom, y2: bottom + 4, stroke: inks.axis }),
      node("text", { x, y: below, "text-anchor": "middle", fill: inks.quiet }, text),
    ]),
    ...(right - last.x > textWidth(last.text) / 2 + 16
      ? [node("text", { x: right, y: below, "text-anchor": "end", fill: inks.quiet }, unit)]
      : []),
  ];
}

/** "+2 to +4 %", "more than +16 %". */
function sayBin({ from, to }: ChangeBin): string {
  const say = (percent: number) => `${percent < 0 ? "−" : percent > 0 ? "+" : ""}${Math.abs(percent)}`;
  if (to === Number.POSITIVE_INFINITY) return `more than ${say(from)} %`;
  if (from === Number.NEGATIVE_INFINITY) return `more than ${say(to)} %`;
  return `${say(from)} to ${say(to)} %`;
}
