import { FuelwrightError } from "../values/errors.ts";
import { requirePositive, requireWhole, requireWithin, say } from "../values/require.ts";
import { type CancelSignal, throwIfCancelled } from "./cancel.ts";
import { byteCount, canReopen, type LogBytes, logBytes } from "./log-bytes.ts";
import { type LogDialect, readDialect } from "./log-dialect.ts";
import {
  GAUGE_AFR,
  type LogColumn,
  logQuantities,
  recogniseColumns,
  type UnitRule,
  unitFromNumbers,
  unitRule,
} from "./log-quantities.ts";
import { RowParser, type SkippedRows } from "./parse-rows.ts";
import { RateFiller } from "./rate-filler.ts";
import { type LogQuantity, type LogSamples, type SampleChunk, type SampleKey, sampleKey } from "./samples.ts";

/** How far reading has come. */
export interface ReadProgress {
  readonly bytes: number;
  /** null where the size is not known beforehand. */
  readonly totalBytes: number | null;
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
  readonly lines: number;
  /** Rows that became samples. */
  readonly rows: number;
  readonly seconds: number;
  readonly skipped: readonly { readonly why: string; readonly count: number; readonly firstLine: number | null }[];
  readonly columns: readonly ColumnSummary[];
  readonly warnings: readonly string[];
}

