import { type TraceData, type TraceLane, traceColumns, usualRange } from "./trace-data.ts";

/** One band of the drawing: lines of one scale, and thin ones for comparison. */
export interface TraceLaneSpec {
  readonly label: string;
  readonly unit: string;
  readonly decimals: number;
  readonly keys: readonly string[];
  readonly thin: readonly string[];
}

/** A lane with its place and scale. */
export interface LaidLane {
  readonly spec: TraceLaneSpec;
  readonly lines: readonly { readonly lane: TraceLane; readonly thin: boolean }[];
  readonly range: readonly [number, number];
}

export interface Inks {
  readonly ink: string;
  readonly quiet: string;
  readonly rule: string;
  readonly font: string;
}

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export const GUTTER = 46;
export const LANE = 48;
/** Over each band, for its name. */
const HEAD = 17;
const AXIS = 18;

/** The lanes that the log has anything for, each with the range its values lie in. */
export function layLanes(data: TraceData, specs: readonly TraceLaneSpec[]): readonly LaidLane[] {
  return specs
    .map((spec) => {
      const lines = [
        ...spec.thin.map((key) => ({ lane: data.lanes[key], thin: true })),
        ...spec.keys.map((key) => ({ lane: data.lanes[key], thin: false })),
      ].filter((line): line is { lane: TraceLane; thin: boolean } => line.lane !== undefined);
      return { spec, lines, range: usualRange(lines.map(({ lane }) => lane)) };
    })
    .filter(({ lines }) => lines.some(({ thin }) => !thin));
}

export const heightOf = (lanes: readonly LaidLane[]): number => lanes.length * (LANE + HEAD) + AXIS;

/** Draws a stretch of a log: for each column of the screen a stroke from its least to its greatest value. */
export function drawTrace(
  canvas: HTMLCanvasElement,
  data: TraceData,
  lanes: readonly LaidLane[],
  removed: TraceLane | null,
  view: Stretch,
  chosen: Stretch | null,
  pointed: number | null,
  inks: Inks,
): void {
  const width = canvas.clientWidth;
  const height = heightOf(lanes);
  const scale = devicePixelRatio || 1;
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const paper = canvas.getContext("2d")!;
  paper.scale(scale, scale);
  paper.font = `11px ${inks.font}`;
  paper.textBaseline = "middle";
  const columns = Math.max(1, Math.floor((width - GUTTER) * scale));
  const place = (time: number) => GUTTER + ((time - view.from) / (view.to - view.from)) * (width - GUTTER);
  const shade = removed && traceColumns(removed, data.step, view.from, view.to, columns);
  lanes.forEach(({ spec, lines, range }, at) => {
    const top = at * (LANE + HEAD) + HEAD;
    const y = (value: number) => top + LANE - ((value - range[0]) / (range[1] - range[0])) * LANE;
    paper.strokeStyle = inks.rule;
    paper.lineWidth = 1;
    paper.strokeRect(GUTTER + 0.5, top + 0.5, width - GUTTER - 1, LANE - 1);
    paper.fillStyle = inks.quiet;
    paper.textAlign = "right";
    for (const [end, value] of [range[1], range[0]].entries())
      paper.fillText(value.toFixed(spec.decimals), GUTTER - 6, top + (end === 0 ? 8 : LANE - 7));
    paper.save();
    paper.beginPath();
    paper.rect(GUTTER, top, width - GUTTER, LANE);
    paper.clip();
    if (shade) shadeRemoved(paper, shade, top, scale, inks);
    for (const { lane, thin } of lines) {
      paper.strokeStyle = thin ? inks.quiet : inks.ink;
      paper.lineWidth = thin ? 0.8 : 1.1;
      strokeLane(
        paper,
        traceColumns(lane, data.step, view.from, view.to, columns),
        (x) => GUTTER + (x + 0.5) / scale,
        y,
      );
    }
    paper.restore();
    paper.textAlign = "left";
    paper.fillStyle = inks.ink;
    paper.fillText(`${spec.label}${spec.unit ? `, ${spec.unit}` : ""}`, GUTTER, top - 8);
  });
  drawTimes(paper, view, place, height, width, inks);
  if (chosen) drawChosen(paper, chosen, place, height - AXIS, width, inks);
  if (pointed !== null) {
    paper.strokeStyle = inks.ink;
    paper.beginPath();
    paper.moveTo(place(pointed), 0);
    paper.lineTo(place(pointed), height - AXIS);
    paper.stroke();
  }
}

