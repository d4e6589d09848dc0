/** One field of a line. Text in quotes is kept as it stands, other text without the blanks around it. */
export interface Field {
  readonly text: string;
  readonly quoted: boolean;
}

/** A line that holds something, numbered as a person counts; a field in quotes may run over several lines of the text. */
export interface FieldLine {
  readonly number: number;
  readonly fields: readonly Field[];
  /** Whether an empty line stands before it. */
  readonly afterBlank: boolean;
}

/** What keeps a text from being split, and where. */
export interface SplitFault {
  readonly kind: "quote-not-closed" | "text-behind-quote" | "too-many-fields" | "too-many-lines";
  readonly line: number;
  readonly column: number;
}

export interface SplitText {
  readonly lines: readonly FieldLine[];
  readonly comments: readonly { readonly line: number; readonly text: string }[];
  /** The first fault, at which splitting stopped. */
  readonly fault: SplitFault | null;
}

/** What stands between two fields of a line; `" "` is a run of blanks. */
export type Delimiter = "," | ";" | "\t" | " ";

/** More fields in a line, or lines, than any table has: splitting stops there, so that no text takes long. */
const MOST = 1024;

/**
 * The text as lines of fields, after RFC 4180, and with what people add to it: `#` and `//` begin a comment line, lines
 * may end in any of the usual ways, blanks may stand before an opening quote. The delimiter `" "` means runs of blanks.
 *
 * Never throws: what is wrong is told in `fault`. O(characters).
 *
 * @see RFC 4180, Common Format and MIME Type for Comma-Separated Values (2005)
 */
export function splitFields(body: string, delimiter: Delimiter): SplitText {
  const lines: FieldLine[] = [];
  const comments: { line: number; text: string }[] = [];
  let fault: SplitFault | null = null;
  let afterBlank = false;
  let number = 1;
  for (let at = 0; at < body.length && fault === null; ) {
    // Most of a large wrong text may be line ends: each is passed over with as little work as can be.
    if (isLineEnd(body.charCodeAt(at))) {
      afterBlank = true;
      number++;
      at += body.startsWith("\r\n", at) ? 2 : 1;
      continue;
    }
    const line = body.slice(at, lineEndFrom(body, at));
    const isComment = COMMENT.test(line);
    const { fields, end, kind } =
      line.includes('"') && !isComment
        ? quotedFields(body, at, delimiter)
        : { fields: isComment ? [] : plainFields(line, delimiter), end: at + line.length, kind: null };
    if (kind) fault = { kind, line: number, column: fields.length + 1 };
    if (isComment && comments.length < MOST) comments.push({ line: number, text: line.replace(COMMENT, "").trim() });
    if (fields.some((field) => field.text.trim() !== "")) {
      if (fields.length > MOST) fault ??= { kind: "too-many-fields", line: number, column: MOST + 1 };
      if (lines.length === MOST) fault ??= { kind: "too-many-lines", line: number, column: 1 };
      else lines.push({ number, fields: delimiter === " " ? joinWords(fields) : fields, afterBlank });
      afterBlank = false;
    } else if (!isComment) afterBlank = true;
    number += countLineEnds(body, at, end) + 1;
    at = body.startsWith("\r\n", end) ? end + 2 : end + 1;
  }
  return { lines, comments, fault };
}

const COMMENT = /^\s*(?:#|\/\/)/;

const isLineEnd = (unit: number) => unit === 10 || unit === 13;

function lineEndFrom(body: string, from: number): number {
  let at = from;
  while (at < body.length && !isLineEnd(body.charCodeAt(at))) at++;
  return at;
}

function countLineEnds(body: string, from: number, to: number): number {
  let count = 0;
  for (let at = lineEndFrom(body, from); at < to; at = lineEndFrom(body, at + 1))
    if (!body.startsWith("\r\n", at)) count++;
  return count;
}

function plainFields(line: string, delimiter: Delimiter): Field[] {
  const parts = delimiter === " " ? line.trim().split(/[ \t]+/, MOST + 1) : line.split(delimiter, MOST + 1);
  return parts.map((text) => ({ text: text.trim(), quoted: false }));
}

/** The fields of one record that may hold quotes, from `start` to the line end outside of them. */
function quotedFields(
  body: string,
  start: number,
  delimiter: Delimiter,
): { fields: Field[]; end: number; kind: "quote-not-closed" | "text-behind-quote" | null } {
  const fields: Field[] = [];
  const isEnd = (at: number) => at >= body.length || body[at] === "\n" || body[at] === "\r";
  const isDelimiter = (at: number) => body[at] === delimiter || (delimiter === " " && body[at] === "\t");
  const skipBlanks = (at: number) => {
    let next = at;
    while (body[next] === " " || (body[next] === "\t" && delimiter !== "\t")) next++;
    return next;
  };
  for (let at = start; fields.length <= MOST; ) {
    const first = skipBlanks(at);
    if (delimiter === " " && isEnd(first)) return { fields, end: first, kind: null };
    let end: number;
    if (body[first] === '"') {
      const { text, behind } = quotedText(body, first);
      if (behind < 0) return { fields, end: body.length, kind: "quote-not-closed" };
      end = delimiter === " " ? behind : skipBlanks(behind);
      if (!isEnd(end) && !isDelimiter(end)) return { fields, end, kind: "text-behind-quote" };
      fields.push({ text, quoted: true });
    } else {
      end = first;
      while (!isEnd(end) && !isDelimiter(end)) end++;
      fields.push({ text: body.slice(first, end).trim(), quoted: false });
    }
    if (isEnd(end)) return { fields, end, kind: null };
    at = end + 1;
  }
  return { fields, end: lineEndFrom(body, start), kind: null };
}

/** The text between quotes, doubled quotes made single, and the place behind the closing one (-1: there is none). */
function quotedText(body: string, opening: number): { text: string; behind: number } {
  const parts: string[] = [];
  for (let from = opening + 1; ; ) {
    const quote = body.indexOf('"', from);
    if (quote < 0) return { text: "", behind: -1 };
    parts.push(body.slice(from, quote));
    if (body[quote + 1] !== '"') return { text: parts.join('"'), behind: quote + 1 };
    from = quote + 2;
  }
}

/** Where blanks divide fields, words that follow one another are one label. */
function joinWords(fields: readonly Field[]): Field[] {
  const joined: Field[] = [];
  for (const field of fields) {
    const before = joined.at(-1);
    const isWord = (text: string) => !/\d/.test(text);
    if (before && !before.quoted && !field.quoted && isWord(before.text) && isWord(field.text))
      joined[joined.length - 1] = { text: `${before.text} ${field.text}`, quoted: false };
    else joined.push(field);
  }
  return joined;
}
