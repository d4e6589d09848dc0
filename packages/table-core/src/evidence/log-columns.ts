import { FuelwrightError } from "../values/errors.ts";
import { requireWhole, say } from "../values/require.ts";
import type { LogDialect } from "./log-dialect.ts";
import { type LogColumn, logQuantities, recogniseColumns, unitFromNumbers, unitRule } from "./log-quantities.ts";
import { createParser } from "./parse-rows.ts";
import type { ReadLogOptions } from "./read-log.ts";

/** The columns as recognised, put right by hand, and with units guessed from the first numbers where none is said. */
export function chooseColumns(head: Uint8Array, dialect: LogDialect, options: ReadLogOptions): LogColumn[] {
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
    const most = choice.quantity === "time" ? 1 : 64;
    const channel = requireWhole(`readLog: columns[${say(name)}].channel`, choice.channel ?? 1, 1, most);
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

/** Where a line begins, from 0; the end where there are fewer. */
export function lineStart(bytes: Uint8Array, line: number): number {
  let at = 0;
  for (let k = 0; k < line; k++) {
    const newline = bytes.indexOf(10, at);
    if (newline < 0) return bytes.length;
    at = newline + 1;
  }
  return at;
}

/** Headings as an error can show them. */
export const listed = (headings: readonly string[]): string =>
  headings.length <= 12 ? headings.map((h) => say(h)).join(", ") : `${headings.length} headings`;
