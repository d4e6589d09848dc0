import { expect, test } from "vitest";
import { cellRows } from "../values/fuel-table.ts";
import { readTableText } from "./read-table-text.ts";
import { recogniseTableText, type TableTextHints } from "./recognise-table-text.ts";

const read = (text: string, hints: TableTextHints = {}) => readTableText(text, { id: "t", ...hints });
const refusal = (text: string, hints?: TableTextHints) => {
  try {
    read(text, hints);
  } catch (error) {
    return error as Error & { code: string; details: Record<string, unknown> };
  }
  throw new Error("was read");
};

/** Invented. */
const good = "rpm\\kPa,1000,2000,3000\n40,2.1,2.3,2.5\n80,3.9,4.2,4.4\n";

test("a table without an id is asked for one", () => {
  const bare = readTableText as (text: string) => unknown;
  expect(() => bare(good)).toThrow(
    /^readTableText: options must be an object, got undefined; give at least the table's id/,
  );
});

test("a plain CSV is read as it stands", () => {
  const { table, recognised } = read(good);
  expect(table.quantity).toBe("pulse-width");
  expect(table.rpm.breakpoints).toEqual([1000, 2000, 3000]);
  expect(table.load).toMatchObject({ quantity: "manifold-pressure", unit: "kPa", breakpoints: [40, 80] });
  expect(cellRows(table)).toEqual([
    [2.1, 2.3, 2.5],
    [3.9, 4.2, 4.4],
  ]);
  expect(table.name).toBe("untitled table");
  expect(recognised.quantity.sure).toBe(false);
});

test("rpm down the side and a load that falls come out as [load][rpm], both rising", () => {
  const { table, recognised } = read("\t80\t40\r\n3000\t4.4\t2.5\r\n1000\t3.9\t2.1\r\n");
  expect(recognised.orientation.value).toBe("rpm-down");
  expect([recognised.rpmDirection.value, recognised.loadDirection?.value]).toEqual(["falling", "falling"]);
  expect(table.rpm.breakpoints).toEqual([1000, 3000]);
  expect(cellRows(table)).toEqual([
    [2.1, 2.5],
    [3.9, 4.4],
  ]);
});

test("units are converted at the boundary", () => {
  const { table } = read("rpm,1000,2000\npsi,us,us\n10,2100,2300\n12,3900,4200");
  expect(table.unit).toBe("ms");
  expect(cellRows(table)[0]).toEqual([2.1, 2.3000000000000003].map((v) => expect.closeTo(v, 14)));
  // 10 psi, NIST SP 811.
  expect(table.load.breakpoints[0]).toBeCloseTo(68.94757293168361, 12);
  const warm = read("coolant temperature (°F),32,212\nfactor,1.4,1").table;
  expect(warm.rpm).toMatchObject({ quantity: "coolant-temperature", unit: "°C", breakpoints: [0, 100] });
  expect(cellRows(warm)).toEqual([[1.4, 1]]);
});

test("AFR becomes lambda by the fuel's stoichiometric ratio, the equivalence ratio by its reciprocal", () => {
  const afr = "AFR target\n,1000,2000\n40,14.6,14.6\n90,12.5,12.4";
  // 12.5 / 14.6, by hand 0.856164…
  expect(cellRows(read(afr, { stoichiometricRatio: 14.6 }).table)[1]![0]).toBeCloseTo(0.8561643835616438, 14);
  expect(refusal(afr)).toMatchObject({ code: "stoichiometric-ratio-missing" });
  const phi = read(",1000,2000\n40,1,1\n90,1.25,1.25", { quantity: "lambda", unit: "equivalence ratio" }).table;
  expect(cellRows(phi)[1]).toEqual([0.8, 0.8]);
});

test("a correction of one row lies or stands", () => {
  const lying = read("battery voltage (V),10,12,14\npulse width (ms),1.2,0.9,0.7");
  const standing = read("battery voltage (V),pulse width (ms)\n10,1.2\n12,0.9\n14,0.7");
  for (const { table } of [lying, standing]) {
    expect(table.rpm).toMatchObject({ quantity: "battery-voltage", breakpoints: [10, 12, 14] });
    expect(table.load.quantity).toBe("single-row");
    expect(cellRows(table)).toEqual([[1.2, 0.9, 0.7]]);
  }
  expect(standing.recognised.orientation.value).toBe("rpm-down");
});

test("a name and hints of the caller come before what the text says", () => {
  const text = "Warm engine\n\nkPa\\rpm;1.000;2.000\n40;2,1;2,3\n80;3,9;4,2";
  expect(read(text).table.name).toBe("Warm engine");
  expect(readTableText(text, { id: "t", name: "Mine" }).table.name).toBe("Mine");
  expect(read(text, { quantity: "factor" }).table.quantity).toBe("factor");
  expect(read(text, { loadQuantity: "throttle-position", loadUnit: "%" }).table.load.unit).toBe("%");
});

