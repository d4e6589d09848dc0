/** Pixels of a PNG to each of the picture's own: sharp on paper and on fine screens. */
const SHARPNESS = 2;

/**
 * A picture as PNG, drawn by the browser from its SVG.
 *
 * @param size - of the picture, in px
 */
export async function pngOf(svg: string, size: { readonly width: number; readonly height: number }): Promise<Blob> {
  const url = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(size.width * SHARPNESS);
    canvas.height = Math.round(size.height * SHARPNESS);
    canvas.getContext("2d")!.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise<Blob>((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("The browser drew no picture."))), "image/png"),
    );
  } finally {
    URL.revokeObjectURL(url);
  }
}
