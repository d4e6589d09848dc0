import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";
import { throwIfCancelled } from "./cancel.ts";
import type { LogDialect } from "./log-dialect.ts";
import { type LogColumn, logQuantities, type UnitRule, unitRule } from "./log-quantities.ts";
import { createParser, type RowParser, type SkippedRows } from "./parse-rows.ts";
import { RateFiller } from "./rate-filler.ts";
import type { ColumnSummary, LogSummary, ReadLogOptions } from "./read-log.ts";
import { type LogQuantity, type SampleChunk, type SampleKey, sampleKey } from "./samples.ts";

interface Wanted extends LogColumn {
  readonly quantity: LogQuantity;
  readonly key: SampleKey;
  readonly rule: UnitRule;
}

/**
 * The rows of a log as chunks of samples.
 *
 * @param head - bytes that were read already, or null
 * @param report - told how reading stands, again and again
 */
export async function* readRows(
  head: Uint8Array | null,
  rest: AsyncGenerator<Uint8Array>,
  dialect: LogDialect,
  columns: readonly LogColumn[],
  options: ReadLogOptions,
  totalBytes: number | null,
  report: (summary: LogSummary) => void,
): AsyncGenerator<SampleChunk> {
  const { signal, onProgress } = options;
  const wanted: Wanted[] = columns
    .filter((column) => column.quantity !== null)
    .map((column) => {
      const quantity = column.quantity!;
      return {
        ...column,
        quantity,
        key: sampleKey(quantity, column.channel),
        rule: unitRule(quantity, column.unit, options.gaugeAfr)!,
      };
    });
  const targets = new Int32Array(columns.length).fill(-1);
  for (const [target, column] of wanted.entries()) targets[column.at] = target;
  const timeTarget = wanted.findIndex(({ quantity }) => quantity === "time");
  const parser = createParser(dialect, targets, wanted.length, options.rowsAChunk ?? 8192, timeTarget);
  const filler = new RateFiller(wanted, timeTarget, options.fillSeconds ?? 1, options.hertz ?? null);
  const rowsAChunk = options.rowsAChunk ?? 8192;
  let bytesRead = 0;
  const tell = (complete: boolean) => report(summarise(complete, bytesRead, parser, filler, wanted));
  const drain = (last: boolean): SampleChunk | null => {
    const chunk = filler.take(parser.columns, parser.rows, last);
    parser.rows = 0;
    return chunk;
  };
  for await (const { bytes, from, end, read } of wholeLines(head, rest, dialect.dataLine)) {
    throwIfCancelled(signal);
    bytesRead = read;
    for (let at = from; at < end; ) {
      at = parser.parse(bytes, at, end);
      if (parser.rows < rowsAChunk) continue;
      const chunk = drain(false);
      if (chunk) yield chunk;
    }
    tell(false);
    const waiting = onProgress?.({ bytes: bytesRead, totalBytes, rows: filler.rows + parser.rows });
    if (waiting) await waiting;
    throwIfCancelled(signal);
  }
  const chunk = drain(true);
  tell(true);
  if (chunk) yield chunk;
  if (filler.rows === 0)
    throw new FuelwrightError(
      "log-no-rows",
      `readLog: no row of the log could be used (${parser.ragged.count} with the wrong number of cells, ${filler.timeless.count} without a time); ` +
        "check delimiter, headings and units",
    );
}

/** A stretch of bytes that ends at a line's end: lines are parsed where they lie. */
interface Stretch {
  readonly bytes: Uint8Array;
  readonly from: number;
  readonly end: number;
  /** Bytes of the log read so far. */
  readonly read: number;
}

/** No row of a log is as long as this. */
const LONGEST_LINE = 1 << 24;

/**
 * The bytes of a log in stretches of whole lines, the first `skip` lines left out; only a line that is cut by the end of a
 * piece is copied.
 */