test.each<[string, string, string, RegExp, TableTextHints?]>([
  ["a row too short", "ragged-rows", ",1000,2000\n40,1,2\n80,3", /line 3 must have 3 cells as line 1 has, got 2; fill/],
  ["a row too long", "ragged-rows", ",1000,2000\n40,1,2\n80,3,4,5", /line 3 must have 3 cells as line 1 has, got 4/],
  ["a header too short", "ragged-rows", "x,1000\n40,1,2\n80,3,4", /line 2 must have 2 cells as line 1 has, got 3/],
  [
    "thousands that cut cells",
    "ragged-rows",
    ",1,200,1,400\n40,1,2\n80,3,4",
    /commas between thousands \(1,200\), take them out or put such numbers in quotes/,
  ],
  [
    "a blank cell",
    "cell-blank",
    ",1000,2000\n40,1,\n80,3,4",
    /line 2, column 3 must be a number, got a blank cell; fill/,
  ],
  ["a text cell", "cell-not-a-number", ",1000,2000\n40,1,abc\n80,3,4", /line 2, column 3 \("abc"\) must be a number/],
  ["NaN", "cell-not-a-number", ",1000,2000\n40,1,NaN\n80,3,4", /line 2, column 3 \("NaN"\)/],
  ["an infinity", "cell-not-a-number", ",1000,2000\n40,1,-Infinity\n80,3,4", /column 3 \("-Infinity"\)/],
  ["hexadecimal", "cell-not-a-number", ",1000,2000\n40,1,0x1F\n80,3,4", /column 3 \("0x1F"\)/],
  ["1e999", "number-too-large", ",1000,2000\n40,1,1e999\n80,3,4", /line 2, column 3 \("1e999"\) is larger than any/],
  ["a text breakpoint", "cell-not-a-number", ",1000,2000\n40,1,2\nidle,3,4", /line 3, column 1 \("idle"\)/],
  [
    "breakpoints out of order",
    "axis-not-rising",
    ",1000,3000,2000,4000\n40,1,2,3,4\n80,1,2,3,4",
    /line 1, column 4 \("2000"\) must be above the breakpoint before it, line 1, column 3 \("3000"\); sort/,
  ],
  [
    "a load out of order",
    "axis-not-rising",
    ",1000,2000\n80,1,2\n90,1,2\n40,3,4",
    /line 3, column 1 \("90"\) must be below/,
  ],
  [
    "a repeated header",
    "axis-not-rising",
    ",1000,1000,2000\n40,1,2,3\n80,3,4,5",
    /line 1, column 3 \("1000"\) repeats the breakpoint/,
  ],
  [
    "one row",
    "axis-too-short",
    ",1000,2000\n40,1,2",
    /at least 2 rows of cells, got 1; copy more .* take out the load value/,
  ],
  ["one column", "axis-too-short", ",1000\n40,1\n80,2", /at least 2 columns of cells, got 1; copy more/],
  ["a list", "axis-too-short", "1\n2\n3", /at least 2 columns, got one column with 3 numbers/],
  ["a header alone", "axis-too-short", "rpm\\kPa,1000,2000,3000", /at least 2 rows of cells, got 0/],
  ["numbers without breakpoints", "no-axes", "2.1,2.3,2.2\n3.9,4.2,4\n4,3,5", /must be breakpoints that rise or fall/],
  [
    "negative pulses",
    "cell-not-positive",
    ",1000,2000\n40,1,2\n80,-3,4",
    /line 3, column 2 \("-3"\) must be above 0 as pulse width; correct the cell, or choose trim/,
    { quantity: "pulse-width" },
  ],
  ["a pulse of zero", "cell-not-positive", ",1000,2000\n40,0,2\n80,3,4", /line 2, column 2 \("0"\) must be above 0/],
  [
    "negative efficiency",
    "cell-not-positive",
    ",1000,2000\n40,-1,2\n80,3,4",
    /must be 0 or above as volumetric/,
    { quantity: "volumetric-efficiency" },
  ],
  [
    "mixed decimal signs",
    "mixed-decimals",
    ',1000,2000\n40,1.5,2.5\n80,"3,5",4.5',
    /line 3, column 2 \("3,5"\) does not fit the decimal point of the other numbers/,
  ],
  [
    "a slip that reads as thousands",
    "mixed-decimals",
    ";1000;2000\n40;0,98;0,95\n80;1.050;1,02",
    /line 3, column 2 \("1.050"\) does not fit the decimal comma/,
  ],
  [
    "a lone quote",
    "quote-not-closed",
    ',1000,2000\n40,"1,2\n80,3,4',
    /a quote is opened in line 2, column 2 and must be closed/,
  ],
  [
    "text behind a quote",
    "text-behind-quote",
    ',1000,2000\n40,"1"5,2\n80,3,4',
    /in line 2, column 2 text stands behind a closing quote/,
  ],
  ["nothing", "text-empty", "", /the text is empty; copy the table/],
  ["blank lines", "text-empty", " \n\t\r\n\uFEFF", /the text is empty/],
  [
    "prose",
    "no-table",
    "a fuel table\nwithout numbers",
    /must hold rows of numbers, got none; it begins with "a fuel table"/,
  ],
  [
    "a workbook",
    "text-binary",
    "PK\u0003\u0004\u0014\u0000",
    /must be text, got a workbook or a zip archive; save the table as CSV/,
  ],
  ["a PDF", "text-binary", "%PDF-1.7\n1,2,3", /got a PDF document/],
  ["a picture", "text-binary", "\uFFFDPNG\r\n\u001A\n", /got a picture/],
  ["a NUL byte", "text-binary", `${good}\u0000`, /got a control character at place \d+/],
  ["UTF-16 without a mark", "text-utf16", [...good].join("\u0000"), /must be UTF-8, got UTF-16; save it again/],
  ["UTF-16 with a mark", "text-utf16", "\uFFFD\uFFFD1\u0000,\u0000", /got UTF-16/],
  [
    "a unit that can't be",
    "unit-not-fitting",
    good,
    /loadUnit must be one of kPa, bar/,
    { loadQuantity: "manifold-pressure", loadUnit: "V" },
  ],
  [
    "units that differ",
    "unit-not-fitting",
    "load,1000,2000\n40 kPa,1,2\n6 psi,3,4",
    /line 3, column 1 \("6 psi"\) must be in kPa/,
  ],
  ["an unknown hint", "unknown-choice", good, /decimal must be one of \., ,/, { decimal: "·" as "." }],
  [
    "a second table",
    "cell-blank",
    `${good}\n,500,600,700\n90,1,2,3\n`,
    /line 5, column 1 must be a number, got a blank/,
  ],
])("%s is refused as %s", (_, code, text, sentence, hints) => {
  const error = refusal(text, hints);
  expect(error).toMatchObject({ name: "FuelwrightError", code });
  expect(error.message).toMatch(sentence);
});

