import { FuelwrightError } from "../values/errors.ts";
import { requirePositive, requireWhole, requireWithin } from "../values/require.ts";
import { type CancelSignal, throwIfCancelled } from "./cancel.ts";
import { byteCount, canReopen, type LogBytes, logBytes } from "./log-bytes.ts";
import { chooseColumns, lineStart, listed } from "./log-columns.ts";
import { type LogDialect, readDialect } from "./log-dialect.ts";
import { GAUGE_AFR, type LogColumn } from "./log-quantities.ts";
import { emptySummary, joined, readRows } from "./read-rows.ts";
import type { LogQuantity, LogSamples, SampleChunk } from "./samples.ts";

/** How far reading has come. */
export interface ReadProgress {
  readonly bytes: number;
  /** null where the size is not known beforehand. */
  readonly totalBytes: number | null;
  /** Rows read. */
  readonly rows: number;
}

/** What {@link readLog} takes beside the source. */
export interface ReadLogOptions {
  readonly name?: string;
  /**
   * Columns put right by hand: by heading, or by place from 0. null leaves a column out.
   *
   * @example { columns: { "Sensor B": { quantity: "lambda", channel: 2, unit: "AFR" }, 7: null } }
   */
  readonly columns?: Readonly<
    Record<string, { readonly quantity: LogQuantity; readonly channel?: number; readonly unit?: string } | null>
  >;
  /** Further headings for quantities. */
  readonly synonyms?: Partial<Record<LogQuantity, readonly string[]>>;
  readonly delimiter?: LogDialect["delimiter"];
  readonly decimal?: LogDialect["decimal"];
  /** Air-fuel ratio that stands for lambda 1 in this log; 14.7 unless said, as gauges show it whatever the fuel. */
  readonly gaugeAfr?: number;
  /** Rows a second, for logs without a time column. */
  readonly hertz?: number;
  /** Seconds over which a quantity is filled in between its samples; 1 unless said. */
  readonly fillSeconds?: number;
  /** Rows in a chunk; 8192 unless said. */
  readonly rowsAChunk?: number;
  /** Called now and then; if it returns a promise, reading waits for it. */
  readonly onProgress?: (progress: ReadProgress) => void | Promise<void>;
  readonly signal?: CancelSignal;
}

/** What was read, what was left out, and why. */
export interface LogSummary {
  /** Whether the log was read to its end. */
  readonly complete: boolean;
  readonly bytes: number;
  /** Lines of text, the headings among them. */
  readonly lines: number;
  /** Rows that became samples. */
  readonly rows: number;
  readonly seconds: number;
  /** Rows that were left out: why, how many, and the line of the first, from 1. */
  readonly skipped: readonly { readonly why: string; readonly count: number; readonly firstLine: number | null }[];
  readonly columns: readonly ColumnSummary[];
  readonly warnings: readonly string[];
}

/** What was in one column. */
export interface ColumnSummary extends LogColumn {
  /** Cells that hold a number. */
  readonly samples: number;
  /** Cells left empty: not sampled in that row. */
  readonly empty: number;
  /** Cells that hold something else. */
  readonly unreadable: number;
  /** Where the first of them stands, lines counted from 1. */
  readonly firstUnreadable: { readonly line: number; readonly text: string } | null;
  /** In the library's unit. */
  readonly low: number;
  /** See `low`. */
  readonly high: number;
}

/** A log that is ready to be gone through. */
export interface Log extends LogSamples {
  readonly dialect: LogDialect;
  readonly columns: readonly LogColumn[];
  /** The samples, chunk by chunk. A stream can be gone through once; files, text and functions as often as you like. */
  open(): AsyncGenerator<SampleChunk>;
  /** Of the latest reading. */
  summary(): LogSummary;
}

/** What is read to understand a log: so many bytes, and so many lines where lines are long, up to the longest line. */
const HEAD_BYTES = 1 << 16;
const HEAD_LINES = 8;
const HEAD_MOST = 1 << 24;

/**
 * A log as a stream of samples: its headings are read and understood at once, its rows when it is opened.
 *
 * CSV, semicolon, tab or bar; decimal point or comma; comment lines, a unit row, a byte order mark; uneven time steps.
 * Columns sampled less often than the others (empty cells) are filled in between as {@link logQuantities} says; measured
 * lambda never is. Numbers are parsed from the bytes, chunk by chunk: memory does not grow with the log.
 *
 * @example
 * const log = await readLog(file);
 * for await (const chunk of log.open()) console.log(chunk.count, chunk.columns.rpm);
 * @throws FuelwrightError `log-empty`, `log-one-column`, `log-no-time`, `log-column`, `log-source`; while it is gone
 *   through also `log-unreadable`, `log-read-once`, `log-no-rows`, `cancelled`
 */
export async function readLog(source: LogBytes, options: ReadLogOptions = {}): Promise<Log> {
  requireWhole("readLog: rowsAChunk", options.rowsAChunk ?? 8192, 16, 1 << 20);
  requireWithin("readLog: fillSeconds", options.fillSeconds ?? 1, 0, 3600);
  requirePositive("readLog: gaugeAfr", options.gaugeAfr ?? GAUGE_AFR);
  if (options.hertz !== undefined) requirePositive("readLog: hertz", options.hertz);
  // The head is read first, and handed on to the first reading.
  let bytes: AsyncGenerator<Uint8Array> | null = logBytes(source);
  const pieces: Uint8Array[] = [];
  let held = 0;
  let lines = 0;
  let whole = false;
  while ((held < HEAD_BYTES || lines < HEAD_LINES) && held < HEAD_MOST && !whole) {
    throwIfCancelled(options.signal);
    const { done, value } = await bytes.next();
    if (done) whole = true;
    else {
      pieces.push(value);
      held += value.length;
      lines += newlines(value);
    }
  }
  const head = joined(pieces);
  const enough = Math.max(4 * HEAD_BYTES, lineStart(head, HEAD_LINES));
  const dialect = readDialect(head.subarray(0, enough), whole && head.length <= enough, options);
  const columns = chooseColumns(head, dialect, options);
  if (options.hertz === undefined && !columns.some(({ quantity }) => quantity === "time"))
    throw new FuelwrightError(
      "log-no-time",
      `readLog: no column of times was found among ${listed(dialect.headings)}; name it, or say how many rows a second there are`,
      { headings: dialect.headings.slice(0, 40) },
    );
  let summary: LogSummary = emptySummary(columns);
  const open = async function* (): AsyncGenerator<SampleChunk> {
    let rest: AsyncGenerator<Uint8Array>;
    let begin: Uint8Array | null = null;
    if (bytes) {
      rest = bytes;
      begin = head;
      bytes = null;
    } else if (canReopen(source)) rest = logBytes(source);
    else
      throw new FuelwrightError(
        "log-read-once",
        "readLog: a stream can be gone through once only; give a file, text, or a function that opens the stream anew",
      );
    try {
      yield* readRows(begin, rest, dialect, columns, options, byteCount(source), (now) => (summary = now));
    } finally {
      await rest.return(undefined);
    }
  };
  return {
    name:
      options.name ??
      (typeof (source as { name?: unknown })?.name === "string" ? (source as { name: string }).name : "log"),
    simulated: dialect.simulated,
    dialect,
    columns,
    open,
    summary: () => summary,
  };
}

/** How many lines end in a piece; those beyond the head's are not counted. */
function newlines(piece: Uint8Array): number {
  let count = 0;
  for (let at = piece.indexOf(10); at >= 0 && count < HEAD_LINES; at = piece.indexOf(10, at + 1)) count++;
  return count;
}
