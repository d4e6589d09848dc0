import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";

/**
 * The longest text that is read, in characters: twice what a table of 256 × 256 cells takes at full precision. A longer
 * one is refused at once, so that a wrong file or paste never holds up the page.
 */
export const LONGEST_TEXT = 4_000_000;

/** What ends a line. */
export type LineEnd = "\r\n" | "\n" | "\r";

/** A text without its byte order mark, and how it was kept. */
export interface PlainText {
  readonly body: string;
  readonly bom: boolean;
  readonly lineEnd: LineEnd;
  /** False where a text has no line end or more than one kind. */
  readonly uniform: boolean;
}

/** How files begin that are no text, as they look after being read as UTF-8 or byte by byte. */
const beginnings: readonly (readonly [string, string])[] = [
  ["\uFFFD\uFFFD", "UTF-16"],
  ["\u00FF\u00FE", "UTF-16"],
  ["\u00FE\u00FF", "UTF-16"],
  ["\uFFFE", "UTF-16"],
  ["PK\u0003\u0004", "a workbook or a zip archive"],
  ["%PDF-", "a PDF document"],
  ["\uFFFDPNG", "a picture"],
  ["\u0089PNG", "a picture"],
  ["{\\rtf", "a word processor's document"],
];

/**
 * The text, after making sure that it is one.
 *
 * @throws FuelwrightError `text-empty`, `text-too-long`, `text-utf16`, `text-binary`
 */
export function plainText(where: string, text: unknown): PlainText {
  if (typeof text !== "string")
    throw new FuelwrightError(
      "text-empty",
      `${where}: the text must be a string, got ${say(text)}; read the file first`,
    );
  if (text.length > LONGEST_TEXT)
    throw new FuelwrightError(
      "text-too-long",
      `${where}: the text must be at most ${LONGEST_TEXT / 1e6} million characters, got ` +
        `${(text.length / 1e6).toFixed(1)} million; copy the table alone (a log is read elsewhere)`,
      { length: text.length, longest: LONGEST_TEXT },
    );
  const bom = text.charCodeAt(0) === 0xfeff;
  const body = bom ? text.slice(1) : text;
  refuseBinary(where, body);
  if (body.trim() === "")
    throw new FuelwrightError("text-empty", `${where}: the text is empty; copy the table with its rpm and load`);
  return { body, bom, ...lineEndOf(body) };
}

function refuseBinary(where: string, body: string): void {
  const kind = beginnings.find(([start]) => body.startsWith(start))?.[1];
  const control = firstControl(body);
  if (kind === "UTF-16" || (control >= 0 && halfIsZero(body)))
    throw new FuelwrightError(
      "text-utf16",
      `${where}: the file must be UTF-8, got UTF-16; save it again as CSV in UTF-8, or copy and paste the cells`,
    );
  if (kind === undefined && control < 0) return;
  throw new FuelwrightError(
    "text-binary",
    `${where}: the file must be text, got ${kind ?? `a control character at place ${control + 1}`}; ` +
      "save the table as CSV, or copy and paste its cells",
    { kind: kind ?? null, at: control },
  );
}

/** Where the first character stands that no text has (all controls but tab, line ends, form feed), or -1. */
function firstControl(body: string): number {
  for (let at = 0; at < body.length; at++) {
    const code = body.charCodeAt(at);
    if (code < 32 && (code < 9 || code > 13)) return at;
  }
  return -1;
}

/** ASCII kept as UTF-16 has a zero beside each letter. */
function halfIsZero(body: string): boolean {
  const start = body.slice(0, 1000);
  return start.length > 3 && start.split("\0").length - 1 > 0.3 * start.length;
}

function lineEndOf(body: string): Pick<PlainText, "lineEnd" | "uniform"> {
  const both = body.match(/\r\n/g)?.length ?? 0;
  const feeds = (body.match(/\n/g)?.length ?? 0) - both;
  const returns = (body.match(/\r/g)?.length ?? 0) - both;
  const most = Math.max(both, feeds, returns);
  const lineEnd = most === both ? "\r\n" : most === feeds ? "\n" : "\r";
  return { lineEnd, uniform: most > 0 && both + feeds + returns === most };
}
