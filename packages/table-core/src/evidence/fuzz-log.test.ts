import fc from "fast-check";
import { expect, test } from "vitest";
import { fuzzRuns, laterAnswer, requireCleanPrototypes, requireUse } from "../../testing/answer.ts";
import { brokenText } from "../../testing/broken-json.ts";
import { FuelwrightError } from "../values/errors.ts";
import { encodeText, type LogBytes } from "./log-bytes.ts";
import { type Log, type ReadLogOptions, readLog } from "./read-log.ts";

const headings = [
  ...[
    "time",
    "Time (s)",
    "rpm",
    "RPM",
    "map",
    "MAP (kPa)",
    "MAP [psi]",
    "lambda",
    "AFR",
    "lambda 2",
    "tps",
    "throttle %",
  ],
  ...[
    "pulse width",
    "PW ms",
    "clt",
    "ECT (°F)",
    "iat",
    "battery",
    "baro",
    "STFT",
    "gear",
    "speed",
    "",
    "unnamed",
    "time",
  ],
];
const numbers = fc.oneof(
  fc.integer({ min: -5, max: 9000 }).map(String),
  fc.double({ min: -2, max: 200, noNaN: true }).map((value) => value.toFixed(3)),
  fc.constantFrom("", "-", "NaN", "inf", "1e999", "1e-999", "#ERR", "0,5", "12:30:01.5", "on", "TRUE", '"1"', "1 000"),
);

/** Logs with columns of all kinds, in any manner of writing. */
const logs = fc
  .record({
    names: fc.array(fc.constantFrom(...headings), { minLength: 2, maxLength: 7 }),
    rows: fc.array(fc.array(numbers, { minLength: 7, maxLength: 7 }), { maxLength: 12 }),
    delimiter: fc.constantFrom(",", ";", "\t", "|"),
    end: fc.constantFrom("\n", "\r\n"),
    units: fc.constantFrom(null, "s", "kPa", "ms"),
    before: fc.constantFrom("", "# a comment\n", "a title\n\n", "\uFEFF", "# simulated\n"),
    clock: fc.boolean(),
  })
  .map(({ names, rows, delimiter, end, units, before, clock }) => {
    const width = names.length;
    const lines = [
      ["time", ...names.slice(1)],
      ...(units ? [names.map(() => units)] : []),
      ...rows.map((row, at) => (clock ? [String(at / 10), ...row.slice(1, width)] : row.slice(0, width))),
    ];
    return before + lines.map((line) => line.join(delimiter)).join(end) + end;
  });

const logPieces = [
  ...[
    "",
    ",",
    ";",
    "\t",
    "|",
    "\n",
    "\r",
    "\r\n",
    "\n\n",
    '"',
    '""',
    "#",
    "//",
    "%",
    "time",
    "rpm",
    "lambda",
    "(kPa)",
    "°",
  ],
  ...[
    "-",
    ".",
    "e",
    "1e999",
    "-1e308",
    "NaN",
    "Infinity",
    "0x1F",
    "1:2:3",
    "\u0000",
    "\uFEFF",
    "\uD800",
    "\u2028",
    "λ",
  ],
  ...["9".repeat(400), ",".repeat(700), '"'.repeat(700), "\n".repeat(700), " ".repeat(700)],
];

const texts = fc.oneof(
  { weight: 2, arbitrary: logs },
  { weight: 4, arbitrary: brokenText(logs, logPieces) },
  fc.array(fc.oneof(fc.constantFrom(...logPieces), numbers), { maxLength: 60 }).map((pieces) => pieces.join("")),
  fc.string({ unit: "binary", maxLength: 200 }),
);