/** What was in one column. */
export interface ColumnSummary extends LogColumn {
  readonly samples: number;
  /** Cells left empty: not sampled in that row. */
  readonly empty: number;
  readonly unreadable: number;
  readonly firstUnreadable: { readonly line: number; readonly text: string } | null;
  /** In the library's unit. */
  readonly low: number;
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

const HEAD_BYTES = 1 << 16;

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
  let whole = false;
  while (held < HEAD_BYTES && !whole) {
    throwIfCancelled(options.signal);
    const { done, value } = await bytes.next();
    if (done) whole = true;
    else {
      pieces.push(value);
      held += value.length;
    }
  }
  const head = joined(pieces);
  const dialect = readDialect(head.subarray(0, 4 * HEAD_BYTES), whole && head.length <= 4 * HEAD_BYTES, options);
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

const listed = (headings: readonly string[]) =>
  headings.length <= 12 ? headings.map((h) => say(h)).join(", ") : `${headings.length} headings`;

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  if (pieces.length === 1) return pieces[0]!;
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** The columns as recognised, put right by hand, and with units guessed from the first numbers where none is said. */
function chooseColumns(head: Uint8Array, dialect: LogDialect, options: ReadLogOptions): LogColumn[] {
  const recognised = recogniseColumns(dialect.headings, dialect.units, options.synonyms);
  const byHand = new Map<number, LogColumn>();
  for (const [name, choice] of Object.entries(options.columns ?? {})) {
    const at =
      dialect.headings.indexOf(name) >= 0 ? dialect.headings.indexOf(name) : /^\d+$/.test(name) ? Number(name) : -1;
    const column = recognised[at];
    if (!column)
      throw new FuelwrightError(
        "log-column",
        `readLog: columns: the log has no column ${say(name)}; its headings are ${listed(dialect.headings)}`,
      );
    if (choice === null) {
      byHand.set(at, { ...column, quantity: null });
      continue;
    }
    if (!Object.hasOwn(logQuantities, choice.quantity))
      throw new FuelwrightError(
        "log-column",
        `readLog: columns[${say(name)}].quantity is not known, got ${say(choice.quantity)}; choose one of ${Object.keys(logQuantities).join(", ")}`,
      );
    const unit =
      choice.unit ?? (column.quantity === choice.quantity ? column.unit : logQuantities[choice.quantity].unit);
    if (unitRule(choice.quantity, unit, options.gaugeAfr) === null)
      throw new FuelwrightError(
        "log-column",
        `readLog: columns[${say(name)}].unit does not suit ${logQuantities[choice.quantity].label}, got ${say(unit)}; its own unit is ${logQuantities[choice.quantity].unit || "a bare number"}`,
      );
    const channel = requireWhole(`readLog: columns[${say(name)}].channel`, choice.channel ?? 1, 1, 64);
    byHand.set(at, {
      at,
      heading: column.heading,
      quantity: choice.quantity,
      channel,
      unit,
      unitFrom: choice.unit ? "hand" : column.unitFrom,
    });
  }
  const claimed = new Set([...byHand.values()].map(({ quantity, channel }) => `${quantity} ${channel}`));
  const columns = recognised.map(
    (column) =>
      byHand.get(column.at) ??
      (claimed.has(`${column.quantity} ${column.channel}`) ? { ...column, quantity: null, channel: 1 } : column),
  );
  return guessUnits(head, dialect, columns);
}

function guessUnits(head: Uint8Array, dialect: LogDialect, columns: LogColumn[]): LogColumn[] {
  const open = columns.filter(({ quantity, unitFrom }) => quantity !== null && unitFrom === "usual");
  if (open.length === 0) return columns;
  const targets = new Int32Array(columns.length).fill(-1);
  for (const [target, column] of open.entries()) targets[column.at] = target;
  const timeTarget = open.findIndex(({ quantity }) => quantity === "time");
  const parser = createParser(dialect, targets, open.length, 4096, timeTarget);
  const from = lineStart(head, dialect.dataLine);
  const end = head.lastIndexOf(10) + 1;
  if (from < end) parser.parse(head, from, end);
  const guesses = new Map<number, string>();
  open.forEach(({ at, quantity }, target) => {
    const numbers = parser.columns[target]!.subarray(0, parser.rows).filter((value) => Number.isFinite(value));
    if (numbers.length === 0) return;
    const unit =
      quantity === "time"
        ? timeUnit(numbers)
        : unitFromNumbers(
            quantity!,
            numbers.slice().sort()[numbers.length >> 1]!,
            numbers.reduce((a, b) => Math.max(a, b)),
          );
    if (unit !== null) guesses.set(at, unit);
  });
  return columns.map((column) =>
    guesses.has(column.at) ? { ...column, unit: guesses.get(column.at)!, unitFrom: "numbers" } : column,
  );
}

/** Milliseconds, if steps are whole and longer than any log's step in seconds would be. */
function timeUnit(times: Float64Array): string | null {
  const steps = Float64Array.from(
    { length: Math.max(0, times.length - 1) },
    (_, i) => times[i + 1]! - times[i]!,
  ).filter((step) => step > 0);
  if (steps.length < 3) return null;
  const middle = steps.sort()[steps.length >> 1]!;
  return middle >= 1000 ? "us" : middle >= 2 ? "ms" : null;
}

const delimiterCode = (dialect: LogDialect) => dialect.delimiter.charCodeAt(0);

function createParser(
  dialect: LogDialect,
  targets: Int32Array,
  wanted: number,
  capacity: number,
  timeTarget: number,
): RowParser {
  return new RowParser(
    dialect.headings.length,
    targets,
    wanted,
    capacity,
    delimiterCode(dialect),
    dialect.decimal.charCodeAt(0),
    dialect.dataLine,
    timeTarget,
  );
}

function lineStart(bytes: Uint8Array, line: number): number {
  let at = 0;
  for (let k = 0; k < line; k++) {
    const newline = bytes.indexOf(10, at);
    if (newline < 0) return bytes.length;
    at = newline + 1;
  }
  return at;
}

interface Wanted extends LogColumn {
  readonly quantity: LogQuantity;
  readonly key: SampleKey;
  readonly rule: UnitRule;
}

async function* readRows(
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
  let bytesRead = 0;
  let linesToPass = dialect.dataLine;
  let kept = new Uint8Array(0);
  let keptLength = 0;
  const finish = (complete: boolean) => report(summarise(complete, bytesRead, parser, filler, wanted));
  const drain = (last: boolean): SampleChunk | null => {
    const chunk = filler.take(parser.columns, parser.rows, last);
    parser.rows = 0;
    return chunk;
  };
  // Lines are parsed where they lie; only the piece of a line at a buffer's end is copied to the next.
  const parseAll = function* (bytes: Uint8Array, from: number, end: number): Generator<SampleChunk> {
    let at = from;
    while (at < end) {
      at = parser.parse(bytes, at, end);
      if (parser.rows === (options.rowsAChunk ?? 8192)) {
        const chunk = drain(false);
        if (chunk) yield chunk;
      }
    }
  };
  const passHead = (bytes: Uint8Array): number => {
    let at = 0;
    while (linesToPass > 0) {
      const newline = bytes.indexOf(10, at);
      if (newline < 0) return bytes.length;
      at = newline + 1;
      linesToPass--;
    }
    return at;
  };
  try {
    for (let first = true; ; first = false) {
      throwIfCancelled(signal);
      let piece: Uint8Array;
      if (first && head) piece = head;
      else {
        const next = await rest.next();
        if (next.done) break;
        piece = next.value;
      }
      bytesRead += piece.length;
      let from = 0;
      let end = piece.lastIndexOf(10) + 1;
      if (linesToPass > 0) {
        // The head may be cut anywhere: join until its lines are passed.
        piece = joined([kept.slice(0, keptLength), piece]);
        keptLength = 0;
        end = piece.lastIndexOf(10) + 1;
        from = passHead(piece.subarray(0, end));
      } else if (keptLength > 0 && end > 0) {
        const newline = piece.indexOf(10) + 1;
        const line = joined([kept.subarray(0, keptLength), piece.subarray(0, newline)]);
        keptLength = 0;
        yield* parseAll(line, 0, line.length);
        from = newline;
      }
      yield* parseAll(piece, from, end);
      const left = piece.subarray(Math.max(from, end));
      if (keptLength + left.length > 1 << 24)
        throw new FuelwrightError(
          "log-line-too-long",
          "readLog: a line is longer than 16 MB; this is not a log of rows and columns",
        );
      if (keptLength + left.length > kept.length) {
        const wider = new Uint8Array(2 * (keptLength + left.length));
        wider.set(kept.subarray(0, keptLength));
        kept = wider;
      }
      kept.set(left, keptLength);
      keptLength += left.length;
      finish(false);
      const waiting = onProgress?.({ bytes: bytesRead, totalBytes, rows: filler.rows + parser.rows });
      if (waiting) await waiting;
    }
    throwIfCancelled(signal);
    if (keptLength > 0 && linesToPass === 0) {
      const line = joined([kept.subarray(0, keptLength), Uint8Array.of(10)]);
      yield* parseAll(line, 0, line.length);
    }
    const chunk = drain(true);
    finish(true);
    if (chunk) yield chunk;
    if (filler.rows === 0)
      throw new FuelwrightError(
        "log-no-rows",
        `readLog: no row of the log could be used (${parser.ragged.count} with the wrong number of cells, ${filler.timeless.count} without a time); ` +
          "check delimiter, headings and units",
      );
  } finally {
    if (keptLength < 0) finish(false);
  }
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

const emptySummary = (columns: readonly LogColumn[]): LogSummary => ({
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