/** Behind the lines: darker where all of a column is removed, lighter where a part of it is. */
function shadeRemoved(
  paper: CanvasRenderingContext2D,
  { low, high }: TraceLane,
  top: number,
  scale: number,
  inks: Inks,
): void {
  paper.save();
  paper.fillStyle = inks.quiet;
  for (let from = 0; from < high.length; ) {
    const [least, most] = [low[from], high[from]];
    let end = from + 1;
    while (end < high.length && low[end] === least && high[end] === most) end++;
    if (most === 1) {
      paper.globalAlpha = least === 1 ? 0.3 : 0.15;
      paper.fillRect(GUTTER + from / scale, top, (end - from) / scale, LANE);
    }
    from = Number.isNaN(most) ? from + 1 : end;
  }
  paper.restore();
}

function strokeLane(
  paper: CanvasRenderingContext2D,
  { low, high }: TraceLane,
  x: (column: number) => number,
  y: (value: number) => number,
): void {
  paper.beginPath();
  // A column without a sample between two with one is bridged where it is narrow, and a gap where it is not.
  let last = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < low.length; at++) {
    if (Number.isNaN(low[at]!)) continue;
    const px = x(at);
    if (at - last > 60) paper.moveTo(px, y(high[at]!));
    else paper.lineTo(px, y(high[at]!));
    paper.lineTo(px, y(low[at]!) + 0.01);
    last = at;
  }
  paper.stroke();
}

function drawTimes(
  paper: CanvasRenderingContext2D,
  view: Stretch,
  place: (time: number) => number,
  height: number,
  width: number,
  inks: Inks,
): void {
  paper.fillStyle = inks.quiet;
  paper.strokeStyle = inks.rule;
  paper.textAlign = "center";
  const step = tickStep((view.to - view.from) / Math.max(2, (width - GUTTER) / 90));
  for (let tick = Math.ceil(view.from / step) * step; tick <= view.to; tick += step) {
    const px = place(tick);
    if (px > width - 24) break;
    paper.beginPath();
    paper.moveTo(px, height - AXIS);
    paper.lineTo(px, height - AXIS + 4);
    paper.stroke();
    paper.fillText(clock(tick, step), px, height - 6);
  }
}

function drawChosen(
  paper: CanvasRenderingContext2D,
  { from, to }: Stretch,
  place: (time: number) => number,
  height: number,
  width: number,
  inks: Inks,
): void {
  paper.save();
  paper.fillStyle = inks.quiet;
  paper.globalAlpha = 0.22;
  const [a, b] = [place(from), place(to)].map((px) => Math.min(width, Math.max(GUTTER, px))) as [number, number];
  paper.fillRect(GUTTER, 0, a - GUTTER, height);
  paper.fillRect(b, 0, width - b, height);
  paper.restore();
  paper.strokeStyle = inks.ink;
  for (const px of [a, b]) {
    paper.beginPath();
    paper.moveTo(px, 0);
    paper.lineTo(px, height);
    paper.stroke();
  }
}

/** A step of 1, 2 or 5, or of whole minutes, that is at least `least` seconds. */
function tickStep(least: number): number {
  const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 14_400];
  return steps.find((step) => step >= least) ?? Math.ceil(least / 14_400) * 14_400;
}

/** Seconds from the beginning as they are read: "12.4 s", "3:20", "1:03:20". */
export function clock(seconds: number, step = 1): string {
  if (step < 1) return `${seconds.toFixed(1)} s`;
  const whole = Math.round(seconds);
  const two = (value: number) => String(value).padStart(2, "0");
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor((whole % 3600) / 60), whole % 60];
  return hours ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
}
