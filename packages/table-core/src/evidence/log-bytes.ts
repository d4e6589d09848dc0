import { FuelwrightError } from "../values/errors.ts";
import { say } from "../values/require.ts";

/** Something with bytes in it: what `Blob` and `File` have. */
export interface BlobLike {
  /** In bytes. */
  readonly size?: number;
  /** The bytes, as a stream of the web's. */
  stream(): unknown;
}

/** @inline */
type Piece = Uint8Array | ArrayBuffer | string;

/**
 * Where a log's text comes from: text, bytes, a `Blob` or `File`, a stream of bytes (of the web or of Node), or a function
 * that opens one. Text, bytes, blobs and functions can be read again and again; a stream only once.
 */
export type LogBytes =
  | string
  | Uint8Array
  | ArrayBuffer
  | BlobLike
  | AsyncIterable<Piece>
  | Iterable<Piece>
  | (() => LogBytes | Promise<LogBytes>);

/** What the web's streams have, where they cannot be gone through with `for await`. */
interface ReaderLike {
  getReader(): { read(): Promise<{ done?: boolean; value?: Uint8Array }>; cancel?(): unknown };
}

const SLICE = 1 << 18;

/** How many bytes there are, where that is known beforehand. */
export function byteCount(source: LogBytes): number | null {
  if (typeof source === "string") return source.length;
  if (source instanceof Uint8Array || source instanceof ArrayBuffer) return source.byteLength;
  const size = (source as BlobLike)?.size;
  return typeof size === "number" ? size : null;
}

/** Whether the bytes can be gone through more than once. */
export const canReopen = (source: LogBytes): boolean =>
  typeof source === "string" ||
  typeof source === "function" ||
  source instanceof Uint8Array ||
  source instanceof ArrayBuffer ||
  typeof (source as BlobLike)?.stream === "function";

/**
 * The bytes of a source, piece by piece, as UTF-8 (UTF-16 with a byte order mark is turned into it).
 *
 * @throws FuelwrightError `log-source` if it is none, `log-unreadable` if reading fails half-way
 */
export async function* logBytes(source: LogBytes): AsyncGenerator<Uint8Array> {
  let transform: ((piece: Uint8Array) => Uint8Array) | null = null;
  let begun = false;
  const pieces = rawPieces(source)[Symbol.asyncIterator]();
  try {
    for (;;) {
      let next: IteratorResult<Piece>;
      try {
        next = await pieces.next();
      } catch (error) {
        if (error instanceof FuelwrightError) throw error;
        throw new FuelwrightError(
          "log-unreadable",
          `readLog: the log could not be read to its end (${error instanceof Error ? error.message : String(error)}); ` +
            "check that the file is still there and try again",
        );
      }
      if (next.done) return;
      const bytes = toBytes(next.value);
      if (bytes.length === 0) continue;
      if (!begun) {
        begun = true;
        if (bytes[0] === 0xff && bytes[1] === 0xfe) transform = narrowing(0);
        if (bytes[0] === 0xfe && bytes[1] === 0xff) transform = narrowing(1);
      }
      yield transform ? transform(bytes) : bytes;
    }
  } finally {
    await pieces.return?.(undefined);
  }
}

async function* rawPieces(source: LogBytes): AsyncGenerator<Piece> {
  const opened = typeof source === "function" ? await source() : source;
  if (typeof opened === "function") {
    yield* rawPieces(opened);
  } else if (typeof opened === "string") {
    for (let at = 0; at < opened.length; at += SLICE) yield opened.slice(at, at + SLICE);
  } else if (opened instanceof Uint8Array || opened instanceof ArrayBuffer) {
    const bytes = toBytes(opened);
    for (let at = 0; at < bytes.length; at += SLICE) yield bytes.subarray(at, at + SLICE);
  } else if (typeof (opened as BlobLike)?.stream === "function") {
    yield* streamPieces((opened as BlobLike).stream());
  } else {
    yield* streamPieces(opened);
  }
}

async function* streamPieces(stream: unknown): AsyncGenerator<Piece> {
  const iterable = stream as Partial<AsyncIterable<Piece> & Iterable<Piece> & ReaderLike> | null;
  if (typeof iterable?.[Symbol.asyncIterator] === "function" || typeof iterable?.[Symbol.iterator] === "function") {
    yield* iterable as AsyncIterable<Piece>;
    return;
  }
  if (typeof iterable?.getReader !== "function")
    throw new FuelwrightError(
      "log-source",
      `readLog: source must be text, bytes, a file or a stream of bytes, got ${say(stream)}; give one of these`,
    );
  const reader = iterable.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      if (value) yield value;
    }
  } finally {
    await reader.cancel?.();
  }
}

function toBytes(piece: Piece): Uint8Array {
  if (typeof piece === "string") return encodeText(piece);
  if (piece instanceof Uint8Array) return piece;
  if (piece instanceof ArrayBuffer) return new Uint8Array(piece);
  throw new FuelwrightError(
    "log-source",
    `readLog: source must give bytes or text, got ${say(piece)}; open it as binary`,
  );
}

/** Text as UTF-8. */
export function encodeText(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length * 3);
  let at = 0;
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (code < 0x80) bytes[at++] = code;
    else if (code < 0x800) {
      bytes[at++] = 0xc0 | (code >> 6);
      bytes[at++] = 0x80 | (code & 63);
    } else if (code < 0x10000) {
      bytes[at++] = 0xe0 | (code >> 12);
      bytes[at++] = 0x80 | ((code >> 6) & 63);
      bytes[at++] = 0x80 | (code & 63);
    } else {
      bytes[at++] = 0xf0 | (code >> 18);
      bytes[at++] = 0x80 | ((code >> 12) & 63);
      bytes[at++] = 0x80 | ((code >> 6) & 63);
      bytes[at++] = 0x80 | (code & 63);
    }
  }
  return bytes.subarray(0, at);
}

/** UTF-8 as text; bytes that are none are read as Latin-1, as old logs have their degree signs. */
export function decodeText(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; ) {
    const lead = bytes[at]!;
    const length =
      lead < 0x80
        ? 1
        : lead >= 0xc2 && lead < 0xe0
          ? 2
          : lead >= 0xe0 && lead < 0xf0
            ? 3
            : lead >= 0xf0 && lead < 0xf5
              ? 4
              : 0;
    let code = length === 1 ? lead : length === 0 ? -1 : lead & (0xff >> (length + 1));
    for (let k = 1; k < length && code >= 0; k++) {
      const next = bytes[at + k];
      code = next !== undefined && (next & 0xc0) === 0x80 ? (code << 6) | (next & 63) : -1;
    }
    if (code < 0) {
      text += String.fromCharCode(lead);
      at++;
    } else {
      text += String.fromCodePoint(Math.min(code, 0x10ffff));
      at += length;
    }
  }
  return text;
}

/** UTF-16 narrowed to the characters a log needs: those of Latin-1, "?" for the rest. */
function narrowing(high: 0 | 1): (piece: Uint8Array) => Uint8Array {
  let held = -1;
  return (piece) => {
    const bytes = new Uint8Array(piece.length + 1);
    let at = 0;
    for (const byte of piece) {
      if (held < 0) {
        held = byte;
        continue;
      }
      const code = high === 0 ? held | (byte << 8) : (held << 8) | byte;
      held = -1;
      if (code === 0xfeff) continue;
      if (code < 0x100) bytes[at++] = code;
      else bytes[at++] = 0x3f;
    }
    return bytes.subarray(0, at);
  };
}
