import { decodeText } from "./log-bytes.ts";
import type { LogDialect } from "./log-dialect.ts";

/** In a block of numbers: a cell that was not empty and yet no number. Infinity never comes out of a log otherwise. */
export const UNREADABLE = Number.POSITIVE_INFINITY;

/** What a parser tells about the rows it left out. */
export interface SkippedRows {
  count: number;
  /** Line number of the first, from 1. */
  firstLine: number;
}

const NEWLINE = 10;
const RETURN = 13;
const SPACE = 32;
const QUOTE = 34;
const MINUS = 45;
const ZERO = 48;
const powers = Float64Array.from({ length: 23 }, (_, exponent) => 10 ** exponent);

/**
 * Reads rows of numbers out of bytes into columns, without making strings of the cells.
 *
 * Numbers of up to fifteen digits are exact (as `Number` reads them); longer ones and those with exponents go a slower
 * way. An empty cell is NaN, one that is no number {@link UNREADABLE}.
 */
export class RowParser {
  /** One column a wanted cell, `rows` of them filled. */
  readonly columns: Float64Array[];
  rows = 0;
  /** Lines begun so far, in the whole log. */
  line: number;
  blankLines = 0;
  comments = 0;
  /** Rows with more or fewer cells than there are headings. */
  readonly ragged: SkippedRows = { count: 0, firstLine: 0 };
  /** For each wanted column, the first unreadable cell. */
  readonly firstUnreadable: ({ readonly line: number; readonly text: string } | null)[];
  private dayBefore = Number.NEGATIVE_INFINITY;
  private days = 0;

  /**
   * @param width - cells in a row
   * @param targets - for each cell of a row the column it goes to, or −1
   * @param capacity - rows that fit
   * @param timeTarget - the column in which times of day are read as well, or −1
   */
  constructor(
    private readonly width: number,
    private readonly targets: Int32Array,
    wanted: number,
    private readonly capacity: number,
    private readonly delimiter: number,
    private readonly decimal: number,
    firstLine: number,
    private readonly timeTarget: number,
  ) {
    this.columns = Array.from({ length: wanted }, () => new Float64Array(capacity));
    this.firstUnreadable = Array.from({ length: wanted }, () => null);
    this.line = firstLine;
  }

  /**
   * Reads lines from `at` until `end` (just after a newline) or until the columns are full; returns where it stopped.
   */
  parse(bytes: Uint8Array, at: number, end: number): number {
    const { width, targets, columns, capacity, delimiter, decimal } = this;
    let p = at;
    while (p < end && this.rows < capacity) {
      this.line++;
      let c = bytes[p]!;
      if (
        c === NEWLINE ||
        c === RETURN ||
        c === SPACE ||
        c === 0x23 ||
        c === 0x2f ||
        c === 0x25 ||
        c === 0x21 ||
        c === 0x2a
      ) {
        const next = this.skipOther(bytes, p, end);
        if (next > p) {
          p = next;
          continue;
        }
      }
      const row = this.rows;
      let cell = 0;
      for (;;) {
        const target = cell < width ? targets[cell]! : -1;
        c = bytes[p]!;
        if (target < 0) {
          if (c === QUOTE) p = skipQuoted(bytes, p, end);
          while ((c = bytes[p]!) !== delimiter && c !== NEWLINE) p++;
        } else {
          const begin = p;
          while (c === SPACE) c = bytes[++p]!;
          const negative = c === MINUS;
          if (negative) c = bytes[++p]!;
          let value = 0;
          const first = p;
          let digit = c - ZERO;
          while (digit >= 0 && digit <= 9) {
            value = value * 10 + digit;
            digit = bytes[++p]! - ZERO;
          }
          let digits = p - first;
          if (bytes[p] === decimal) {
            const point = ++p;
            digit = bytes[p]! - ZERO;
            while (digit >= 0 && digit <= 9) {
              value = value * 10 + digit;
              digit = bytes[++p]! - ZERO;
            }
            const places = p - point;
            digits += places;
            if (digits <= 15) value /= powers[places]!;
          }
          c = bytes[p]!;
          if (digits > 0 && digits <= 15 && (c === delimiter || c === NEWLINE || c === RETURN)) {
            columns[target]![row] = negative ? -value : value;
          } else {
            p = begin;
            if (bytes[p] === QUOTE) p = skipQuoted(bytes, p, end);
            while ((c = bytes[p]!) !== delimiter && c !== NEWLINE) p++;
            columns[target]![row] = this.readSlowly(bytes, begin, p, target);
          }
          if (c === RETURN) c = bytes[++p]!;
        }
        cell++;
        p++;
        if (c !== delimiter) break;
      }
      if (cell === width || (cell === width + 1 && isTrailing(bytes, p, delimiter))) this.rows++;
      else if (this.ragged.count++ === 0) this.ragged.firstLine = this.line;
    }
    return p;
  }