test("errors hold the place as values", () => {
  expect(refusal(",1000,2000\n40,1,abc\n80,3,4").details).toEqual({ line: 2, column: 3, text: "abc" });
});

test("lines are counted in the text, with comments, blank lines and quoted line ends", () => {
  const text = '# invented\n\n"Two\nlines"\n\n,1000,2000\n40,1,2\n\n80,x,4';
  expect(refusal(text).message).toContain('line 9, column 2 ("x")');
});

test("at most 256 breakpoints", () => {
  const rows = (columns: number) => {
    const numbers = Array.from({ length: columns }, (_, at) => at + 1);
    return ["", ...numbers].join() + [40, 80].map((load) => `\n${[load, ...numbers].join()}`).join("");
  };
  expect(read(rows(256)).table.rpm.breakpoints).toHaveLength(256);
  expect(refusal(rows(257)).message).toMatch(/at most 256 columns of cells, got 257; leave some out/);
  expect(refusal(rows(2000))).toMatchObject({ code: "too-many-fields" });
  const tall = Array.from({ length: 5000 }, (_, at) => `${at},1,2`).join("\n");
  expect(refusal(tall)).toMatchObject({ code: "too-many-lines" });
});

test("20 MB are refused before anything is read, and 4 million characters of any kind at once", () => {
  const millions = good.repeat(Math.ceil(20e6 / good.length));
  expect(refusal(millions).message).toMatch(/at most 4 million characters, got 20.0 million; copy the table alone/);
  // No part may be quadratic: any of these would then take minutes, and the test's time would run out.
  for (const piece of [
    '"',
    ",",
    "\r",
    "\n",
    " ",
    "\t",
    "1",
    "(",
    '""',
    "#\n",
    "1 ",
    "a/",
    "x\n",
    '"\n',
    ";1\r\n",
    "1,2\n",
  ]) {
    const text = piece.repeat(Math.floor(4e6 / piece.length));
    expect(() => read(text), JSON.stringify(piece)).toThrow(/^readTableText: /);
  }
});

test("a page of text above the table or in its corner does not hold up the reading", () => {
  for (const piece of ["engine ", "a/", "(kPa ", "air ", "=", "\\", "'"]) {
    const page = piece.repeat(1e6 / piece.length);
    expect(read(`"${page}"\n${good}`).table.name).toHaveLength(200);
    expect(read(`"${page}",1000,2000\n40,1,2\n80,3,4`).table.rpm.breakpoints).toEqual([1000, 2000]);
  }
});

test("what recognition calls a problem is what reading throws", () => {
  const text = ",1000,2000\n40,1,abc\n80,3,4";
  const { problem } = recogniseTableText(text);
  expect(problem?.message.replace("recogniseTableText", "readTableText")).toBe(refusal(text).message);
});