/** Texts as bytes: UTF-8, UTF-16 either way round, Latin-1; or bytes that are no text at all. */
const bytes = fc.oneof(
  { weight: 5, arbitrary: texts.map(encodeText) },
  fc.tuple(texts, fc.boolean()).map(([text, big]) => {
    const units = Uint8Array.from(`\uFEFF${text}`, (unit) => unit.charCodeAt(0) & 255);
    return Uint8Array.from({ length: 2 * units.length }, (_, at) => (at % 2 === (big ? 1 : 0) ? units[at >> 1]! : 0));
  }),
  texts.map((text) => Uint8Array.from(text, (unit) => unit.charCodeAt(0) & 255)),
  fc.uint8Array({ maxLength: 300 }),
);

const manners: fc.Arbitrary<ReadLogOptions> = fc.oneof(
  { weight: 3, arbitrary: fc.constant({}) },
  fc.record(
    {
      delimiter: fc.constantFrom(",", ";", "\t", "|"),
      decimal: fc.constantFrom(".", ","),
      hertz: fc.constantFrom(10, 1e-300, 1e300),
      gaugeAfr: fc.constantFrom(14.7, 1e-300, 1e300),
      fillSeconds: fc.constantFrom(0, 1, 3600),
      rowsAChunk: fc.constantFrom(16, 17, 8192),
      columns: fc.constantFrom<NonNullable<ReadLogOptions["columns"]>>(
        { 1: { quantity: "rpm" } },
        { rpm: null },
        { 0: { quantity: "time" }, 2: { quantity: "lambda", unit: "AFR", channel: 2 } },
        { 1: { quantity: "coolant-temperature", unit: "°F" } },
        { unheard: { quantity: "rpm" } },
        { 900: null },
        { 1: { quantity: "warp" as "rpm" } },
        { 1: { quantity: "rpm", unit: "kPa" } },
      ),
    },
    { requiredKeys: [] },
  ) as fc.Arbitrary<ReadLogOptions>,
);

/** All samples of a log, after checking what holds of every chunk. */
async function samplesOf(log: Log): Promise<Record<string, number[]>> {
  const all: Record<string, number[]> = {};
  let count = 0;
  for await (const { first, count: here, columns } of log.open()) {
    expect(first).toBe(count);
    expect(here).toBeGreaterThan(0);
    count += here;
    for (const [key, values = []] of Object.entries(columns)) {
      expect(values).toHaveLength(here);
      (all[key] ??= []).push(...values);
    }
  }
  // Not sampled is NaN; an infinity is what no sensor gives.
  for (const values of Object.values(all)) expect(values.some((value) => Math.abs(value) === Infinity)).toBe(false);
  expect(all.time!.every(Number.isFinite)).toBe(true);
  expect(log.summary()).toMatchObject({ complete: true, rows: count });
  return all;
}

const wholly = (source: LogBytes, options: ReadLogOptions) =>
  laterAnswer(async () => samplesOf(await readLog(source, options)));

test("any bytes are read as samples, or refused with a sentence, in whatever pieces they come", async () => {
  let tried = 0;
  let read = 0;
  await fc.assert(
    fc.asyncProperty(bytes, manners, fc.integer({ min: 1, max: 400 }), async (given, options, size) => {
      tried++;
      const kept = given.slice();
      const whole = await wholly(given, options);
      const pieces = () => {
        const parts = Array.from({ length: Math.ceil(given.length / size) }, (_, at) =>
          given.slice(at * size, (at + 1) * size),
        );
        return parts[Symbol.iterator]();
      };
      const inPieces = await wholly(() => ({ [Symbol.iterator]: pieces }), options);
      expect(given).toEqual(kept);
      requireCleanPrototypes();
      if (whole instanceof FuelwrightError || inPieces instanceof FuelwrightError) {
        expect([whole, inPieces].map((each) => each instanceof FuelwrightError && each.code)).toEqual(
          Array(2).fill((whole as FuelwrightError).code),
        );
        return;
      }
      read++;
      expect(inPieces).toEqual(whole);
    }),
    { numRuns: fuzzRuns },
  );
  // Were all of them refused, the most of the check would be empty.
  requireUse(read, tried, 1 / 20);
});
