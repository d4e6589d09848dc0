import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { columnBlocks } from "./grid-blocks.ts";

const narrow = { paper: "a4", figures: ["12.34"], small: [], heads: ["100"] } as const;

describe("columnBlocks", () => {
  test("what fits stays in one block", () => {
    expect(columnBlocks({ ...narrow, columns: 12 })).toEqual([[0, 12]]);
  });

  test("more than fits is broken into blocks as even as can be", () => {
    expect(columnBlocks({ ...narrow, columns: 40 })).toEqual([
      [0, 13],
      [13, 27],
      [27, 40],
    ]);
  });

  test("wide figures, or much under them, take more blocks", () => {
    const count = (texts: object) => columnBlocks({ ...narrow, columns: 40, ...texts }).length;
    expect(count({ figures: ["1,234.567"] })).toBeGreaterThan(count({}));
    expect(count({ small: ["−123.4 !?~L"] })).toBeGreaterThan(count({}));
  });

  test("every column stands in one block, in order, and no block is empty or far larger than another", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 256 }),
        fc.string({ maxLength: 14 }),
        fc.constantFrom("a4", "letter"),
        (columns, figure, paper) => {
          const blocks = columnBlocks({ ...narrow, paper, columns, figures: [figure] });
          expect(blocks.flatMap(([from, to]) => Array.from({ length: to - from }, (_, at) => from + at))).toEqual(
            Array.from({ length: columns }, (_, at) => at),
          );
          const sizes = blocks.map(([from, to]) => to - from);
          expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
        },
      ),
    );
  });
});
