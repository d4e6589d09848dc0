/** How a line is drawn, so that it can be told from the others without colour. */
export type SeriesLook = "line" | "dashed" | "dotted" | "thin" | "dots";

/** One line of a chart: points in the units of the axes, in the order in which they are joined; NaN leaves a gap. */
export interface ChartSeries {
  readonly name: string;
  /** As pairs, or as two arrays of equal length where there are many. */
  readonly points:
    | readonly (readonly [x: number, y: number])[]
    | { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> };
  /** Left out: the first line is solid, the next dashed, dotted, thin. */
  readonly look?: SeriesLook;
  /** Shown in the colour of `more` or `less`, where the line means a rise or fall of fuel; otherwise ink. */
  readonly tint?: "more" | "less" | "warn";
  /** Holds each value until the next point, as settings that change in steps do. */
  readonly steps?: boolean;
}

/** One axis of a chart. */
export interface ChartAxis {
  readonly label: string;
  readonly unit?: string;
  /** From and to; the other way round runs the axis backwards. Left out: what the points need. */
  readonly domain?: readonly [from: number, to: number];
  /** The axis starts at zero, so that heights can be compared as amounts. */
  readonly zero?: boolean;
  /** The least span shown, so that rounding does not look like a mountain range. */
  readonly leastSpan?: number;
  /** How a value is said; left out: as many decimals as the ticks need. */
  readonly format?: (value: number) => string;
}

/** The chosen point: a rule through the chart, and a dot on each line. */
export interface ChartMark {
  /** In the axis' unit. */
  readonly x: number;
  /** Words at the rule. */
  readonly text?: string;
}

/** A stretch of an axis that is hatched: a ceiling, or where nothing is known. */
export interface ChartRange {
  readonly axis: "x" | "y";
  /** In the axis' unit, and so is `to`. */
  readonly from: number;
  /** See `from`. */
  readonly to: number;
  readonly label: string;
}

/** A thin line across the chart at one value. */
export interface ChartRule {
  readonly axis: "x" | "y";
  /** In the axis' unit. */
  readonly at: number;
  readonly label: string;
}

/** Lines over an axis, with what is marked among them. */
export interface Chart {
  /** What the chart shows; begins its sentence. */
  readonly label: string;
  readonly x: ChartAxis;
  readonly y: ChartAxis;
  readonly series: readonly ChartSeries[];
  readonly mark?: ChartMark | null;
  readonly ranges?: readonly ChartRange[];
  readonly rules?: readonly ChartRule[];
}

const looks: readonly SeriesLook[] = ["line", "dashed", "dotted", "thin"];

/** The look of a series by its place among the others. */
export const lookOf = (series: ChartSeries, at: number): SeriesLook => series.look ?? looks[at % looks.length]!;

/** The points of a series as two arrays. */
export function coordinates({ points }: ChartSeries): { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> } {
  if (!Array.isArray(points)) return points as { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> };
  return { x: points.map((point) => point[0]), y: points.map((point) => point[1]) };
}

/** The value of a line at `x`: between its points straight, on a stepped line that of the last point; NaN outside it. */
export function valueAt(series: ChartSeries, at: number): number {
  const { x, y } = coordinates(series);
  for (let i = 0; i + 1 < x.length; i++) {
    const from = x[i]!;
    const to = x[i + 1]!;
    if (at === from) return y[i]!;
    if ((at > from && at < to) || (at < from && at > to)) {
      if (series.steps) return y[i]!;
      return y[i]! + ((at - from) / (to - from)) * (y[i + 1]! - y[i]!);
    }
  }
  return x.length > 0 && at === x[x.length - 1] ? y[y.length - 1]! : Number.NaN;
}
