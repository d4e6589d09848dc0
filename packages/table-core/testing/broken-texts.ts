import fc from "fast-check";
import { writeTableText } from "../src/exchange/write-table-text.ts";
import { anyTables } from "./arbitraries.ts";

/** Pieces that mean something to a reader of tables. */
const pieces = [
  ...[",", ";", "\t", " ", "\n", "\r", "\r\n", '"', '""', "'", "#", "//", ".", "-", "+", "=", "@", "e", "E9", "e999"],
  ...["NaN", "Infinity", "0x1F", "1,200", "1.200", "1 200", "1e-400", "kPa", "psi", "%", "rpm", "\\", "/", "(", ")"],
  ...[
    "\u0000",
    "\uFEFF",
    "\uFFFD",
    "\u2212",
    "\u00A0",
    "sep=;\n",
    "lambda",
    "AFR",
    "°C",
    "across",
    "down",
    "λ",
    "0",
    "-0",
  ],
];

const randomText = fc.oneof(
  fc.array(fc.constantFrom(...pieces, "1", "2", "30", "4.5"), { maxLength: 120 }).map((list) => list.join("")),
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.uint8Array({ maxLength: 300 }).map((bytes) => String.fromCharCode(...bytes)),
  fc
    .array(
      fc.array(fc.oneof(fc.integer({ min: -9, max: 3000 }).map(String), fc.constantFrom(...pieces)), { maxLength: 6 }),
      { maxLength: 6 },
    )
    .chain((rows) =>
      fc.constantFrom(",", ";", "\t", " ").map((delimiter) => rows.map((row) => row.join(delimiter)).join("\n")),
    ),
);

type Cut = { readonly at: number; readonly length: number; readonly piece: string; readonly copies: number };

/** A valid text with some places cut out, written over, or doubled. */
const mutated = fc
  .tuple(
    anyTables(),
    fc.record({ delimiter: fc.constantFrom(",", ";", "\t"), decimal: fc.constantFrom(".", ","), corner: fc.boolean() }),
    fc.array(
      fc.record({
        at: fc.nat(400),
        length: fc.nat(8),
        piece: fc.constantFrom("", ...pieces),
        copies: fc.integer({ min: 1, max: 3 }),
      }),
      { minLength: 1, maxLength: 5 },
    ),
  )
  .map(([table, manner, cuts]) =>
    cuts.reduce(
      (text: string, { at, length, piece, copies }: Cut) => {
        const place = at % (text.length + 1);
        return text.slice(0, place) + piece.repeat(copies) + text.slice(place + length);
      },
      writeTableText(table, manner as Parameters<typeof writeTableText>[1]).text,
    ),
  );

/** Texts of tables gone wrong in small and large ways, and texts of no table at all. */
export const brokenTexts = (): fc.Arbitrary<string> => fc.oneof({ weight: 3, arbitrary: mutated }, randomText);
