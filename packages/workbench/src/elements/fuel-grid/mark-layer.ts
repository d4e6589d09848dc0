import type { CellMark } from "./cell-marks.ts";
import { CHUNK, type ScreenWindow } from "./grid-layout.ts";
import type { GridView } from "./grid-view.ts";

const SVG = "http://www.w3.org/2000/svg";

/** Some cells of one row, drawn together: a path for each way of drawing. */
interface Chunk {
  readonly group: SVGGElement;
  readonly paths: Map<string, { readonly element: SVGPathElement; data: string }>;
}

/**
 * What is neither tint nor figure: signs of change, minus signs, hatches, ticks, underlines, deviations.
 *
 * Drawn as SVG, so that it is sharp at any size and takes its colours from the style sheet. Eight cells of a row share
 * their paths: a path for each cell would be too many, one for all would be drawn again whole for every change.
 */
export class MarkLayer {
  private chunks = new Map<number, Chunk>();
  private geometry = "";

  constructor(private readonly svg: SVGElement) {}

  /** Brings the window's marks up to date: of all rows, or only of those that `changed` marks with 1. */
  update(view: GridView, window: ScreenWindow, changed: Uint8Array | null): void {
    const { layout, measures } = view;
    const geometry = `${layout.cellWidth},${layout.cellHeight},${measures.fontSize}`;
    if (geometry !== this.geometry) this.clear();
    this.geometry = geometry;
    const fresh = new Map<number, Chunk>();
    for (let y = window.y0; y < window.y1; y++)
      for (let x = window.x0; x < window.x1; x += CHUNK) {
        const key = y * layout.columns + x;
        const known = this.chunks.get(key);
        const chunk = known ?? this.newChunk(x * layout.cellWidth, y * layout.cellHeight);
        this.chunks.delete(key);
        fresh.set(key, chunk);
        if (!known || !changed || changed[y]) drawChunk(chunk, chunkPaths(view, x, Math.min(x + CHUNK, window.x1), y));
      }
    for (const { group } of this.chunks.values()) group.remove();
    this.chunks = fresh;
  }

  clear(): void {
    this.svg.querySelectorAll(":scope > g").forEach((group) => {
      group.remove();
    });
    this.chunks.clear();
  }

  private newChunk(left: number, top: number): Chunk {
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("transform", `translate(${left},${top})`);
    this.svg.append(group);
    return { group, paths: new Map() };
  }
}

/** Sets the paths that differ from what is there. */
function drawChunk({ group, paths }: Chunk, wanted: ReadonlyMap<string, string>): void {
  for (const [kind, { element }] of paths)
    if (!wanted.has(kind)) {
      element.remove();
      paths.delete(kind);
    }
  for (const [kind, data] of wanted) {
    let path = paths.get(kind);
    if (!path) {
      path = { element: document.createElementNS(SVG, "path"), data: "" };
      const [name, ink] = kind.split(" ");
      path.element.setAttribute("class", name!);
      if (ink) path.element.style.fill = ink;
      group.append(path.element);
      paths.set(kind, path);
    }
    if (path.data !== data) {
      path.element.setAttribute("d", data);
      path.data = data;
    }
  }
}

/** Path data of the cells x0..x1 of a row by kind: a class of the style sheet, with an ink after it where it has one. */
function chunkPaths(view: GridView, x0: number, x1: number, y: number): ReadonlyMap<string, string> {
  const { table, layout, shade, marks, change, deviation, measures, figures } = view;
  const paths = new Map<string, string>();
  const add = (kind: string, data: string) => {
    if (data !== "") paths.set(kind, (paths.get(kind) ?? "") + data);
  };
  for (let x = x0; x < x1; x++) {
    const at = layout.at(x, y);
    const left = (x - x0) * layout.cellWidth;
    for (const mark of marks.get(at) ?? []) add(mark.kind, markPath(view, mark, left));
    if (measures.figures) {
      const ink = shade.ramp.inks[shade.ramp.ink[shade.tint[at]!]!]!;
      if (change) add(`sign ${ink}`, signPath(view, change[at]!, left));
      if (figures.minus > 0) add(`minus ${ink}`, minusPath(view, table.cells[at]!, left));
    }
    if (deviation) add("deviation", deviationPath(view, deviation[at]!, left));
  }
  return paths;
}

/** The sign of a cell's change, high at its left: so that it does not read as the sign of the figure. */
function signPath({ layout, measures }: GridView, percent: number, left: number): string {
  if (percent === 0) return "";
  const thick = strokeOf(measures);
  const arm = Math.max(3, Math.round(measures.fontSize * 0.42) | 1);
  const half = (arm - thick) / 2;
  const from = left + Math.max(1, Math.round(measures.signWidth * 0.22));
  // Without room before the figure it stands over it, in the corner.
  const high = measures.signWidth > 0 ? Math.round(layout.cellHeight * 0.32) : Math.ceil(half) + 1;
  const bar = `M${from},${high}h${arm}v${thick}h-${arm}z`;
  return percent < 0 ? bar : `${bar}m${half},-${half}h${thick}v${arm}h-${thick}z`;
}

/** The minus before a figure: the figures themselves are written without. */
function minusPath({ display, figures, layout, measures }: GridView, value: number, left: number): string {
  const shown = display.show(value);
  if (!(shown < 0) || shown === Number.NEGATIVE_INFINITY) return "";
  const digits = (-shown).toFixed(display.decimals);
  if (Number(digits) === 0) return "";
  const thick = strokeOf(measures);
  const end = Math.round(left + layout.cellWidth - measures.padding - figures.widthOf(digits.length) - thick);
  return `M${end},${middleOf(layout, thick)}h-${figures.minus}v${thick}h${figures.minus}z`;
}

const strokeOf = ({ fontSize }: GridView["measures"]) => Math.max(1, Math.round(fontSize / 13));
const middleOf = ({ cellHeight }: GridView["layout"], thick: number) => Math.round((cellHeight - thick) / 2);

function markPath({ layout, measures }: GridView, { kind }: CellMark, left: number): string {
  const { cellWidth: width, cellHeight: height } = layout;
  const size = Math.max(2, Math.min(7, Math.round(height / 4)));
  switch (kind) {
    case "ceiling":
      return `M${left},0h${width}v${height}h-${width}z`;
    case "locked":
      return `M${left + width},0v${size}l-${size},-${size}z`;
    case "estimate": {
      const from = left + Math.max(2, measures.signWidth);
      return `M${from},${height - 3}H${left + width - measures.padding}`;
    }
    case "evidence": {
      const radius = size * 0.32;
      return `M${left + size - radius * 2},${height - size * 0.8}a${radius},${radius} 0 1 0 ${radius * 2},0a${radius},${radius} 0 1 0 -${radius * 2},0z`;
    }
  }
}

/** A thin bar along the foot of the cell, the longer the less sure its value is. */
function deviationPath({ layout, greatestDeviation }: GridView, deviation: number, left: number): string {
  if (!(deviation > 0)) return "";
  const length = Math.round((layout.cellWidth - 4) * Math.min(1, deviation / greatestDeviation));
  return `M${left + 2},${layout.cellHeight - 3}h${length}v1h-${length}z`;
}