async function* wholeLines(
  head: Uint8Array | null,
  rest: AsyncGenerator<Uint8Array>,
  skip: number,
): AsyncGenerator<Stretch> {
  let left: Uint8Array = new Uint8Array(0);
  let read = 0;
  let toSkip = skip;
  const stretch = function* (bytes: Uint8Array, end: number): Generator<Stretch> {
    let from = 0;
    while (toSkip > 0 && from < end) {
      from = bytes.indexOf(NEWLINE, from) + 1;
      toSkip--;
    }
    if (from < end) yield { bytes, from, end, read };
  };
  for (let piece = head ?? (await next(rest)); piece; piece = await next(rest)) {
    read += piece.length;
    const end = piece.lastIndexOf(NEWLINE) + 1;
    let bytes = piece;
    if (end > 0 && left.length > 0) {
      const first = piece.indexOf(NEWLINE) + 1;
      const line = joined([left, piece.subarray(0, first)]);
      left = new Uint8Array(0);
      yield* stretch(line, line.length);
      bytes = piece.subarray(first);
    }
    const whole = Math.max(0, end - (piece.length - bytes.length));
    yield* stretch(bytes, whole);
    left = joined([left, bytes.subarray(whole)]);
    if (left.length > LONGEST_LINE)
      throw new FuelwrightError(
        "log-line-too-long",
        "readLog: a line is longer than 16 MB; this is not a log of rows and columns, choose another file",
      );
  }
  if (left.length > 0) {
    const line = joined([left, Uint8Array.of(NEWLINE)]);
    yield* stretch(line, line.length);
  }
}

const NEWLINE = 10;

async function next(bytes: AsyncGenerator<Uint8Array>): Promise<Uint8Array | null> {
  const { done, value } = await bytes.next();
  return done ? null : value;
}

/** Pieces as one. */
export function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

function summarise(
  complete: boolean,
  bytes: number,
  parser: RowParser,
  filler: RateFiller,
  wanted: readonly Wanted[],
): LogSummary {
  const skipped: { why: string; count: number; firstLine: number | null }[] = [];
  const skip = (why: string, { count, firstLine }: SkippedRows) => {
    if (count > 0) skipped.push({ why, count, firstLine });
  };
  skip("wrong number of cells", parser.ragged);
  skip("no readable time", filler.timeless);
  if (parser.comments > 0) skipped.push({ why: "comment", count: parser.comments, firstLine: null });
  if (parser.blankLines > 0) skipped.push({ why: "empty line", count: parser.blankLines, firstLine: null });
  const warnings: string[] = [];
  const columns = wanted.map(({ key: _key, rule: _rule, ...column }, at): ColumnSummary => {
    const tally = filler.tallies[at]!;
    const { label } = logQuantities[column.quantity];
    const never = tally.samples > 0 && tally.low === tally.high && tally.samples > 100;
    if (tally.samples === 0) warnings.push(`${label} (${say(column.heading)}) was never sampled.`);
    else if (never && ["time", "rpm", "lambda", "manifold-pressure", "pulse-width"].includes(column.quantity))
      warnings.push(`${label} (${say(column.heading)}) never changes.`);
    if (tally.unreadable > 0.05 * filler.rows) warnings.push(`${label} (${say(column.heading)}) is often unreadable.`);
    return {
      ...column,
      samples: tally.samples,
      empty: tally.empty,
      unreadable: tally.unreadable,
      firstUnreadable: parser.firstUnreadable[at]!,
      low: tally.samples > 0 ? tally.low : Number.NaN,
      high: tally.samples > 0 ? tally.high : Number.NaN,
    };
  });
  return {
    complete,
    bytes,
    lines: parser.line,
    rows: filler.rows,
    seconds: filler.seconds,
    skipped,
    columns,
    warnings,
  };
}

/** Of a log that was not gone through yet. */
export const emptySummary = (columns: readonly LogColumn[]): LogSummary => ({
  complete: false,
  bytes: 0,
  lines: 0,
  rows: 0,
  seconds: 0,
  skipped: [],
  columns: columns
    .filter(({ quantity }) => quantity !== null)
    .map((column) => ({
      ...column,
      samples: 0,
      empty: 0,
      unreadable: 0,
      firstUnreadable: null,
      low: Number.NaN,
      high: Number.NaN,
    })),
  warnings: [],
});
