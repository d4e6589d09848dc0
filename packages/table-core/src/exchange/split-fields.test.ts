import fc from "fast-check";
import { expect, test } from "vitest";
import { joinFields } from "./join-fields.ts";
import { type Delimiter, splitFields } from "./split-fields.ts";

const texts = (body: string, delimiter: Delimiter = ",") =>
  splitFields(body, delimiter).lines.map(({ fields }) => fields.map(({ text }) => text));

test("fields in quotes hold delimiters, line ends and doubled quotes", () => {
  expect(texts('"a,b","c\r\nd","e""f"\n1,2')).toEqual([
    ["a,b", "c\r\nd", 'e"f'],
    ["1", "2"],
  ]);
  expect(splitFields('"a\nb\r\nc"\r1', ",").lines.map(({ number }) => number)).toEqual([1, 4]);
});

test("blanks around fields go, those within quotes stay", () => {
  expect(texts(' 1 ,  " 2 " ,3')).toEqual([["1", " 2 ", "3"]]);
});

test("comments and empty lines are told apart", () => {
  const { lines, comments } = splitFields('# "one\n1,2\n\n , \n// two\n3,4', ",");
  expect(comments).toEqual([
    { line: 1, text: '"one' },
    { line: 5, text: "two" },
  ]);
  expect(lines.map(({ number, afterBlank }) => [number, afterBlank])).toEqual([
    [2, false],
    [6, true],
  ]);
});

test("runs of blanks divide, and words that follow one another are one label", () => {
  expect(texts('rpm \\ kPa  1000\t2000\n "40"   1  2', " ")).toEqual([
    ["rpm \\ kPa", "1000", "2000"],
    ["40", "1", "2"],
  ]);
});

test("faults name their place", () => {
  expect(splitFields('1,2\n3,"4', ",").fault).toEqual({ kind: "quote-not-closed", line: 2, column: 2 });
  expect(splitFields('1,"2"3', ",").fault).toEqual({ kind: "text-behind-quote", line: 1, column: 2 });
  expect(splitFields("1,".repeat(2000), ",").fault).toMatchObject({ kind: "too-many-fields", line: 1 });
  expect(splitFields("1,2\n".repeat(2000), ",").fault).toMatchObject({ kind: "too-many-lines", line: 1025 });
});

test("what joinFields writes, splitFields reads back", () => {
  const field = fc.string({ unit: fc.constantFrom(..."a1,;\t\"\r\n #'"), maxLength: 6 });
  fc.assert(
    fc.property(
      fc.array(fc.array(field, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 4 }),
      fc.constantFrom<Delimiter>(",", ";", "\t"),
      fc.constantFrom("\n", "\r\n"),
      (lines, delimiter, lineEnd) => {
        // Lines without text are passed over when reading, and an unquoted # would begin a comment.
        const filled = lines.filter((fields) => fields.some((text) => text.trim() !== ""));
        const quoted = filled.map((fields) => fields.map((text) => ({ quoted: text })));
        expect(texts(joinFields(quoted, delimiter, lineEnd), delimiter)).toEqual(filled);
      },
    ),
    { numRuns: 500 },
  );
});
