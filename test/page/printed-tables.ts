import type { PdfPage, PlacedText } from "./read-pdf.ts";

/** A cell as it was found on paper, under the axes that stand on the same page. */
export interface PrintedCell {
  readonly page: number;
  readonly rpm: string;
  readonly load: string;
  readonly text: string;
  /** What stands under it: "+4.0 !". */
  readonly under: string;
  readonly place: PlacedText;
}

/** Figures are set flush right under their heads. */
const SAME_COLUMN = 3;
const SAME_LINE = 1.5;

/**
 * The cells of printed tables by what stands over each block: "Large table, after, ms".
 *
 * Only what a person could read is read: a cell counts by the head over it and the load beside it on its own page.
 *
 * @param corner - what stands where the axes meet
 */
export function printedTables(pages: readonly PdfPage[], corner: string): Map<string, PrintedCell[]> {
  const tables = new Map<string, PrintedCell[]>();
  pages.forEach((page, number) => {
    const lines = linesOf(page.placed);
    lines.forEach((line, at) => {
      if (line[0]!.text !== corner) return;
      const name = sayLine(lines[at - 1]!).replace(/: [\d,]+–.*$/, "");
      const heads = line.slice(1);
      const cells: PrintedCell[] = [];
      let load: string | null = null;
      const next = lines.findIndex((other, place) => place > at && other[0]!.text === corner);
      // Over the next corner stands the name of its table.
      for (const below of lines.slice(at + 1, next < 0 ? undefined : next - 1)) {
        const columns = below.map((one) => heads.find((head) => Math.abs(endOf(head) - endOf(one)) < SAME_COLUMN));
        const [first] = below;
        if (endOf(first!) < heads[0]!.x && columns.slice(1).every(Boolean) && below.length === heads.length + 1) {
          load = first!.text;
          below.slice(1).forEach((place, column) => {
            cells.push({ page: number, rpm: heads[column]!.text, load: load!, text: place.text, under: "", place });
          });
        } else if (load !== null && columns.every(Boolean)) {
          below.forEach((place, column) => {
            const rpm = columns[column]!.text;
            const cell = cells.findLastIndex((one) => one.rpm === rpm && one.load === load);
            cells[cell] = { ...cells[cell]!, under: place.text };
          });
        } else break;
      }
      tables.set(name, [...(tables.get(name) ?? []), ...cells]);
    });
  });
  return tables;
}

const endOf = ({ x, width }: PlacedText) => x + width;

export const sayLine = (line: readonly PlacedText[]): string => line.map(({ text }) => text).join(" ");

/** Text in lines from the top, each from the left. */
export function linesOf(placed: readonly PlacedText[]): PlacedText[][] {
  const lines: PlacedText[][] = [];
  for (const one of placed.toSorted((a, b) => b.y - a.y)) {
    const line = lines.at(-1);
    if (line && Math.abs(line[0]!.y - one.y) < SAME_LINE) line.push(one);
    else lines.push([one]);
  }
  return lines.map((line) => line.sort((a, b) => a.x - b.x));
}
