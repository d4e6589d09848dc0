import { describe, expect, test } from "vitest";
import { plainTable } from "../../../testing/plain-table.ts";
import { findOutOfLine } from "./find-out-of-line.ts";

const row = (change: (column: number) => number | undefined, length = 11) =>
  Array.from({ length }, (_, column) => change(column) ?? 10);
const spiked = (at: number, value: number) => row((column) => (column === at ? value : undefined));
const places = (rows: readonly (readonly number[])[], deviations = 5, percent = 1) =>
  findOutOfLine(plainTable(rows), deviations, percent).flatMap(({ cells }) => cells);
/** Rows as columns. */
const turned = (rows: readonly (readonly number[])[]) => rows[0]!.map((_, column) => rows.map((line) => line[column]!));

describe("in one row", () => {
  test("it is so many percent off the line between its neighbours, so many times the usual", () => {
    // 1 of 10, and the usual of a row so even is taken as 0.05 %.
    expect(findOutOfLine(plainTable([spiked(5, 11)]), 5, 2)).toEqual([
      {
        kind: "out-of-line",
        cells: [5],
        region: { rpm: [6000, 6000] },
        reason: "6000 rpm is 10 % above what its neighbours suggest, 200 times the usual scatter of this table.",
        remedy: { kind: "fill-cells", settings: { region: { rpm: [6000, 6000] }, along: "both" } },
      },
    ]);
    expect(findOutOfLine(plainTable([spiked(5, 9)]), 5, 2)[0]!.reason).toMatch(/^6000 rpm is 10 % below what/);
  });

  test("it takes more deviations than the limit, and the least percent", () => {
    expect(places([spiked(5, 11)], 199, 10)).toEqual([5]);
    expect(places([spiked(5, 11)], 200, 10)).toEqual([]);
    expect(places([spiked(5, 11)], 199, 10.1)).toEqual([]);
  });

  test("on uneven breakpoints the line between the neighbours counts", () => {
    const rpm = { quantity: "rpm", unit: "rpm", breakpoints: [0, 1, 2, 3, 5, 6, 10, 11, 12, 13, 14] } as const;
    // A straight row, once off it: between 6 at 6 and 11 at 11 lies 10 at 10.
    const straight = rpm.breakpoints.map((x) => 20 + x);
    const at = 6;
    const cells = straight.map((value, column) => (column === at ? value * 1.1 : value));
    const [one, ...more] = findOutOfLine(plainTable([cells], { rpm }), 5, 2);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ cells: [at], reason: expect.stringMatching(/^10 rpm is 10 % above/) });
    expect(findOutOfLine(plainTable([straight], { rpm }), 5, 1e-6)).toEqual([]);
  });

  test("the worst come first, and equal ones by their place", () => {
    const three = row((column) => ({ 3: 11, 9: 13, 15: 11 })[column], 21);
    expect(places([three])).toEqual([9, 3, 15]);
  });

  test("second and last but one are judged, the ends are not", () => {
    expect(places([spiked(1, 11)])).toEqual([1]);
    expect(places([spiked(9, 11)])).toEqual([9]);
    expect(places([spiked(0, 11)])).toEqual([]);
    expect(places([spiked(10, 11)])).toEqual([]);
  });

  test("a shoulder, the edge of a plateau and a bend are not out of line", () => {
    // 10, 10.5, 11, 10: the cell before the peak stands on the line, where a lone peak would draw it off.
    const shoulder = row((column) => ({ 1: 10.5, 2: 11 })[column]);
    expect(places([shoulder])).toEqual([]);
    expect(places([[...shoulder].reverse()])).toEqual([]);
    expect(places([row((column) => (column > 4 ? 12 : undefined))])).toEqual([]);
    expect(places([row((column) => (column > 4 ? 10 + (column - 4) : undefined))])).toEqual([]);
  });

  test("what bends evenly is usual", () => {
    // Each is 0.45 % below its neighbours' mean, so these say nothing of scatter.
    const grown = row((column) => 10 * 1.1 ** column);
    expect(places([grown], 5, 0.1)).toEqual([]);
    expect(places([grown.map((value, at) => (at === 5 ? 1.1 * value : value))], 100)).toEqual([5]);
  });

  test("next to nothing is not measured against itself", () => {
    // 0.005 over zeros, where half of the row is 10: 0.5 % of a tenth of that.
    const low = row((column) => ({ 8: 0, 9: 0, 10: 0, 11: 0.005, 12: 0, 13: 0, 14: 0 })[column], 17);
    expect(places([low])).toEqual([]);
    expect(places([low], 5, 0.4)).toEqual([11]);
    expect(places([row(() => 0)])).toEqual([]);
  });
});

describe("in rows and columns", () => {
  // Along rpm 20 %; along load 12 stands 14.3 % over 10.5, where every other cell stands 4.8 % below.
  const plane = [row(() => 10), spiked(5, 12), row(() => 11)];

  test.each([
    ["along rpm is the greater", plane],
    ["along load is the greater", turned(plane)],
  ])("the lesser of both counts: %s", (_, rows) => {
    const [one, ...more] = findOutOfLine(plainTable(rows), 5, 2);
    expect(more).toEqual([]);
    expect(one!.reason).toContain("is 19 % above what its neighbours suggest, 381 times the usual");
    expect(findOutOfLine(plainTable(rows), 390, 2)).toEqual([]);
    expect(findOutOfLine(plainTable(rows), 5, 19.5)).toEqual([]);
  });

  test("above along rpm and below along load is not out of line", () => {
    const saddle = [spiked(5, 12), spiked(5, 11), spiked(5, 12)];
    expect(places(saddle)).not.toContain(11 + 5);
    expect(places(turned(saddle))).not.toContain(5 * 3 + 1);
  });

  test("a ridge that five lines share is usual, one that four share is not on the rim", () => {
    const ridge = (rows: number) => Array.from({ length: rows }, () => spiked(5, 11));
    expect(places(ridge(5))).toEqual([]);
    expect(places(ridge(4))).toEqual([5, 3 * 11 + 5]);
  });

  test("along load a shoulder is none either", () => {
    const shoulder = row((column) => ({ 1: 10.5, 2: 11 })[column]);
    const rows = turned([row(() => 10), shoulder, row(() => 10)]);
    expect(places(rows)).toEqual([]);
    expect(places([...rows].reverse())).toEqual([]);
    expect(places(turned([row(() => 10), spiked(2, 11), row(() => 10)]))).toEqual([2 * 3 + 1]);
  });
});