  /** Passes over an empty line or a comment; returns its end, or `at` if the line is neither. */
  private skipOther(bytes: Uint8Array, at: number, end: number): number {
    let p = at;
    while (bytes[p] === SPACE || bytes[p] === RETURN || bytes[p] === 9) p++;
    const c = bytes[p]!;
    const blank = c === NEWLINE && this.delimiter !== SPACE;
    const comment = c === 0x23 || c === 0x25 || c === 0x21 || c === 0x2a || (c === 0x2f && bytes[p + 1] === 0x2f);
    if (!blank && !comment) return at;
    if (blank) this.blankLines++;
    else this.comments++;
    while (p < end && bytes[p] !== NEWLINE) p++;
    return p + 1;
  }

  private readSlowly(bytes: Uint8Array, from: number, to: number, target: number): number {
    const text = decodeText(bytes.subarray(from, to))
      .trim()
      .replace(/^"(.*)"$/, "$1")
      .trim();
    if (text === "") return Number.NaN;
    const value = this.readWord(text, target);
    if (value === null) {
      this.firstUnreadable[target] ??= { line: this.line, text: text.slice(0, 24) };
      return UNREADABLE;
    }
    return value;
  }

  private readWord(text: string, target: number): number | null {
    const number = text.replace(",", ".");
    if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(number)) {
      const value = Number(number);
      return Number.isFinite(value) ? value : null;
    }
    if (/^(on|yes|true|active)$/i.test(text)) return 1;
    if (/^(off|no|false|inactive)$/i.test(text)) return 0;
    return target === this.timeTarget ? this.readClock(text) : null;
  }

  /** A time of day in seconds, a date before it or not; midnight goes on counting. */
  private readClock(text: string): number | null {
    const clock = /^(?:.*[T\s])?(?:(\d{1,2}):)?(\d{1,2}):(\d{1,2}(?:[.,]\d+)?)\s*(?:Z|[-+]\d\d:?\d\d)?$/.exec(text);
    if (!clock) return null;
    const seconds = 3600 * Number(clock[1] ?? 0) + 60 * Number(clock[2]) + Number(clock[3]!.replace(",", "."));
    if (seconds < this.dayBefore - 43_200) this.days++;
    this.dayBefore = seconds;
    return seconds + 86_400 * this.days;
  }
}

/** Whether the row that ended just before `at` ended in a delimiter: one cell too many, and empty. */
function isTrailing(bytes: Uint8Array, at: number, delimiter: number): boolean {
  let p = at - 2;
  if (bytes[p] === RETURN) p--;
  return bytes[p] === delimiter;
}

/** The place just after a quoted cell; a quote that is never closed ends at the line's end. */
function skipQuoted(bytes: Uint8Array, at: number, end: number): number {
  let p = at + 1;
  while (p < end && bytes[p] !== QUOTE && bytes[p] !== NEWLINE) p++;
  return bytes[p] === QUOTE ? p + 1 : p;
}

/** A parser of a log's rows. @see RowParser */
export const createParser = (
  dialect: LogDialect,
  targets: Int32Array,
  wanted: number,
  capacity: number,
  timeTarget: number,
): RowParser =>
  new RowParser(
    dialect.headings.length,
    targets,
    wanted,
    capacity,
    dialect.delimiter.charCodeAt(0),
    dialect.decimal.charCodeAt(0),
    dialect.dataLine,
    timeTarget,
  );
