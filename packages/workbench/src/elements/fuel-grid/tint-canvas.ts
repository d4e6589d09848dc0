import type { GridView } from "./grid-view.ts";

/** Paints one pixel a cell; the style sheet scales the canvas up to the cells, with hard edges. */
export function paintTints(canvas: HTMLCanvasElement, { layout, shade }: Pick<GridView, "layout" | "shade">): void {
  const { columns, rows } = layout;
  if (canvas.width !== columns || canvas.height !== rows) {
    canvas.width = columns;
    canvas.height = rows;
  }
  // A tiny canvas that is rewritten whole: the processor's own memory is the quickest place for it.
  const context = canvas.getContext("2d", { willReadFrequently: true })!;
  const image = context.createImageData(columns, rows);
  const pixels = new Uint32Array(image.data.buffer);
  const { pixels: ramp } = shade.ramp;
  let to = 0;
  for (let y = 0; y < rows; y++) for (let x = 0; x < columns; x++) pixels[to++] = ramp[shade.tint[layout.at(x, y)]!]!;
  context.putImageData(image, 0, 0);
}
