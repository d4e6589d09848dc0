import type { MarkKind } from "./cell-marks.ts";
import type { ScreenWindow } from "./grid-layout.ts";
import type { GridView } from "./grid-view.ts";

/** Draws what is neither tint nor figure: signs of change, hatches, ticks, underlines, deviations. */
export class MarkCanvas {
  private drawn = "";

  constructor(private readonly canvas: HTMLCanvasElement) {}

  /** Draws the window's marks, unless they are what was drawn last; `force` for what the comparison does not see. */
  update(view: GridView, window: ScreenWindow, force: boolean): void {
    const { layout, measures, palette } = view;
    const signs = measures.figures ? signsOf(view, window) : new Int8Array();
    const scale = devicePixelRatio;
    const { x0, x1, y0, y1 } = window;
    const place = [x0, x1, y0, y1, layout.cellWidth, layout.cellHeight, layout.flipRpm, layout.flipLoad, scale].join();
    const drawing = `${place};${palette.ink};${signs.join("")}`;
    if (!force && drawing === this.drawn) return;
    this.drawn = drawing;

    const width = (window.x1 - window.x0) * layout.cellWidth;
    const height = (window.y1 - window.y0) * layout.cellHeight;
    const { canvas } = this;
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    canvas.style.left = `${window.x0 * layout.cellWidth}px`;
    canvas.style.top = `${window.y0 * layout.cellHeight}px`;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    const context = canvas.getContext("2d")!;
    context.setTransform(scale, 0, 0, scale, 0, 0);

    drawMarks(context, view, window, scale);
    if (measures.figures) drawSigns(context, view, window, signs);
    if (view.deviation) drawDeviation(context, view, window, view.deviation);
  }
}

function drawMarks(context: CanvasRenderingContext2D, view: GridView, window: ScreenWindow, scale: number): void {
  const { layout, marks } = view;
  if (marks.size === 0) return;
  const hatch = hatchPattern(context, view.palette.ink, scale);
  for (const [at, there] of marks) {
    const { x, y } = layout.screen({ row: Math.floor(at / layout.columns), column: at % layout.columns });
    if (x < window.x0 || x >= window.x1 || y < window.y0 || y >= window.y1) continue;
    const left = (x - window.x0) * layout.cellWidth;
    const top = (y - window.y0) * layout.cellHeight;
    for (const kind of new Set(there.map((mark) => mark.kind))) {
      context.fillStyle = kind === "ceiling" ? hatch : view.palette.ink;
      drawMark(context, kind, left, top, view);
    }
  }
}

function drawMark(
  context: CanvasRenderingContext2D,
  kind: MarkKind,
  left: number,
  top: number,
  { layout: { cellWidth: width, cellHeight: height }, measures }: GridView,
): void {
  const size = Math.max(2, Math.min(7, Math.round(height / 4)));
  switch (kind) {
    case "ceiling":
      context.fillRect(left, top, width, height);
      break;
    case "locked":
      context.beginPath();
      context.moveTo(left + width, top);
      context.lineTo(left + width, top + size);
      context.lineTo(left + width - size, top);
      context.fill();
      break;
    case "estimate": {
      const dot = height < 16 ? 1 : 1.5;
      for (let at = left + width - measures.padding - dot; at >= left + measures.signWidth; at -= dot * 2.5)
        context.fillRect(at, top + height - dot - 2, dot, dot);
      break;
    }
    case "evidence":
      context.beginPath();
      context.arc(left + size * 0.8, top + height - size * 0.8, size * 0.32, 0, 2 * Math.PI);
      context.fill();
  }
}

/** −1, 0 or 1 for each cell of the window, in screen order. */
function signsOf({ change, layout }: GridView, window: ScreenWindow): Int8Array {
  const signs = new Int8Array((window.x1 - window.x0) * (window.y1 - window.y0));
  if (!change) return signs;
  let to = 0;
  for (let y = window.y0; y < window.y1; y++)
    for (let x = window.x0; x < window.x1; x++) signs[to++] = Math.sign(change[layout.at(x, y)]!);
  return signs;
}

/** A minus or plus left in each changed cell, in the ink that can be read on its tint. */
function drawSigns(
  context: CanvasRenderingContext2D,
  { layout, shade, measures }: GridView,
  window: ScreenWindow,
  signs: Int8Array,
): void {
  const { cellWidth, cellHeight } = layout;
  const arm = Math.max(3, Math.round(measures.fontSize * 0.5) | 1);
  const thick = Math.max(1, Math.round(measures.fontSize / 13));
  const inset = Math.max(1, Math.round(measures.signWidth * 0.3));
  const middle = Math.floor(cellHeight / 2);
  context.globalAlpha = 0.85;
  shade.ramp.inks.forEach((colour, ink) => {
    context.fillStyle = colour;
    let at = 0;
    for (let y = window.y0; y < window.y1; y++)
      for (let x = window.x0; x < window.x1; x++) {
        const sign = signs[at++]!;
        if (sign === 0 || shade.ramp.ink[shade.tint[layout.at(x, y)]!] !== ink) continue;
        const left = (x - window.x0) * cellWidth + inset;
        const top = (y - window.y0) * cellHeight + middle;
        context.fillRect(left, top, arm, thick);
        if (sign > 0) context.fillRect(left + (arm - thick) / 2, top - (arm - thick) / 2, thick, arm);
      }
  });
  context.globalAlpha = 1;
}

/** A thin bar along the foot of each cell, the longer the less sure its value is. */
function drawDeviation(
  context: CanvasRenderingContext2D,
  { layout, palette }: GridView,
  window: ScreenWindow,
  deviation: Float64Array,
): void {
  let most = 0;
  for (const value of deviation) if (Number.isFinite(value) && value > most) most = value;
  if (most === 0) return;
  context.fillStyle = palette.quiet;
  const { cellWidth, cellHeight } = layout;
  for (let y = window.y0; y < window.y1; y++)
    for (let x = window.x0; x < window.x1; x++) {
      const value = deviation[layout.at(x, y)]!;
      if (!(value > 0)) continue;
      const length = (cellWidth - 4) * Math.min(1, value / most);
      context.fillRect((x - window.x0) * cellWidth + 2, (y - window.y0 + 1) * cellHeight - 3, length, 1.5);
    }
}

/** Thin lines rising to the right. */
function hatchPattern(context: CanvasRenderingContext2D, ink: string, scale: number): CanvasPattern {
  const size = Math.max(4, Math.round(6 * scale));
  const tile = new OffscreenCanvas(size, size);
  const brush = tile.getContext("2d")!;
  brush.strokeStyle = ink;
  brush.globalAlpha = 0.4;
  brush.lineWidth = Math.max(1, scale);
  brush.beginPath();
  for (const shift of [-size, 0, size]) {
    brush.moveTo(shift - 1, size + 1);
    brush.lineTo(shift + size + 1, -1);
  }
  brush.stroke();
  const pattern = context.createPattern(tile as unknown as CanvasImageSource, "repeat")!;
  pattern.setTransform(new DOMMatrix().scale(1 / scale));
  return pattern;
}
