import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** A piece of text where it stands on a page, in points from the lower left corner. */
export interface PlacedText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** Names of the file's own: the same for text of the same face. */
  readonly font: string;
}

/** A page as a grey picture of one pixel a point, rows from the top. */
export interface GreyPage {
  readonly width: number;
  readonly height: number;
  /** 0 black … 255 white. */
  readonly grey: Uint8Array;
}

export interface PdfPage {
  /** In points. */
  readonly width: number;
  readonly height: number;
  /** All text in reading order, blanks evened out. */
  readonly text: string;
  readonly placed: readonly PlacedText[];
  /** Drawn when it is asked for, which takes longer than reading the text. */
  picture(): Promise<GreyPage>;
}

/** What this test needs of the factory by which the reader makes its canvases. */
interface Canvases {
  create(
    width: number,
    height: number,
  ): { readonly canvas: HTMLCanvasElement; readonly context: CanvasRenderingContext2D };
}

/** Reads a PDF back, as text with its places and as pictures. */
export async function readPdf(bytes: Uint8Array): Promise<PdfPage[]> {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: PdfPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const viewport = page.getViewport({ scale: 1 });
    const items = (await page.getTextContent()).items.filter((item) => "str" in item);
    pages.push({
      width: viewport.width,
      height: viewport.height,
      text: evenBlanks(items.map(({ str, hasEOL }) => str + (hasEOL ? " " : "")).join("")),
      placed: items
        .filter(({ str }) => str.trim() !== "")
        .map(({ str, transform, width, fontName }) => ({
          text: str,
          x: transform[4] as number,
          y: transform[5] as number,
          width,
          font: fontName,
        })),
      async picture() {
        const { canvas, context } = (document.canvasFactory as Canvases).create(viewport.width, viewport.height);
        await page.render({ canvas, canvasContext: context, viewport }).promise;
        return toGrey(context, canvas);
      },
    });
  }
  return pages;
}

/** Text with one blank where it has some: lines break differently on every paper. */
export const evenBlanks = (text: string): string => text.replace(/\s+/g, " ").trim();

function toGrey(context: CanvasRenderingContext2D, { width, height }: HTMLCanvasElement): GreyPage {
  const { data } = context.getImageData(0, 0, width, height);
  const grey = new Uint8Array(width * height);
  // As a printer without colour sees it; the reader draws on white paper.
  for (let at = 0, from = 0; at < grey.length; at++, from += 4)
    grey[at] = Math.round(0.2126 * data[from]! + 0.7152 * data[from + 1]! + 0.0722 * data[from + 2]!);
  return { width, height, grey };
}

/** Left, bottom, right and top, in points from the lower left corner. */
export type Box = readonly [left: number, bottom: number, right: number, top: number];

/** The share of a box that is darker than `limit`. */
export function darkShare({ width, height, grey }: GreyPage, [left, bottom, right, top]: Box, limit: number): number {
  let dark = 0;
  let all = 0;
  for (let y = Math.max(0, Math.floor(height - top)); y < Math.min(height, height - bottom); y++)
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(width, right); x++) {
      all++;
      if (grey[y * width + x]! < limit) dark++;
    }
  return dark / all;
}
