import fc from "fast-check";
import { expect, test } from "vitest";
import { readBlockText } from "./read-block-text.ts";
import { writeBlockText } from "./write-block-text.ts";

test("a plain block", () => {
  const block = readBlockText("2.1\t2.3\r\n3.9\t4.2\r\n");
  expect(block.rows).toEqual([
    [2.1, 2.3],
    [3.9, 4.2],
  ]);
  expect(block).toMatchObject({ across: null, down: null, orientation: null });
  expect(block.axes).toMatchObject({ value: "none", sure: false, alternatives: ["both", "across", "down"] });
});

test("a block with breakpoints beside a blank corner, a word, or no corner at all", () => {
  for (const corner of ["\t", "rpm\\kPa\t", ""]) {
    const block = readBlockText(`${corner}1000\t2000\n80\t3.9\t4.2\n40\t2.1\t2.3`);
    expect(block.axes).toMatchObject({ value: "both", sure: true });
    expect(block.across).toEqual([1000, 2000]);
    expect(block.down).toEqual([40, 80]);
    expect(block.rows).toEqual([
      [2.1, 2.3],
      [3.9, 4.2],
    ]);
    expect(block.orientation?.value).toBe("rpm-across");
  }
});

test("breakpoints without a corner to tell them by are known by their size, and said to be a guess", () => {
  const speeds = readBlockText("1000\t2000\t3000\n2.1\t2.3\t2.2");
  expect(speeds.axes).toMatchObject({ value: "across", sure: false });
  expect(speeds.rows).toEqual([[2.1, 2.3, 2.2]]);
  const side = readBlockText("1000\t2.1\n2000\t2.3\n3000\t2.2");
  expect(side.axes.value).toBe("down");
  expect(side.rows).toEqual([[2.1], [2.3], [2.2]]);
  const zero = readBlockText("0\t1000\t2000\n40\t2.1\t2.3\n80\t3.9\t4.2");
  expect(zero).toMatchObject({ across: [1000, 2000], down: [40, 80] });
  expect(zero.axes).toMatchObject({ value: "both", sure: false });
});

test("what was guessed can be put right", () => {
  expect(readBlockText("1000\t2000\n2.1\t2.3", { axes: "none" }).rows).toHaveLength(2);
  expect(readBlockText("1\t2\t3\n40\t5\t6", { axes: "both" })).toMatchObject({
    across: [2, 3],
    down: [40],
    rows: [[5, 6]],
  });
  expect(() => readBlockText("1\t2\n3\t4", { axes: "top" as "none" })).toThrow(/axes must be one of none, both/);
  expect(() => readBlockText("1\t2", { axes: "both" })).toThrow(
    /axes can't be both in a block of 1 rows and 2 columns/,
  );
  expect(() => readBlockText("2\t1\t3\n4\t5\t6", { axes: "across" })).toThrow(/line 1, column 2 \("1"\) must be above/);
});

test("one cell, one column, one row", () => {
  expect(readBlockText("1,5").rows).toEqual([[1.5]]);
  expect(readBlockText("1,5\r\n2,5\r\n").rows).toEqual([[1.5], [2.5]]);
  expect(readBlockText("1,5\n2,5").delimiter).toMatchObject({
    sure: false,
    alternatives: ["\t", ";", ",", " "].slice(1),
  });
  expect(readBlockText("1,5\n2,5", { delimiter: "," }).rows).toEqual([
    [1, 5],
    [2, 5],
  ]);
  expect(readBlockText("1\t2,5\t3").rows).toEqual([[1, 2.5, 3]]);
  expect(readBlockText("1.5, 2.5").rows).toEqual([[1.5, 2.5]]);
});

test.each([
  ["", "text-empty"],
  ["\t\t", "text-empty"],
  ["1\t2\n3", "ragged-rows"],
  ["1\t\n3\t4", "cell-blank"],
  ["1\tx\n3\t4", "cell-not-a-number"],
  ["1\tNaN", "cell-not-a-number"],
  ["1\t1e999", "number-too-large"],
  ["1.5\t2,5", "mixed-decimals"],
  ["\t1000\t1000\n40\t1\t2", "axis-not-rising"],
  ["PK\u0003\u0004", "text-binary"],
  ["1\t".repeat(300), "block-too-large"],
  ["1\n".repeat(300), "block-too-large"],
  ["# only a comment", "no-table"],
])("%j is refused as %s", (text, code) => {
  expect(() => readBlockText(text)).toThrow(expect.objectContaining({ name: "FuelwrightError", code }));
});

test("rows and breakpoints written come back bit for bit", () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
  const rising = (length: number) =>
    fc.uniqueArray(number, { minLength: length, maxLength: length }).map((list) => list.sort((a, b) => a - b));
  const blocks = fc.tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 5 })).chain(([rows, columns]) =>
    fc.record({
      rows: fc.array(fc.array(number, { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
      withAxes: fc.record({ across: rising(columns), down: rising(rows) }),
      decimal: fc.constantFrom<"." | ",">(".", ","),
      delimiter: fc.constantFrom<"\t" | ";" | ",">("\t", ";", ","),
    }),
  );
  fc.assert(
    fc.property(blocks, ({ rows, withAxes, decimal, delimiter }) => {
      const back = readBlockText(writeBlockText(rows, { withAxes, decimal, delimiter }));
      expect(back).toMatchObject({ across: withAxes.across, down: withAxes.down });
      expect(back.rows).toEqual(rows);
      // Text without breakpoints leaves a choice; what a person would choose is given.
      const plain = writeBlockText(rows, { decimal, delimiter });
      expect(readBlockText(plain, { axes: "none", decimal, delimiter }).rows).toEqual(rows);
    }),
    { numRuns: 500 },
  );
});

test("a block that is none is not written", () => {
  expect(() => writeBlockText([])).toThrow(/rows must be of one length/);
  expect(() => writeBlockText([[1], [1, 2]])).toThrow(/rows must be of one length/);
  expect(() => writeBlockText([[1]], { withAxes: { across: [1], down: [1, 2] } })).toThrow(/one for each breakpoint/);
  expect(() => writeBlockText([[1, Number.NaN]])).toThrow(/rows\[0\]\[1\] must be a finite number/);
});
